package bleveindex

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"

	index "github.com/blevesearch/bleve_index_api"
)

// ErrDamaged is returned when an index folder is missing or cannot be read.
// It can be rebuilt from the store.
var ErrDamaged = errors.New("the search index is damaged")

// Index is a set of suppliers' indexes, searched as one. It is safe for
// concurrent use.
type Index struct{ open []*opened }

// opened is the index of one supplier.
type opened struct {
	index.Index
	folder   string
	order    func() (*order, error)   // read when the first hit is to be placed
	columns  func() (*columns, error) // read when parts are first picked or counted by them
	answered answered
	ahead    sync.Mutex   // a question waits for what is being found for it
	users    atomic.Int32 // the sets that it is in
	files    files
}

// Open opens the index folders names in dir for reading. No folders is an
// empty index; a missing or unreadable one is ErrDamaged.
func Open(dir string, names []string) (*Index, error) { return (&Index{}).Reopen(dir, names) }

// Reopen is Open that takes over those folders that x, which must not be closed
// yet, has open: another supplier's import does not make one open its index
// again. Both are closed apart.
func (x *Index) Reopen(dir string, names []string) (*Index, error) {
	has := map[string]*opened{}
	for _, i := range x.open {
		has[i.folder] = i
	}
	x = &Index{}
	for _, name := range names {
		folder := filepath.Join(dir, name)
		if i := has[folder]; i != nil {
			i.users.Add(1)
			x.open = append(x.open, i)
			continue
		}
		if built, err := os.ReadFile(filepath.Join(folder, formatFile)); err != nil || string(built) != format {
			return nil, errors.Join(fmt.Errorf("%w: folder %s was built in another way", ErrDamaged, name), x.Close())
		}
		i, err := openLibrary(folder)
		if err != nil {
			return nil, errors.Join(fmt.Errorf("%w: folder %s: %v", ErrDamaged, name, err), x.Close())
		}
		o := &opened{Index: i, folder: folder}
		o.order = sync.OnceValues(func() (*order, error) { return readOrder(&o.files, folder) })
		o.columns = sync.OnceValues(o.columnsInOrder)
		o.users.Store(1)
		x.open = append(x.open, o)
	}
	return x, nil
}

// columnsInOrder reads the columns, which are of as many documents as the order.
func (i *opened) columnsInOrder() (*columns, error) {
	order, err := i.order()
	if err != nil {
		return nil, err
	}
	columns, err := readColumns(&i.files, i.folder)
	if err == nil && columns.count != order.count {
		err = fmt.Errorf("%w: %s and %s in %s are not of the same parts", ErrDamaged, orderFile, columnsFile, i.folder)
	}
	return columns, err
}

// Check reads what is otherwise read with the first question, and returns
// ErrDamaged where it cannot be.
func (x *Index) Check() error {
	for _, i := range x.open {
		if _, err := i.columns(); err != nil {
			return err
		}
		order, err := i.order()
		if err != nil {
			return err
		}
		for doc := range order.count {
			if _, ok := order.place(doc); !ok {
				return noPlace(doc)
			}
		}
	}
	return nil
}

// Parts returns how many parts are indexed.
func (x *Index) Parts() (int, error) {
	sum := 0
	for _, i := range x.open {
		n, err := documentCount(i)
		if err != nil {
			return 0, fmt.Errorf("search: %w", err)
		}
		sum += int(n)
	}
	return sum, nil
}

// Empty reports whether no supplier has an index.
func (x *Index) Empty() bool { return len(x.open) == 0 }

// Close closes the index.
func (x *Index) Close() error {
	var err error
	for _, i := range x.open {
		if i.users.Add(-1) == 0 {
			err = errors.Join(err, i.Close(), i.files.done())
		}
	}
	return err
}

// files are the files beside the library's that an index has open.
type files struct {
	mu   sync.Mutex
	open []func() error
}

// read returns the bytes of a file, which are good until done.
func (f *files) read(path string) ([]byte, error) {
	raw, done, err := readWhole(path)
	if err != nil {
		return nil, err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.open = append(f.open, done)
	return raw, nil
}

// done ends the use of all files.
func (f *files) done() (err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, done := range f.open {
		err = errors.Join(err, done())
	}
	f.open = nil
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
	clauses := q.clauses()
	return each(x, func(i *opened) (Found, error) {
		docs, err := i.matching(ctx, clauses)
		if err != nil {
			return Found{}, err
		}
		return i.first(docs, limit)
	})
}

// Ahead finds what clauses of a query match, for a question that is still being
// read and will have them among its own, and reads what hits are placed, picked and
// counted by. It goes through the indexes one after the other until the context
// ends, so that whoever reads the question has a processor too; what goes wrong,
// the question itself finds out.
func (x *Index) Ahead(ctx context.Context, q Query) {
	clauses := q.clauses()
	for _, i := range x.open {
		if ctx.Err() != nil {
			return
		}
		i.lookAhead(clauses)
	}
}

func (i *opened) lookAhead(clauses []clause) {
	i.ahead.Lock()
	defer i.ahead.Unlock()
	for _, c := range clauses {
		if _, err := i.answer(context.Background(), c, nil); err != nil {
			return
		}
	}
	if columns, err := i.columns(); err == nil { // an error is kept for the question
		columns.engineKeys()
	}
}

// Has reports whether any part matches.
func (x *Index) Has(ctx context.Context, q Query) (bool, error) {
	clauses := q.clauses()
	for _, i := range x.open { // one after the other: the first that has it is enough
		docs, err := i.matching(ctx, clauses)
		if err != nil {
			return false, fmt.Errorf("search: %w", err)
		}
		if docs.total() > 0 {
			return true, nil
		}
	}
	return false, nil
}

// each runs do on every supplier's index at once, and returns the answers in
// the order of the indexes.
func each[T any](x *Index, do func(*opened) (T, error)) ([]T, error) {
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
