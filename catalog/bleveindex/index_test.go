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

func build(t testing.TB, dir, name string, docs ...catalog.SearchDoc) {
	t.Helper()
	_, err := Build(dir, name, func(do func(catalog.SearchDoc) error) error {
		for _, d := range docs {
			if err := do(d); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func part(id int64, number, partType, description string, engines ...string) catalog.SearchDoc {
	return catalog.SearchDoc{
		ID: id, Number: number, Key: catalog.Key(number), Type: partType, Description: description,
		Makes: []string{"Tarvok", "Sandrel"}, Engines: engines, Words: []string{"AS568-222"},
	}
}

func sized(d catalog.SearchDoc, terms ...string) catalog.SearchDoc {
	d.Sizes = terms
	return d
}

func twoSuppliers(t *testing.T) *Index {
	t.Helper()
	dir := t.TempDir()
	build(t, dir, "one", sized(part(1, "TX-4711", "thermostat", "Thermostat 82 °C", "KR6"), "l1080"), part(2, "TX-4712", "thermostat", "Thermostat 88 °C", "KR6", "VN4"))
	build(t, dir, "two", part(3, "4711.A", "seal", "Dichtring für Gehäuse", "KR6"), part(4, "TX 4711", "thermostat", "Thermostat 82 °C", "VN4"))
	x, err := Open(dir, []string{"one", "two"})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { x.Close() })
	return x
}

func TestSearchesOverTwoSuppliers(t *testing.T) {
	x := twoSuppliers(t)
	ctx := context.Background()
	for name, tc := range map[string]struct {
		q    Query
		want [][]int64 // by supplier
	}{
		"exact number of both":       {Query{Key: "TX4711"}, [][]int64{{1}, {4}}},
		"beginning of a number":      {Query{Prefix: "TX47"}, [][]int64{{1, 2}, {4}}},
		"middle of a number":         {Query{Part: "471"}, [][]int64{{1, 2}, {3, 4}}},
		"one digit wrong":            {Query{Typo: "TX4713"}, [][]int64{{1, 2}, {4}}},
		"one digit missing":          {Query{Typo: "X4711"}, [][]int64{{1}, {4}}},
		"words of the description":   {Query{Words: []string{"thermostat", "88"}, TextOnly: true}, [][]int64{{2}, nil}},
		"accents do not matter":      {Query{Words: []string{"gehause"}}, [][]int64{nil, {3}}},
		"words of use are not there": {Query{Words: []string{"KR6"}, TextOnly: true}, [][]int64{nil, nil}},
		"words anywhere":             {Query{Words: []string{"kr6", "thermostat"}}, [][]int64{{1, 2}, nil}},
		"a size in the notes":        {Query{Words: []string{"as568-222"}}, [][]int64{{1, 2}, {3, 4}}},
		"one phrase of a group":      {Query{Groups: [][]string{{"no such", "Gehäuse", "88"}}}, [][]int64{{2}, {3}}},
		"a letter wrong":             {Query{Words: []string{"termostat"}, Fuzzy: true}, [][]int64{{1, 2}, {4}}},
		"only a type":                {Query{Prefix: "4711", Types: []string{"seal", "hose"}}, [][]int64{nil, {3}}},
		"only an engine":             {Query{Prefix: "TX", EngineKeys: []string{"VN4"}}, [][]int64{{2}, {4}}},
		"a size":                     {Query{Sizes: [][]string{{"l1079", "l1080"}}}, [][]int64{{1}, nil}},
		"nothing asked":              {Query{}, [][]int64{nil, nil}},
	} {
		t.Run(name, func(t *testing.T) {
			found, err := x.Search(ctx, tc.q, 10)
			if err != nil {
				t.Fatal(err)
			}
			for i, f := range found {
				if diff := cmp.Diff(tc.want[i], f.IDs); diff != "" || f.Total != len(tc.want[i]) {
					t.Errorf("supplier %d, total %d\n%s", i+1, f.Total, diff)
				}
			}
		})
	}
}

func TestOfManyHitsTheFirstNumbersAreShownAndAllAreCounted(t *testing.T) {
	dir := t.TempDir()
	var docs []catalog.SearchDoc
	for i := range 40 {
		docs = append(docs, part(int64(i), fmt.Sprintf("A-%03d", 39-i), "thermostat", "Thermostat"))
	}
	build(t, dir, "one", docs...)
	x, err := Open(dir, []string{"one"})
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	found, err := x.Search(context.Background(), Query{Types: []string{"thermostat"}}, 3)
	if err != nil || found[0].Total != 40 || !cmp.Equal(found[0].IDs, []int64{39, 38, 37}) {
		t.Errorf("%+v, %v", found, err)
	}
}

func TestFacetsCountEveryValueOfEverySupplier(t *testing.T) {
	dir := t.TempDir()
	var docs []catalog.SearchDoc
	for i := range 40 {
		docs = append(docs, part(int64(i), fmt.Sprintf("A-%03d", i), "thermostat", "Thermostat", fmt.Sprintf("E%d", i)))
	}
	build(t, dir, "one", docs...)
	build(t, dir, "two", part(100, "B-1", "seal", "Seal", "E7"))
	x, err := Open(dir, []string{"one", "two"})
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	found, types, engines, err := x.SearchCounted(context.Background(), Query{Words: []string{"tarvok"}}, 1)
	if err != nil {
		t.Fatal(err)
	}
	if found[0].Total != 40 || len(found[0].IDs) != 1 || found[1].Total != 1 {
		t.Errorf("found %+v", found)
	}
	if diff := cmp.Diff([]Value{{"thermostat", 40}, {"seal", 1}}, types); diff != "" {
		t.Error(diff)
	}
	if len(engines) != 40 || engines[0] != (Value{"E7", 2}) {
		t.Errorf("%d engines, first %v", len(engines), engines[:1])
	}
}

func TestNoSuppliersIsAnEmptyAnswer(t *testing.T) {
	x, err := Open(t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	r, err := x.Search(context.Background(), Query{Words: []string{"thermostat"}}, 10)
	if err != nil || len(r) != 0 {
		t.Errorf("got %+v, %v", r, err)
	}
}

func TestASupplierWithoutPartsGetsNoFolder(t *testing.T) {
	dir := t.TempDir()
	build(t, dir, "none")
	if _, err := os.Stat(filepath.Join(dir, "none")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a folder was left: %v", err)
	}
}

func TestAMissingOrCutFolderIsDamage(t *testing.T) {
	dir := t.TempDir()
	build(t, dir, "one", part(1, "TX-1", "thermostat", "Thermostat"))
	if err := os.RemoveAll(filepath.Join(dir, "one", "store")); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"one", "gone"} {
		if _, err := Open(dir, []string{name}); !errors.Is(err, ErrDamaged) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func TestAnIndexOfAnotherFormatIsBuiltAnew(t *testing.T) {
	dir := t.TempDir()
	build(t, dir, "one", part(1, "TX-1", "thermostat", "Thermostat"))
	if err := os.WriteFile(filepath.Join(dir, "one", formatFile), []byte("1"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(dir, []string{"one"}); !errors.Is(err, ErrDamaged) {
		t.Errorf("got %v", err)
	}
}

func TestAFolderIsNeverWrittenTwice(t *testing.T) {
	dir := t.TempDir()
	build(t, dir, "one", part(1, "TX-1", "thermostat", "Thermostat"))
	if _, err := Build(dir, "one", func(func(catalog.SearchDoc) error) error { return nil }); err == nil {
		t.Error("an index in use was built over")
	}
}

// go test -bench Build -benchtime 100000x reports how many parts a second go
// into an index.
func BenchmarkBuild(b *testing.B) {
	dir := b.TempDir()
	n, err := Build(dir, "one", func(do func(catalog.SearchDoc) error) error {
		for i := range b.N {
			d := part(int64(i), fmt.Sprintf("BK-%06d", i), "thermostat", fmt.Sprintf("Thermostat no. %d", i), fmt.Sprintf("E%d", i%3000), fmt.Sprintf("F%d", i%700))
			if err := do(d); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil || n != b.N {
		b.Fatal(n, err)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "docs/s")
}

// An import that is stopped before its first part, or later, fails and leaves
// no folder.
func TestABuildThatIsStoppedLeavesNoFolder(t *testing.T) {
	stopped := errors.New("stopped")
	for _, before := range []int64{0, 1, 3} {
		dir := t.TempDir()
		_, err := Build(dir, "one", func(do func(catalog.SearchDoc) error) error {
			for id := range before {
				if err := do(part(id+1, fmt.Sprintf("T-%d", id), "thermostat", "")); err != nil {
					return err
				}
			}
			return stopped
		})
		if !errors.Is(err, stopped) {
			t.Errorf("after %d parts: %v", before, err)
		}
		if _, err := os.Stat(filepath.Join(dir, "one")); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("after %d parts: the folder is there: %v", before, err)
		}
	}
}
