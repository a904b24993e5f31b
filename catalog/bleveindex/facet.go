package bleveindex

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"github.com/blevesearch/bleve/v2/search"
)

// Value is one value of a facet with the number of hits that have it.
type Value struct {
	Value string `json:"value"`
	Count int    `json:"count"`
}

// counted is what one supplier's index has for a query, with the number of hits
// by type and by engine text.
type counted struct {
	Found
	types, engines map[string]int
}

// SearchCounted is Search that counts types and engine texts over all parts
// that match in the same pass, the fullest first: per supplier, and added up
// when all have counted.
func (x *Index) SearchCounted(ctx context.Context, q Query, limit int) (found []Found, types, engines []Value, err error) {
	all, err := each(x, func(i *opened) (counted, error) { return i.count(ctx, q, limit) })
	if err != nil {
		return nil, nil, nil, err
	}
	sums := [2]map[string]int{{}, {}}
	for _, c := range all {
		found = append(found, c.Found)
		for n, of := range [2]map[string]int{c.types, c.engines} {
			for value, count := range of {
				sums[n][value] += count
			}
		}
	}
	return found, Counted(sums[0]), Counted(sums[1]), nil
}

func (i *opened) count(ctx context.Context, q Query, limit int) (c counted, err error) {
	order, err := i.order()
	if err != nil {
		return c, err
	}
	counts := map[string]map[string]*int{fieldType: {}, fieldEngine: {}}
	count := func(field string, term []byte) {
		if n := counts[field][string(term)]; n != nil { // looked up without a copy of the term
			*n++
		} else if len(term) > 0 {
			one := 1
			counts[field][string(term)] = &one
		}
	}
	first := firstPlaces{order: order, most: limit}
	var visit func(*search.DocumentMatch) error
	total, err := i.match(ctx, q, func(at *search.SearchContext, hit *search.DocumentMatch) (bool, error) {
		if visit == nil {
			values, err := at.IndexReader.DocValueReader([]string{fieldType, fieldEngine})
			if err != nil {
				return false, err
			}
			visit = func(hit *search.DocumentMatch) error { return values.VisitDocValues(hit.IndexInternalID, count) }
		}
		return true, errors.Join(first.add(hit), visit(hit))
	})
	return counted{first.found(total), plain(counts[fieldType]), plain(counts[fieldEngine])}, err
}

func plain(counts map[string]*int) map[string]int {
	out := make(map[string]int, len(counts))
	for value, n := range counts {
		out[value] = *n
	}
	return out
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
