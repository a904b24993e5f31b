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

func twoSuppliers(t *testing.T) *Index {
	t.Helper()
	dir := t.TempDir()
	build(t, dir, "one", part(1, "TX-4711", "thermostat", "Thermostat 82 °C", "KR6"), part(2, "TX-4712", "thermostat", "Thermostat 88 °C", "KR6", "VN4"))
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
		find func() (Result, error)
		want []int64
	}{
		"exact number of both":       {func() (Result, error) { return x.Number(ctx, "TX4711", Filter{}, 10) }, []int64{1, 4}},
		"beginning of a number":      {func() (Result, error) { return x.NumberPrefix(ctx, "TX47", Filter{}, 10) }, []int64{1, 4, 2}},
		"middle of a number":         {func() (Result, error) { return x.NumberPart(ctx, "471", Filter{}, 10) }, []int64{3, 1, 4, 2}},
		"one digit wrong":            {func() (Result, error) { return x.NumberTypo(ctx, "TX4713", Filter{}, 10) }, []int64{1, 4, 2}},
		"one digit missing":          {func() (Result, error) { return x.NumberTypo(ctx, "X4711", Filter{}, 10) }, []int64{1, 4}},
		"words of the description":   {func() (Result, error) { return x.Words(ctx, []string{"thermostat", "88"}, Filter{}, 10) }, []int64{2}},
		"accents do not matter":      {func() (Result, error) { return x.Words(ctx, []string{"gehause"}, Filter{}, 10) }, []int64{3}},
		"words of use are not there": {func() (Result, error) { return x.Words(ctx, []string{"KR6"}, Filter{}, 10) }, nil},
		"words anywhere":             {func() (Result, error) { return x.WordsAnywhere(ctx, []string{"kr6", "thermostat"}, Filter{}, 10) }, []int64{1, 2}},
		"a size in the notes":        {func() (Result, error) { return x.WordsAnywhere(ctx, []string{"as568-222"}, Filter{}, 10) }, []int64{3, 1, 4, 2}},
		"a letter wrong":             {func() (Result, error) { return x.WordsAlmost(ctx, []string{"termostat"}, Filter{}, 10) }, []int64{1, 4, 2}},
		"only a type":                {func() (Result, error) { return x.NumberPrefix(ctx, "4711", Filter{Type: "seal"}, 10) }, []int64{3}},
		"only an engine":             {func() (Result, error) { return x.NumberPrefix(ctx, "TX", Filter{EngineKeys: []string{"VN4"}}, 10) }, []int64{4, 2}},
		"no words":                   {func() (Result, error) { return x.WordsAnywhere(ctx, nil, Filter{}, 10) }, nil},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := tc.find()
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tc.want, got.IDs); diff != "" || got.Total != len(tc.want) {
				t.Errorf("total %d\n%s", got.Total, diff)
			}
		})
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
	types, engines, err := x.Facets(context.Background(), []string{"tarvok"}, "", Filter{})
	if err != nil {
		t.Fatal(err)
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
	r, err := x.WordsAnywhere(context.Background(), []string{"thermostat"}, Filter{}, 10)
	if err != nil || r.Total != 0 {
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
