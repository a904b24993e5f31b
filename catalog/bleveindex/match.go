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

// matched is called with each document that matches; false ends the search.
type matched func(at *search.SearchContext, hit *search.DocumentMatch) (more bool, err error)

// match calls do with each document that matches a query, in the order of the
// documents, and returns how many there were. The library's own way of
// collecting hits sorts by values that it has to fetch for each of them; here
// only the matching is the library's.
func (i *opened) match(ctx context.Context, q Query, do matched) (total int, err error) {
	if len(q.EngineKeys) < manyEngines {
		return i.search(ctx, q.build(), do)
	}
	engines := q.EngineKeys
	q.EngineKeys = nil
	if q.empty() { // nothing that their parts would be picked from
		return i.search(ctx, oneOf(fieldEngineKey, engines), do)
	}
	bits, err := i.listedFor(ctx, engines)
	if err != nil {
		return 0, err
	}
	_, err = i.search(ctx, q.build(), func(at *search.SearchContext, hit *search.DocumentMatch) (bool, error) {
		doc := hit.IndexInternalID.Value()
		if doc/64 >= uint64(len(bits)) {
			return false, noPlace(doc)
		}
		if bits[doc/64]>>(doc%64)&1 == 0 {
			return true, nil
		}
		total++
		return do(at, hit)
	})
	return total, err
}

// search is match for a query of the library.
func (i *opened) search(ctx context.Context, q query.Query, do matched) (total int, err error) {
	inner, err := i.Advanced()
	if err != nil {
		return 0, err
	}
	reader, err := inner.Reader()
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, reader.Close()) }()
	matching, err := q.Searcher(ctx, reader, i.Mapping(), search.SearcherOptions{Score: "none"})
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, matching.Close()) }()
	at := &search.SearchContext{DocumentMatchPool: search.NewDocumentMatchPool(matching.DocumentMatchPoolSize()+1, 0), IndexReader: reader}
	for {
		if total%contextEvery == 0 && ctx.Err() != nil {
			return total, ctx.Err()
		}
		hit, err := matching.Next(at)
		if err != nil || hit == nil {
			return total, err
		}
		total++
		more, err := do(at, hit)
		if err != nil || !more {
			return total, err
		}
		at.DocumentMatchPool.Put(hit)
	}
}

// noPlace says that an index and the order beside it do not belong together.
func noPlace(doc uint64) error {
	return fmt.Errorf("%w: document %d has no place", ErrDamaged, doc)
}

// firstPlaces keeps the first places of the hits that it is given.
type firstPlaces struct {
	order *order
	most  int
	kept  []uint32 // once there are most of them: a heap, the last place on top
}

func (f *firstPlaces) add(hit *search.DocumentMatch) error {
	doc := hit.IndexInternalID.Value()
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
