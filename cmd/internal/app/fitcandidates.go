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
	var asked []int64
	var err error
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
	types, err := typesMeant(ctx, v, asked, q.Type)
	if err != nil {
		return nil, nil, err
	}
	listed, read, err := s.listedParts(ctx, v, engine, family, asked, types)
	if err != nil {
		return nil, nil, err
	}
	speaking := keysOf(forYear(listed, q.year))
	n, err := network(ctx, v, append(slices.Clone(speaking), asked...), s.fit().HopsCounted(), read)
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
	parts, err := partsOf(ctx, v, n, read, slices.Compact(ids), types)
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
		c := fit.Candidate{Part: p, Listings: listed[p.ID], Links: links[p.ID], OtherSizes: n.Same(p.ID), Poison: poisoned[p.ID]}
		if err := rowTexts(ctx, v, c.Listings); err != nil {
			return nil, nil, err
		}
		byType[p.Type.Value] = append(byType[p.Type.Value], c)
	}
	return byType, n, nil
}

// listedParts returns the listings of an engine for parts of the types (nil: of
// all), and these parts and those asked for as they were read.
func (s *Shop) listedParts(ctx context.Context, v *sqlite.View, engine []string, family *catalog.EngineFamily, asked []int64, types []string) (map[int64][]catalog.Fitment, map[int64]*catalog.Part, error) {
	named := types
	if slices.Contains(types, "") { // a part of no type is asked for, and no sheet calls one so
		named = nil
	}
	listed, err := s.listedFor(ctx, v, engine, family, named)
	if err != nil {
		return nil, nil, err
	}
	if types != nil && named == nil {
		of, err := v.TypesOf(ctx, keysOf(listed))
		if err != nil {
			return nil, nil, err
		}
		maps.DeleteFunc(listed, func(id int64, _ []catalog.Fitment) bool { return !slices.Contains(types, of[id]) })
	}
	ids := append(keysOf(listed), asked...)
	slices.Sort(ids)
	parts, err := v.Parts(ctx, slices.Compact(ids))
	read := make(map[int64]*catalog.Part, len(parts))
	for i := range parts {
		read[parts[i].ID] = &parts[i]
	}
	if types != nil {
		maps.DeleteFunc(listed, func(id int64, _ []catalog.Fitment) bool {
			return read[id] == nil || !slices.Contains(types, read[id].Type.Value)
		})
	}
	return listed, read, err
}

// typesMeant returns the type that was named, else those of the parts asked for,
// "" among them where one has none; nil where neither is named.
func typesMeant(ctx context.Context, v *sqlite.View, asked []int64, partType string) ([]string, error) {
	if partType != "" {
		return []string{partType}, nil
	}
	if len(asked) == 0 {
		return nil, nil
	}
	of, err := v.TypesOf(ctx, asked)
	types := slices.Compact(slices.Sorted(maps.Values(of)))
	if len(of) < len(asked) {
		types = append(types, "")
	}
	return types, err
}

// partsOf returns those parts that are of the types (nil: of any), in the order
// of ids: those of the network, and others that were read, as they were read.
func partsOf(ctx context.Context, v *sqlite.View, n *fit.Network, read map[int64]*catalog.Part, ids []int64, types []string) ([]*catalog.Part, error) {
	at := func(id int64) *catalog.Part {
		if p := n.Part(id); p != nil {
			return p
		}
		return read[id]
	}
	var missing []int64
	for _, id := range ids {
		if at(id) == nil {
			missing = append(missing, id)
		}
	}
	more, err := v.Parts(ctx, missing)
	if err != nil {
		return nil, err
	}
	late := make(map[int64]*catalog.Part, len(more))
	for i := range more {
		late[more[i].ID] = &more[i]
	}
	out := make([]*catalog.Part, 0, len(ids))
	for _, id := range ids {
		p := at(id)
		if p == nil {
			p = late[id]
		}
		if p != nil && (types == nil || slices.Contains(types, p.Type.Value)) {
			out = append(out, p)
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
