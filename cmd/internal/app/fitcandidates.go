package app

import (
	"context"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat/fit"
)

// candidates collects the parts that could be meant, by type.
func (s *Shop) candidates(ctx context.Context, v *sqlite.View, q FitQuestion, engine []string) (map[string][]fit.Candidate, error) {
	listed, err := v.ListedFor(ctx, engine)
	if err != nil {
		return nil, err
	}
	links, others, err := s.links(ctx, v, forYear(listed, q.Year))
	if err != nil {
		return nil, err
	}
	// The parts that are not asked for are judged too: what their lists say of
	// the engine counts for the one that is.
	ids := append(keysOf(listed), keysOf(links)...)
	var asked []int64
	if q.Part != "" {
		if asked, err = v.PartIDs(ctx, catalog.Key(q.Part)); err != nil {
			return nil, err
		}
		if len(asked) == 0 {
			return nil, unknownPart(ctx, v, q.Part)
		}
		ids = append(ids, asked...)
	}
	slices.Sort(ids)
	ids = slices.Compact(ids)
	if ids, err = s.ofTypes(ctx, v, ids, asked, q.Type); err != nil {
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
	types, err := v.TypesOf(ctx, ids)
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
// number to the new one.
func (s *Shop) links(ctx context.Context, v *sqlite.View, listed map[int64][]catalog.Fitment) (map[int64][]fit.Link, map[int64][]catalog.Part, error) {
	links, others := map[int64][]fit.Link{}, map[int64][]catalog.Part{}
	ids := keysOf(listed)
	from, err := v.Parts(ctx, ids)
	if err != nil {
		return nil, nil, err
	}
	outgoing, err := v.CrossReferences(ctx, ids)
	if err != nil {
		return nil, nil, err
	}
	for _, p := range from {
		for _, x := range outgoing[p.ID] {
			to, err := v.PartIDs(ctx, x.OtherKey)
			if err != nil {
				return nil, nil, err
			}
			if x.Relation == catalog.Replaces {
				continue // that the listed part replaces another does not make the other fit
			}
			if x.Relation == catalog.ReplacedBy {
				x.Relation = catalog.Replaces // seen from the other part
			}
			if err := s.link(ctx, v, links, others, to, p, x); err != nil {
				return nil, nil, err
			}
		}
		incoming, err := v.CrossReferencesTo(ctx, p.Key)
		if err != nil {
			return nil, nil, err
		}
		for id, refs := range incoming {
			for _, x := range refs {
				if x.Relation == catalog.ReplacedBy {
					continue
				}
				if err := s.link(ctx, v, links, others, []int64{id}, p, x); err != nil {
					return nil, nil, err
				}
			}
		}
	}
	return links, others, nil
}

func (s *Shop) link(ctx context.Context, v *sqlite.View, links map[int64][]fit.Link, others map[int64][]catalog.Part, to []int64, via catalog.Part, x catalog.CrossReference) error {
	parts, err := v.Parts(ctx, to)
	if err != nil {
		return err
	}
	for _, p := range parts {
		if p.ID == via.ID {
			continue
		}
		links[p.ID] = append(links[p.ID], fit.Link{Via: via, Relation: x.Relation, Hops: 1, Origin: x.Origin})
		if x.Relation == catalog.Same {
			others[p.ID] = append(others[p.ID], via)
			others[via.ID] = append(others[via.ID], p)
		}
	}
	return nil
}

func keysOf[V any](m map[int64]V) []int64 {
	ids := make([]int64, 0, len(m))
	for id := range m {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}
