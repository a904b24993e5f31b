package bleveindex

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fitfill/catalog"
)

func TestColumnsThatAreNotAsWrittenAreDamage(t *testing.T) {
	for name, spoil := range map[string]func(dir string) error{
		"gone":        func(dir string) error { return os.Remove(filepath.Join(dir, "one", columnsFile)) },
		"empty":       func(dir string) error { return os.Truncate(filepath.Join(dir, "one", columnsFile), 0) },
		"cut off":     func(dir string) error { return os.Truncate(filepath.Join(dir, "one", columnsFile), 20) },
		"another bit": func(dir string) error { return flip(filepath.Join(dir, "one", columnsFile), 16) },
		"of other parts": func(dir string) error {
			return os.Rename(filepath.Join(dir, "two", columnsFile), filepath.Join(dir, "one", columnsFile))
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			build(t, dir, "one", part(1, "TX-1", "thermostat", "Thermostat"), part(2, "TX-2", "thermostat", "Thermostat"))
			build(t, dir, "two", part(3, "TX-3", "thermostat", "Thermostat"))
			if err := spoil(dir); err != nil {
				t.Fatal(err)
			}
			x, err := Open(dir, []string{"one"})
			if err != nil {
				t.Fatal(err)
			}
			defer x.Close()
			if found, err := x.Search(context.Background(), Query{Types: []string{"thermostat"}}, 10); !errors.Is(err, ErrDamaged) {
				t.Errorf("search: got %+v, %v", found, err)
			}
			if found, _, _, err := x.SearchCounted(context.Background(), Query{Prefix: "TX"}, 10); !errors.Is(err, ErrDamaged) {
				t.Errorf("counted: got %+v, %v", found, err)
			}
		})
	}
}

func flip(file string, at int) error {
	raw, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	raw[at] ^= 1
	return os.WriteFile(file, raw, 0o644)
}

func TestColumnsSayWhatWasStatedOfEachPart(t *testing.T) {
	var s stated
	parts := []catalog.SearchDoc{
		part(1, "A", "thermostat", "", "KR6", "VN4"), part(2, "B", "", ""), part(3, "C", "seal", "", "VN 4"), part(4, "D", "thermostat", "", "", "KR6"),
	}
	at := make([]uint32, len(parts))
	for n, d := range parts {
		at[len(parts)-1-n] = s.add(d) // the library has an order of its own
	}
	dir := t.TempDir()
	if err := s.write(dir, at); err != nil {
		t.Fatal(err)
	}
	c, err := readColumns(&files{}, dir)
	if err != nil {
		t.Fatal(err)
	}
	docsOf := func(d documents) (list []int) {
		d.each(func(doc int) { list = append(list, doc) })
		return list
	}
	for name, tc := range map[string]struct {
		got  documents
		want []int
	}{
		"a type":                  {c.ofTypes([]string{"thermostat"}), []int{0, 3}},
		"one of two types":        {c.ofTypes([]string{"seal", "thermostat"}), []int{0, 1, 3}},
		"no type is asked for":    {c.ofTypes([]string{""}), nil},
		"an engine":               {c.forEngines([]string{"KR6"}, nil), []int{0, 3}},
		"an engine, both its way": {c.forEngines([]string{"VN4"}, nil), []int{1, 3}},
		"an engine without name":  {c.forEngines([]string{""}, nil), nil},
		"an engine, among some":   {c.forEngines([]string{"KR6"}, c.ofTypes([]string{"seal"})), nil},
		"an engine, among more":   {c.forEngines([]string{"VN4"}, c.ofTypes([]string{"seal", "cap"})), []int{1}},
		"an engine nobody lists":  {c.forEngines([]string{"ZZ1"}, nil), nil},
	} {
		if diff := cmp.Diff(tc.want, docsOf(tc.got)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	all := noDocuments(c.count)
	for doc := range c.count {
		all.add(doc)
	}
	types, engines := c.countIn(all)
	if diff := cmp.Diff([][]Value{{{"thermostat", 2}, {"seal", 1}}, {{"KR6", 2}, {"VN4", 1}, {"VN 4", 1}}}, [][]Value{types, engines}); diff != "" {
		t.Error(diff)
	}
}

func TestAnswersAreKeptWithinBounds(t *testing.T) {
	var a answered
	some, none := noDocuments(100), noDocuments(100)
	some.add(70)
	a.keep("nobody has this", none)
	if _, ok := a.get("nobody has this"); ok {
		t.Error("what no part has is kept")
	}
	for n := range 2 * mostClauses {
		name := fmt.Sprint(n)
		a.keep(name, some)
		if got, ok := a.get(name); !ok || !cmp.Equal(got, some) {
			t.Fatalf("%s is not kept", name)
		}
	}
	if len(a.kept) != mostClauses {
		t.Errorf("%d are kept", len(a.kept))
	}
	huge := noDocuments(64 * (mostClauseBytes/8 + 1))
	huge.add(1)
	a.keep("huge", huge)
	if _, ok := a.get("huge"); ok {
		t.Error("an answer larger than all of them may be is kept")
	}
}

// What was kept of earlier questions changes no answer.
func TestAQuestionHasOneAnswerHoweverOftenItIsAsked(t *testing.T) {
	x := twoSuppliers(t)
	ctx := context.Background()
	for _, q := range []Query{
		{Types: []string{"thermostat"}, Words: []string{"82"}}, {Types: []string{"thermostat"}, Words: []string{"82"}, TextOnly: true}, {Types: []string{"thermostat"}},
		{Words: []string{"KR6"}}, {Words: []string{"KR6"}, TextOnly: true}, {Words: []string{"KR6"}, Fuzzy: true}, {Groups: [][]string{{"KR6"}}}, {EngineKeys: []string{"KR6"}},
		{Prefix: "TX4711"}, {Key: "TX4711"}, {Part: "TX4711"}, {Typo: "TX4711"}, {EngineKeys: []string{"KR6", "VN4"}}, {Types: []string{"KR6", "VN4"}},
	} {
		want, wantTypes, wantEngines, err := twoSuppliers(t).SearchCounted(ctx, q, 10) // of an index that was asked nothing else
		if err != nil {
			t.Fatal(err)
		}
		for again := range 3 {
			found, types, engines, err := x.SearchCounted(ctx, q, 10)
			if diff := cmp.Diff([]any{want, wantTypes, wantEngines}, []any{found, types, engines}); diff != "" || err != nil {
				t.Errorf("%+v, time %d: %v\n%s", q, again, err, diff)
			}
		}
	}
}
