package bleveindex

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"sync"

	"github.com/blevesearch/bleve/v2"
)

// ErrDamaged is returned when an index folder is missing or cannot be read.
// It can be rebuilt from the store.
var ErrDamaged = errors.New("the search index is damaged")

// Index is a set of suppliers' indexes, searched as one. It is safe for
// concurrent use.
type Index struct {
	alias bleve.IndexAlias
	open  []bleve.Index
}

// Open opens the index folders names in dir for reading. No folders is an
// empty index; a missing or unreadable one is ErrDamaged.
func Open(dir string, names []string) (*Index, error) {
	x := &Index{alias: bleve.NewIndexAlias()}
	for _, name := range names {
		if built, err := os.ReadFile(filepath.Join(dir, name, formatFile)); err != nil || string(built) != format {
			return nil, errors.Join(fmt.Errorf("%w: folder %s was built in another way", ErrDamaged, name), x.Close())
		}
		i, err := bleve.OpenUsing(filepath.Join(dir, name), map[string]any{"read_only": true})
		if err != nil {
			return nil, errors.Join(fmt.Errorf("%w: folder %s: %v", ErrDamaged, name, err), x.Close())
		}
		x.open = append(x.open, i)
		x.alias.Add(i)
	}
	return x, nil
}

// Parts returns how many parts are indexed.
func (x *Index) Parts() (int, error) {
	if len(x.open) == 0 {
		return 0, nil
	}
	n, err := x.alias.DocCount()
	return int(n), err
}

// Empty reports whether no supplier has an index.
func (x *Index) Empty() bool { return len(x.open) == 0 }

// Close closes the index.
func (x *Index) Close() error {
	var err error
	for _, i := range x.open {
		err = errors.Join(err, i.Close())
	}
	return err
}

// Found is what one supplier's index has for a query: its parts in the order
// of their numbers, at most as many as were asked for, and how many there are.
type Found struct {
	IDs   []int64
	Total int
}

// Search asks every supplier's index, and returns what each has in the order in
// which they were opened: whose hits come first is not the index's business.
func (x *Index) Search(ctx context.Context, q Query, limit int) ([]Found, error) {
	return each(x, func(i bleve.Index) (Found, error) {
		f, _, err := run(ctx, i, q.request(limit))
		return f, err
	})
}

// request asks for the parts of a query in the order of their numbers; the
// document's own name comes last, so that equal numbers keep one order.
func (q Query) request(limit int) *bleve.SearchRequest {
	req := bleve.NewSearchRequestOptions(q.build(), limit, 0, false)
	req.Score = "none"
	if limit > 0 {
		req.SortBy([]string{fieldKey, "_id"})
	}
	return req
}

func run(ctx context.Context, i bleve.Index, req *bleve.SearchRequest) (Found, *bleve.SearchResult, error) {
	res, err := i.SearchInContext(ctx, req)
	if err != nil {
		return Found{}, nil, err
	}
	f := Found{Total: int(res.Total)}
	for _, h := range res.Hits {
		id, err := strconv.ParseInt(h.ID, 10, 64)
		if err != nil {
			return f, nil, fmt.Errorf("%w: document %q has no number", ErrDamaged, h.ID)
		}
		f.IDs = append(f.IDs, id)
	}
	return f, res, nil
}

// Has reports whether any part matches.
func (x *Index) Has(ctx context.Context, q Query) (bool, error) {
	found, err := x.Search(ctx, q, 0)
	for _, f := range found {
		if f.Total > 0 {
			return true, err
		}
	}
	return false, err
}

// each runs do on every supplier's index at once, and returns the answers in
// the order of the indexes.
func each[T any](x *Index, do func(bleve.Index) (T, error)) ([]T, error) {
	answers := make([]T, len(x.open))
	errs := make([]error, len(x.open))
	var wait sync.WaitGroup
	for n, i := range x.open {
		wait.Go(func() { answers[n], errs[n] = do(i) })
	}
	wait.Wait()
	if err := errors.Join(errs...); err != nil {
		return nil, fmt.Errorf("search: %w", err)
	}
	return answers, nil
}
