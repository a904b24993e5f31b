package bleveindex

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"
)

// contextEvery is after how many matches a search looks whether it is still
// wanted.
const contextEvery = 1024

// matching returns the documents that match all clauses of a query. The library's
// own way of collecting hits sorts by values that it has to fetch for each of
// them, and begins anew with every query; here only what a single clause matches
// is the library's.
func (i *opened) matching(ctx context.Context, clauses []clause) (documents, error) {
	i.ahead.Lock()
	i.ahead.Unlock() //lint:ignore SA2001 once nobody looks ahead here, what was found is there
	var all documents
	for _, c := range clauses {
		docs, err := i.answer(ctx, c, all)
		if err != nil {
			return nil, err
		}
		if all != nil {
			docs = all.and(docs)
		}
		if all = docs; all.total() == 0 { // the other clauses make it no less
			break
		}
	}
	return all, nil
}

// answer returns the documents that a clause matches, which belong to all who
// ask for it. Where it is asked for the first time, those may do that are also
// among the documents that the question has left so far, unless that is nil.
func (i *opened) answer(ctx context.Context, c clause, among documents) (documents, error) {
	if docs, ok := i.answered.get(c.name); ok {
		return docs, nil
	}
	if c.columns != nil {
		columns, err := i.columns()
		if err != nil {
			return nil, err
		}
		if among != nil && i.answered.first(c.name) {
			return c.columns(columns, among), nil
		}
		docs := c.columns(columns, nil)
		i.answered.keep(c.name, docs)
		return docs, nil
	}
	order, err := i.order()
	if err != nil {
		return nil, err
	}
	docs := noDocuments(order.count)
	if err := i.search(ctx, c.library, docs, order.count); err != nil {
		return nil, err
	}
	i.answered.keep(c.name, docs)
	return docs, nil
}

// search adds the documents that match a query of the library.
func (i *opened) search(ctx context.Context, q query.Query, docs documents, count int) (err error) {
	m, err := sharedMapping()
	if err != nil {
		return err
	}
	reader, err := i.Reader()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, reader.Close()) }()
	matching, err := q.Searcher(ctx, reader, m, search.SearcherOptions{Score: "none"})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, matching.Close()) }()
	at := &search.SearchContext{DocumentMatchPool: search.NewDocumentMatchPool(matching.DocumentMatchPoolSize()+1, 0), IndexReader: reader}
	for n := 0; ; n++ {
		if n%contextEvery == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		hit, err := matching.Next(at)
		if err != nil || hit == nil {
			return err
		}
		doc := hit.IndexInternalID.Value()
		if doc >= uint64(count) {
			return noPlace(doc)
		}
		docs.add(int(doc))
		at.DocumentMatchPool.Put(hit)
	}
}

// first returns the parts that come first of some documents, and how many
// there are.
func (i *opened) first(docs documents, most int) (Found, error) {
	order, err := i.order()
	if err != nil {
		return Found{}, err
	}
	first := firstPlaces{order: order, most: most}
	docs.each(func(doc int) {
		if err == nil {
			err = first.add(doc)
		}
	})
	return first.found(docs.total()), err
}

// noPlace says that an index and the order beside it do not belong together.
func noPlace[T int | uint64](doc T) error {
	return fmt.Errorf("%w: document %d has no place", ErrDamaged, doc)
}

// firstPlaces keeps the first places of the hits that it is given.
type firstPlaces struct {
	order *order
	most  int
	kept  []uint32 // once there are most of them: a heap, the last place on top
}

func (f *firstPlaces) add(doc int) error {
	place, ok := f.order.place(doc)
	switch {
	case !ok:
		return noPlace(doc)
	case len(f.kept) < f.most:
		f.kept = append(f.kept, place)
		if len(f.kept) == f.most {
			slices.Sort(f.kept)
			slices.Reverse(f.kept) // a falling list is a heap
		}
	case f.most > 0 && place < f.kept[0]:
		f.kept[0] = place
		f.sink()
	}
	return nil
}

// sink puts the top of the heap where it belongs.
func (f *firstPlaces) sink() {
	for at := 0; ; {
		child := 2*at + 1
		if child >= len(f.kept) {
			return
		}
		if other := child + 1; other < len(f.kept) && f.kept[other] > f.kept[child] {
			child = other
		}
		if f.kept[at] >= f.kept[child] {
			return
		}
		f.kept[at], f.kept[child] = f.kept[child], f.kept[at]
		at = child
	}
}

// found lists the parts at the places kept, in their order.
func (f *firstPlaces) found(total int) Found {
	found := Found{Total: total}
	slices.Sort(f.kept)
	for _, place := range f.kept {
		found.IDs = append(found.IDs, f.order.part(place))
	}
	return found
}
