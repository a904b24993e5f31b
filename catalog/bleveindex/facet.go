package bleveindex

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/blevesearch/bleve/v2"
)

// Value is one value of a facet with the number of hits that have it.
type Value struct {
	Value string `json:"value"`
	Count int    `json:"count"`
}

// Facets counts types and engine texts over all parts that match, the fullest
// first. They are counted per supplier and added up here: the library would cut
// each supplier's list before it merges them.
func (x *Index) Facets(ctx context.Context, q Query) (types, engines []Value, err error) {
	counted, err := each(x, func(i bleve.Index) (*bleve.SearchResult, error) {
		req := bleve.NewSearchRequestOptions(q.build(), 0, 0, false)
		req.Score = "none"
		req.AddFacet(fieldType, bleve.NewFacetRequest(fieldType, math.MaxInt32))
		req.AddFacet(fieldEngine, bleve.NewFacetRequest(fieldEngine, math.MaxInt32))
		return i.SearchInContext(ctx, req)
	})
	if err != nil {
		return nil, nil, err
	}
	sum := func(name string) []Value {
		counts := map[string]int{}
		for _, res := range counted {
			if fr := res.Facets[name]; fr != nil && fr.Terms != nil {
				for _, t := range fr.Terms.Terms() {
					if t.Term != "" {
						counts[t.Term] += t.Count
					}
				}
			}
		}
		return Counted(counts)
	}
	return sum(fieldType), sum(fieldEngine), nil
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
