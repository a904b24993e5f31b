package sqlite

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"fitfill/catalog"
)

// CrossReferences returns what the active sheets say about other numbers of
// these parts, by part.
func (v *View) CrossReferences(ctx context.Context, ids []int64) (map[int64][]catalog.CrossReference, error) {
	return v.crossReferences(ctx, "part_id"+inList, list(ids))
}

// CrossReferencesTo returns the cross-references that name one of the numbers,
// by the part that makes them.
func (v *View) CrossReferencesTo(ctx context.Context, keys []string) (map[int64][]catalog.CrossReference, error) {
	// In their order each is put behind the last, and none has to be looked for.
	return v.crossReferences(ctx, "other_key"+inList, list(slices.Sorted(slices.Values(keys))))
}

// crossReferences returns the cross-references that a clause picks, by part, in
// the order of sheet, line and the other number.
func (v *View) crossReferences(ctx context.Context, where string, args ...any) (map[int64][]catalog.CrossReference, error) {
	type reference struct {
		part, sheet int64
		catalog.CrossReference
	}
	var found []*reference
	err := v.with.eachOf(ctx, `SELECT part_id << 32 | sheet_id, line, other_supplier, other_number, other_key, relation FROM cross_reference
		WHERE `+where, args, func(c *cursor) error {
		x := &reference{}
		x.part, x.sheet = two(c.number(0))
		var active bool
		if x.Origin, active = v.origin(x.sheet, int(c.number(1))); active {
			x.OtherSupplier, x.OtherNumber, x.OtherKey, x.Relation = c.text(2), c.text(3), c.text(4), catalog.Relation(c.text(5))
			found = append(found, x)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(found, func(a, b *reference) int {
		return cmp.Or(cmp.Compare(a.part, b.part), cmp.Compare(a.sheet, b.sheet), cmp.Compare(a.Origin.Line, b.Origin.Line), strings.Compare(a.OtherKey, b.OtherKey))
	})
	refs := make(map[int64][]catalog.CrossReference, len(found))
	for _, x := range found {
		refs[x.part] = append(refs[x.part], x.CrossReference)
	}
	return refs, nil
}
