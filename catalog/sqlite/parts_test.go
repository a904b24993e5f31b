package sqlite

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fitfill/catalog"
)

// Many parts that are read a few hundred at a time are those that are read at
// once, and nothing of one stays in the memory that the next is read into.
func TestEachPartIsAsItIsReadWithAllOthers(t *testing.T) {
	s := newStore(t)
	lines := make([]string, 1300)
	for i := range lines {
		lines[i] = fmt.Sprintf("P-%d;%d;E%d", i, 60+i%40, i%7)
		if i%3 == 1 { // states nothing
			lines[i] = fmt.Sprintf("P-%d;;E1", i)
		}
	}
	supplierSheet("Varn", "a.csv", lines...).load(t, s)
	ctx := context.Background()
	err := s.View(ctx, func(v *View) error {
		fits, err := v.ListedFor(ctx, []string{"E0", "E1", "E2", "E3", "E4", "E5", "E6"})
		if err != nil {
			return err
		}
		var ids []int64
		for id := range fits {
			ids = append(ids, id)
		}
		slices.Sort(ids)
		slices.Reverse(ids) // their order is that of the question
		all, err := v.Parts(ctx, ids)
		if err != nil {
			return err
		}
		var each []catalog.Part
		if err := v.EachPart(ctx, ids, func(p *catalog.Part) error { each = append(each, *p); return nil }); err != nil {
			return err
		}
		if len(each) != len(lines) {
			t.Errorf("%d parts of %d", len(each), len(lines))
		}
		if d := cmp.Diff(all, each, cmp.Exporter(func(reflect.Type) bool { return true })); d != "" {
			t.Error(d)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A type counts as long as one sheet in use calls the part so, and each part is
// named once.
func TestPartsOfATypeAreThoseThatASheetInUseCallsSo(t *testing.T) {
	s := newStore(t)
	typed := func(name, partType string, numbers ...string) sheet {
		lines := make([]string, len(numbers))
		for i, n := range numbers {
			lines[i] = n + ";;"
		}
		sh := supplierSheet("Varn", name, lines...)
		for i := range sh.rows {
			sh.rows[i].Part.Facts = []catalog.Fact{{Field: "type", Word: partType, Text: partType}}
		}
		return sh
	}
	of := func(partType string) (numbers []string) {
		ctx := context.Background()
		err := s.View(ctx, func(v *View) error {
			ids, err := v.PartIDsOfType(ctx, partType)
			if err != nil {
				return err
			}
			parts, err := v.Parts(ctx, ids)
			for _, p := range parts {
				numbers = append(numbers, p.Number)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return numbers
	}
	typed("a.csv", "seal", "P-1", "P-2").load(t, s)
	other := typed("b.csv", "hose", "P-2", "P-3")
	other.info.Fields = []string{"number", "price", "currency", "type"} // another kind of list: it takes no place
	other.load(t, s)
	for partType, want := range map[string][]string{"seal": {"P-1", "P-2"}, "hose": {"P-2", "P-3"}, "cap": nil} {
		if got := of(partType); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", partType, got, want)
		}
	}
	typed("a.csv", "cap", "P-1").load(t, s) // takes the place of the first sheet
	for partType, want := range map[string][]string{"seal": nil, "hose": {"P-2", "P-3"}, "cap": {"P-1"}} {
		if got := of(partType); !slices.Equal(got, want) {
			t.Errorf("after the new sheet %s: %v, want %v", partType, got, want)
		}
	}
}
