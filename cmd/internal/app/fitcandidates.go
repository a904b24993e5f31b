package app

import (
	"context"
	"maps"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat/fit"
)

// candidates collects the parts that could be meant, by type.
func (s *Shop) candidates(ctx context.Context, v *sqlite.View, q asked, engine []string) (map[string][]fit.Candidate, error) {
	listed, err := v.ListedFor(ctx, engine)
	if err != nil {
		return nil, err
	}
	var asked []int64
	if q.Part != "" {
		if asked, err = v.PartIDs(ctx, catalog.Key(q.Part)); err != nil {
			return nil, err
		}
		if len(asked) == 0 {
			return nil, unknownPart(ctx, v, q.Part)
		}
	}
	// The parts that are not asked for are judged too: what their lists say of
	// the engine counts for the one that is.
	kept, err := s.ofTypes(ctx, v, keysOf(listed), asked, q.Type)
	if err != nil {
		return nil, err
	}
	wanted := map[int64]bool{}
	for _, id := range kept {
		wanted[id] = true
	}
	maps.DeleteFunc(listed, func(id int64, _ []catalog.Fitment) bool { return !wanted[id] })
	links, others, err := s.links(ctx, v, forYear(listed, q.year))
	if err != nil {
		return nil, err
	}
	ids := append(append(keysOf(listed), keysOf(links)...), asked...)
	if q.Type == fit.Clamp { // lists seldom name an engine for them: the hose tells
		all, err := v.PartIDsOfType(ctx, q.Type)
		if err != nil {
			return nil, err
		}
		ids = append(ids, all...)
	}
	slices.Sort(ids)
	if ids, err = s.ofTypes(ctx, v, slices.Compact(ids), asked, q.Type); err != nil {
		return nil, err
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return nil, err
	}
	byType := map[string][]fit.Candidate{}
	for _, p := range parts {
		c := fit.Candidate{Part: p, Listings: listed[p.ID], Links: links[p.ID], OtherSizes: others[p.ID]}
		for i := range c.Listings {
			o := &c.Listings[i].Origin
			if o.Text, err = v.TextAt(ctx, *o); err != nil {
				return nil, err
			}
		}
		byType[p.Type.Value] = append(byType[p.Type.Value], c)
	}
	return byType, nil
}

// ofTypes keeps the parts of one type, or of the types of the parts asked for;
// of all types where neither is named.
func (s *Shop) ofTypes(ctx context.Context, v *sqlite.View, ids, asked []int64, partType string) ([]int64, error) {
	if partType == "" && len(asked) == 0 {
		return ids, nil
	}
	types, err := v.TypesOf(ctx, append(slices.Clone(ids), asked...))
	if err != nil {
		return nil, err
	}
	wanted := map[string]bool{partType: partType != ""}
	if partType == "" {
		for _, id := range asked {
			wanted[types[id]] = true
		}
	}
	return slices.DeleteFunc(ids, func(id int64) bool { return !wanted[types[id]] }), nil
}

// forYear leaves out the listings of other model years: a part that is listed
// for another year speaks for nobody.
func forYear(listed map[int64][]catalog.Fitment, year int) map[int64][]catalog.Fitment {
	if year == 0 {
		return listed
	}
	out := map[int64][]catalog.Fitment{}
	for id, fits := range listed {
		for _, f := range fits {
			if _, part := f.Years.Covers(year); part || len(f.Years.Ranges) == 0 {
				out[id] = append(out[id], f)
			}
		}
	}
	return out
}

// links follows the cross-references one step from the listed parts, in the
// direction in which they hold: "same" both ways, a supersession from the old
// number to the new one. A number is only followed to the supplier that the
// cross-reference names; short numbers occur in many lists.
func (s *Shop) links(ctx context.Context, v *sqlite.View, listed map[int64][]catalog.Fitment) (map[int64][]fit.Link, map[int64][]catalog.Part, error) {
	l := linker{links: map[int64][]fit.Link{}, others: map[int64][]catalog.Part{}, parts: map[int64]catalog.Part{}}
	ids := keysOf(listed)
	from, err := l.load(ctx, v, ids)
	if err != nil {
		return nil, nil, err
	}
	if l.canonical, err = supplierNames(ctx, v); err != nil {
		return nil, nil, err
	}
	outgoing, err := v.CrossReferences(ctx, ids)
	if err != nil {
		return nil, nil, err
	}
	var own, named []string
	for _, p := range from {
		own = append(own, p.Key)
		for _, x := range outgoing[p.ID] {
			named = append(named, x.OtherKey)
		}
	}
	incoming, err := v.CrossReferencesTo(ctx, own)
	if err != nil {
		return nil, nil, err
	}
	targets, err := v.PartIDsOf(ctx, slices.Compact(slices.Sorted(slices.Values(named))))
	if err != nil {
		return nil, nil, err
	}
	var more []int64
	for _, ids := range targets {
		more = append(more, ids...)
	}
	if _, err := l.load(ctx, v, append(more, keysOf(incoming)...)); err != nil {
		return nil, nil, err
	}
	byKey := map[string][]catalog.Part{}
	for _, p := range from {
		byKey[p.Key] = append(byKey[p.Key], p)
		for _, x := range outgoing[p.ID] {
			if x.Relation == catalog.Replaces {
				continue // that the listed part replaces another does not make the other fit
			}
			relation := x.Relation
			if relation == catalog.ReplacedBy {
				relation = catalog.Replaces // seen from the other part
			}
			for _, id := range targets[x.OtherKey] {
				if l.means(x, p.Supplier, l.parts[id].Supplier) {
					l.link(l.parts[id], p, relation, x.Origin)
				}
			}
		}
	}
	for _, id := range keysOf(incoming) {
		for _, x := range incoming[id] {
			if x.Relation == catalog.ReplacedBy {
				continue
			}
			for _, via := range byKey[x.OtherKey] {
				if l.means(x, l.parts[id].Supplier, via.Supplier) {
					l.link(l.parts[id], via, x.Relation, x.Origin)
				}
			}
		}
	}
	return l.links, l.others, nil
}

// linker collects links while cross-references are followed.
type linker struct {
	links     map[int64][]fit.Link
	others    map[int64][]catalog.Part
	parts     map[int64]catalog.Part
	canonical map[string]string
}

func (l *linker) load(ctx context.Context, v *sqlite.View, ids []int64) ([]catalog.Part, error) {
	slices.Sort(ids)
	parts, err := v.Parts(ctx, slices.Compact(ids))
	for _, p := range parts {
		l.parts[p.ID] = p
	}
	return parts, err
}

// means reports whether a cross-reference on a sheet of says speaks of a part
// of target. A supersession without a supplier is about the sheet's own numbers.
func (l *linker) means(x catalog.CrossReference, says, target string) bool {
	if x.OtherSupplier == "" {
		return x.Relation == catalog.Same || says == target
	}
	name, known := l.canonical[catalog.Fold(x.OtherSupplier)]
	return known && name == target
}

func (l *linker) link(p, via catalog.Part, relation catalog.Relation, o catalog.Origin) {
	if p.ID == via.ID || p.ID == 0 {
		return
	}
	l.links[p.ID] = append(l.links[p.ID], fit.Link{Via: via, Relation: relation, Hops: 1, Origin: o})
	if relation == catalog.Same {
		l.others[p.ID] = append(l.others[p.ID], via)
		l.others[via.ID] = append(l.others[via.ID], p)
	}
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

func keysOf[V any](m map[int64]V) []int64 {
	ids := make([]int64, 0, len(m))
	for id := range m {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}
