package app

import (
	"context"
	"maps"
	"math"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat/fit"
)

// walker reads, step by step, the parts that cross-references and supersessions
// join with some parts. A number is only followed to the supplier that the
// cross-reference names; short numbers occur in many lists.
type walker struct {
	view      *sqlite.View
	parts     map[int64]*catalog.Part
	refs      []fit.Reference
	canonical map[string]string // folded names of suppliers
}

// everyCrossing follows cross-references to their end.
const everyCrossing = math.MaxInt

// network returns what cross-references and supersessions join with the parts
// from. Beyond the given number of cross-references only supersessions are
// followed, to their end. Parts that were read before are taken as they are.
func network(ctx context.Context, v *sqlite.View, from []int64, crossings int, read map[int64]*catalog.Part) (*fit.Network, error) {
	w := walker{view: v, parts: map[int64]*catalog.Part{}}
	from = slices.Compact(slices.Sorted(slices.Values(from)))
	for _, id := range from {
		if p := read[id]; p != nil {
			w.parts[id] = p
		}
	}
	if _, err := w.load(ctx, from); err != nil {
		return nil, err
	}
	return w.walk(ctx, from, crossings)
}

// networkFrom returns what supersessions join with parts that are at hand.
func networkFrom(ctx context.Context, v *sqlite.View, parts []catalog.Part) (*fit.Network, error) {
	w := walker{view: v, parts: map[int64]*catalog.Part{}}
	for i := range parts {
		w.parts[parts[i].ID] = &parts[i]
	}
	return w.walk(ctx, slices.Sorted(maps.Keys(w.parts)), 0)
}

func (w *walker) walk(ctx context.Context, from []int64, crossings int) (_ *fit.Network, err error) {
	if w.canonical, err = supplierNames(ctx, w.view); err != nil {
		return nil, err
	}
	for step := 0; len(from) > 0; step++ {
		if from, err = w.step(ctx, from, step < crossings); err != nil {
			return nil, err
		}
	}
	return fit.NewNetwork(slices.Collect(maps.Values(w.parts)), w.refs), nil
}

// load reads those of the parts that are not known yet, and returns which they are.
func (w *walker) load(ctx context.Context, ids []int64) (added map[int64]bool, err error) {
	ids = slices.DeleteFunc(slices.Compact(slices.Sorted(slices.Values(ids))), func(id int64) bool { return w.parts[id] != nil })
	parts, err := w.view.Parts(ctx, ids)
	added = make(map[int64]bool, len(parts))
	for i := range parts {
		w.parts[parts[i].ID], added[parts[i].ID] = &parts[i], true
	}
	return added, err
}

// step reads the references of some parts, both those that they make and those
// that name them, and returns the parts that were not known before. Where
// crossing is false, cross-references to parts unknown so far are left out.
func (w *walker) step(ctx context.Context, at []int64, crossing bool) ([]int64, error) {
	outgoing, err := w.view.CrossReferences(ctx, at)
	if err != nil {
		return nil, err
	}
	byKey := map[string][]int64{}
	var keys, named []string
	for _, id := range at {
		key := w.parts[id].Key
		if byKey[key] == nil {
			keys = append(keys, key)
		}
		byKey[key] = append(byKey[key], id)
		for _, x := range outgoing[id] {
			if crossing || x.Relation != catalog.Same {
				named = append(named, x.OtherKey)
			}
		}
	}
	incoming, err := w.view.CrossReferencesTo(ctx, keys)
	if err != nil {
		return nil, err
	}
	var targets map[string][]int64
	if len(named) > 0 {
		targets, err = w.view.PartIDsOf(ctx, slices.Compact(slices.Sorted(slices.Values(named))))
	}
	if err != nil {
		return nil, err
	}
	var more []int64
	for _, ids := range targets {
		more = append(more, ids...)
	}
	for id, list := range incoming {
		if slices.ContainsFunc(list, func(x catalog.CrossReference) bool { return crossing || x.Relation != catalog.Same }) {
			more = append(more, id)
		}
	}
	added, err := w.load(ctx, more)
	if err != nil {
		return nil, err
	}
	reached := map[int64]bool{}
	join := func(x catalog.CrossReference, from, to int64) {
		a, b := w.parts[from], w.parts[to]
		if a == nil || b == nil || from == to || !w.means(x, a.Supplier, b.Supplier) {
			return
		}
		w.refs = append(w.refs, fit.Reference{From: from, To: to, Relation: x.Relation, Origin: x.Origin})
		for _, id := range [...]int64{from, to} {
			if added[id] {
				reached[id] = true
			}
		}
	}
	for _, id := range at {
		for _, x := range outgoing[id] {
			for _, to := range targets[x.OtherKey] {
				join(x, id, to)
			}
		}
	}
	for id, list := range incoming {
		for _, x := range list {
			for _, to := range byKey[x.OtherKey] {
				join(x, id, to)
			}
		}
	}
	return keysOf(reached), nil
}

// means reports whether a cross-reference on a sheet of says speaks of a part
// of target. A supersession without a supplier is about the sheet's own numbers.
func (w *walker) means(x catalog.CrossReference, says, target string) bool {
	if x.OtherSupplier == "" {
		return x.Relation == catalog.Same || says == target
	}
	name, known := w.canonical[catalog.Fold(x.OtherSupplier)]
	return known && name == target
}

// supplierNames maps every folded name of a supplier to its canonical one.
func supplierNames(ctx context.Context, v *sqlite.View) (map[string]string, error) {
	suppliers, err := v.Suppliers(ctx)
	names := map[string]string{}
	for _, s := range suppliers {
		for _, n := range append([]string{s.Name}, s.OtherNames...) {
			names[catalog.Fold(n)] = s.Name
		}
	}
	return names, err
}
