package app

import (
	"context"
	"sync"

	"fitfill/catalog/bleveindex"
	"fitfill/catalog/sqlite"
)

// lateIndex is the search index that belongs to a view. It is opened when it is
// first asked for: many questions need none.
type lateIndex struct {
	s *Shop
	v *sqlite.View

	open func() (*sharedIndex, error)
	stop context.CancelFunc
	busy sync.WaitGroup
}

// folders are the index folders of the view.
func (l *lateIndex) folders(ctx context.Context) ([]string, error) {
	suppliers, err := l.v.Suppliers(ctx)
	var folders []string
	for _, sup := range suppliers {
		if sup.IndexFolder != "" {
			folders = append(folders, sup.IndexFolder)
		}
	}
	return folders, err
}

// index opens the index. The folder may be gone when an import has finished in
// between; then the view is out of date and the caller reads it again.
func (l *lateIndex) index(ctx context.Context) (*bleveindex.Index, error) {
	if err := l.prepare(ctx); err != nil {
		return nil, err
	}
	l.stop()
	x, err := l.open()
	if err != nil {
		return nil, err
	}
	return x.Index, nil
}

// isOpen reports whether the index is open already.
func (l *lateIndex) isOpen(ctx context.Context) (bool, error) {
	folders, err := l.folders(ctx)
	return l.open != nil || l.s.indexes.isOpen(folders), err
}

// ahead opens an index that is not open yet, and looks for some of what the
// question will ask it, while the catalogue is read.
func (l *lateIndex) ahead(ctx context.Context, q bleveindex.Query) error {
	if open, err := l.isOpen(ctx); err != nil || open {
		return err
	}
	if err := l.prepare(ctx); err != nil {
		return err
	}
	ctx, l.stop = context.WithCancel(ctx)
	l.busy.Go(func() {
		if x, err := l.open(); err == nil { // if not, the question learns it when it asks
			x.Ahead(ctx, q)
		}
	})
	return nil
}

func (l *lateIndex) prepare(ctx context.Context) error {
	if l.open != nil {
		return nil
	}
	folders, err := l.folders(ctx)
	if err != nil {
		return err
	}
	l.stop = func() {}
	l.open = sync.OnceValues(func() (*sharedIndex, error) { return l.s.indexes.take(l.s.store.IndexDir(), folders) })
	return nil
}

// done gives the index back after a question that ended with err.
func (l *lateIndex) done(err error) error {
	if l.open == nil {
		return err
	}
	l.stop()
	l.busy.Wait()
	x, _ := l.open() // whoever asked for it has its error
	return l.s.indexes.done(x, err)
}
