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
func (s *Shop) candidates(ctx context.Context, v *sqlite.View, q asked, engine []string, family *catalog.EngineFamily) (map[string][]fit.Candidate, *fit.Network, error) {
	listed, err := s.listedFor(ctx, v, engine, family)
	if err != nil {
		return nil, nil, err
	}
	var asked []int64
	if q.Part != "" {
		if asked, err = v.PartIDs(ctx, catalog.Key(q.Part)); err != nil {
			return nil, nil, err
		}
		if len(asked) == 0 {
			return nil, nil, unknownPart(ctx, v, q.Engine, q.Part)
		}
	}
	// The parts that are not asked for are judged too: what their lists say of
	// the engine counts for the one that is.
	kept, err := s.ofTypes(ctx, v, keysOf(listed), asked, q.Type)
	if err != nil {
		return nil, nil, err
	}
	wanted := map[int64]bool{}
	for _, id := range kept {
		wanted[id] = true
	}
	maps.DeleteFunc(listed, func(id int64, _ []catalog.Fitment) bool { return !wanted[id] })
	speaking := keysOf(forYear(listed, q.year))
	n, err := network(ctx, v, append(slices.Clone(speaking), asked...), s.fit().HopsCounted())
	if err != nil {
		return nil, nil, err
	}
	links := s.fit().Links(n, speaking)
	ids := append(append(keysOf(listed), keysOf(links)...), asked...)
	if q.Type == fit.Clamp { // lists seldom name an engine for them: the hose tells
		all, err := v.PartIDsOfType(ctx, q.Type)
		if err != nil {
			return nil, nil, err
		}
		ids = append(ids, all...)
	}
	slices.Sort(ids)
	if ids, err = s.ofTypes(ctx, v, slices.Compact(ids), asked, q.Type); err != nil {
		return nil, nil, err
	}
	parts, err := partsOf(ctx, v, n, ids)
	if err != nil {
		return nil, nil, err
	}
	poisoned := map[int64]*fit.Poison{}
	for _, g := range s.fit().Poisoned(n, s.Settings.Units) {
		for _, m := range g.Members {
			poisoned[m.ID] = g
		}
	}
	of := map[string]int{}
	for _, p := range parts {
		of[p.Type.Value]++
	}
	byType := map[string][]fit.Candidate{}
	for t, n := range of {
		byType[t] = make([]fit.Candidate, 0, n)
	}
	for _, p := range parts {
		c := fit.Candidate{Part: *p, Listings: listed[p.ID], Links: links[p.ID], OtherSizes: n.Same(p.ID), Poison: poisoned[p.ID]}
		if err := rowTexts(ctx, v, c.Listings); err != nil {
			return nil, nil, err
		}
		byType[p.Type.Value] = append(byType[p.Type.Value], c)
	}
	return byType, n, nil
}

// partsOf returns parts in the order of ids: those of the network as they were
// read for it.
func partsOf(ctx context.Context, v *sqlite.View, n *fit.Network, ids []int64) ([]*catalog.Part, error) {
	var missing []int64
	for _, id := range ids {
		if n.Part(id) == nil {
			missing = append(missing, id)
		}
	}
	more, err := v.Parts(ctx, missing)
	if err != nil {
		return nil, err
	}
	out := make([]*catalog.Part, 0, len(ids))
	for _, id := range ids {
		if p := n.Part(id); p != nil {
			out = append(out, p)
		} else if i := slices.IndexFunc(more, func(p catalog.Part) bool { return p.ID == id }); i >= 0 {
			out = append(out, &more[i])
		}
	}
	return out, nil
}

// rowTexts reads the rows of a part's listings where several suppliers' sheets
// list it: their text tells whether one is a copy of the other.
func rowTexts(ctx context.Context, v *sqlite.View, list []catalog.Fitment) (err error) {
	several := slices.ContainsFunc(list, func(f catalog.Fitment) bool { return f.Origin.Supplier != list[0].Origin.Supplier })
	for i := range list {
		if !several {
			break
		}
		if list[i].Origin.Text, err = v.TextAt(ctx, list[i].Origin); err != nil {
			return err
		}
	}
	return nil
}

// ofTypes keeps the parts of one type, or of the types of the parts asked for;
// of all types where neither is named.
func (s *Shop) ofTypes(ctx context.Context, v *sqlite.View, ids, asked []int64, partType string) ([]int64, error) {
	if partType == "" && len(asked) == 0 {
		return ids, nil
	}
	wanted := []string{partType}
	if partType == "" {
		types, err := v.TypesOf(ctx, asked)
		if err != nil {
			return nil, err
		}
		wanted = slices.Collect(maps.Values(types))
		if len(types) < len(asked) {
			return s.untyped(ctx, v, ids, append(wanted, ""))
		}
	}
	return v.OfTypes(ctx, ids, wanted)
}

// untyped is ofTypes where a part of no type at all is asked for.
func (s *Shop) untyped(ctx context.Context, v *sqlite.View, ids []int64, wanted []string) ([]int64, error) {
	types, err := v.TypesOf(ctx, ids)
	return slices.DeleteFunc(ids, func(id int64) bool { return !slices.Contains(wanted, types[id]) }), err
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

func keysOf[V any](m map[int64]V) []int64 {
	ids := make([]int64, 0, len(m))
	for id := range m {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}
