package bleveindex

import (
	"cmp"
	"context"
	"slices"
)

// Value is one value of a facet with the number of hits that have it.
type Value struct {
	Value string `json:"value"`
	Count int    `json:"count"`
}

// counts is what one supplier's index has for a query, with the number of hits
// by type and by engine text.
type counts struct {
	Found
	types, engines []Value
}

// SearchCounted is Search that counts types and engine texts over all parts
// that match in the same pass, the fullest first: per supplier, and added up
// when all have counted.
func (x *Index) SearchCounted(ctx context.Context, q Query, limit int) (found []Found, types, engines []Value, err error) {
	clauses := q.clauses()
	all, err := each(x, func(i *opened) (counts, error) { return i.count(ctx, clauses, limit) })
	if err != nil {
		return nil, nil, nil, err
	}
	sums := [2]map[string]int{{}, {}}
	for _, c := range all {
		found = append(found, c.Found)
		for n, of := range [2][]Value{c.types, c.engines} {
			for _, v := range of {
				sums[n][v.Value] += v.Count
			}
		}
	}
	return found, Counted(sums[0]), Counted(sums[1]), nil
}

func (i *opened) count(ctx context.Context, clauses []clause, limit int) (c counts, err error) {
	docs, err := i.matching(ctx, clauses)
	if err != nil {
		return c, err
	}
	columns, err := i.columns()
	if err != nil {
		return c, err
	}
	c.types, c.engines = columns.countIn(docs)
	c.Found, err = i.first(docs, limit)
	return c, err
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
