package bleveindex

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search"
)

// Value is one value of a facet with the number of hits that have it.
type Value struct {
	Value string `json:"value"`
	Count int    `json:"count"`
}

// SearchCounted is Search that counts types and engine texts over all parts
// that match in the same pass, the fullest first. They are counted per supplier
// and added up here: the library would cut each supplier's list before it
// merges them.
func (x *Index) SearchCounted(ctx context.Context, q Query, limit int) (found []Found, types, engines []Value, err error) {
	type counted struct {
		Found
		facets search.FacetResults
	}
	all, err := each(x, func(i bleve.Index) (counted, error) {
		req := q.request(limit)
		req.AddFacet(fieldType, bleve.NewFacetRequest(fieldType, math.MaxInt32))
		req.AddFacet(fieldEngine, bleve.NewFacetRequest(fieldEngine, math.MaxInt32))
		f, res, err := run(ctx, i, req)
		if err != nil {
			return counted{}, err
		}
		return counted{f, res.Facets}, nil
	})
	if err != nil {
		return nil, nil, nil, err
	}
	sum := func(name string) []Value {
		counts := map[string]int{}
		for _, c := range all {
			if fr := c.facets[name]; fr != nil && fr.Terms != nil {
				for _, t := range fr.Terms.Terms() {
					if t.Term != "" {
						counts[t.Term] += t.Count
					}
				}
			}
		}
		return Counted(counts)
	}
	for _, c := range all {
		found = append(found, c.Found)
	}
	return found, sum(fieldType), sum(fieldEngine), nil
}

// Counted lists counts, the fullest first.
func Counted(counts map[string]int) []Value {
	list := make([]Value, 0, len(counts))
	for v, n := range counts {
		list = append(list, Value{v, n})
	}
	slices.SortFunc(list, func(a, b Value) int { return cmp.Or(cmp.Compare(b.Count, a.Count), cmp.Compare(a.Value, b.Value)) })
	return list
}
