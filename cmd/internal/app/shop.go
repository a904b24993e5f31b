package app

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"fitfill/catalog"
	"fitfill/catalog/bleveindex"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/words"
	"fitfill/compat"
	"fitfill/compat/coolant"
	"fitfill/compat/fit"
	"fitfill/compat/job"
	"fitfill/data"
)

// Shop is one garage: its catalogue, its settings and the reference tables.
type Shop struct {
	Settings Settings

	store   *sqlite.Store
	indexes *openIndexes
	ref     catalog.Tables
	fit     func() *fit.Tables // these are built when the first question needs them
	coolant func() *coolant.Tables
	job     func() *job.Tables
	words   func() (*words.Table, error)
	records *keptRecords // read when the first answer rests on one list
	now     func() time.Time

	// The garage's own rows, and the tables without them.
	own      []sqlite.OwnTable
	ownState string
	shipped  shippedTables

	latest *latestShop // shared by all copies of this one

	// OwnProblem says why the garage's own tables are left out; "" where they
	// count.
	OwnProblem string
}

// Open opens the garage in the data folder home. overrides are settings given
// as flags. Close it after use.
func Open(home string, overrides map[string]string) (*Shop, error) {
	settings, err := LoadSettings(home, overrides)
	if err != nil {
		return nil, err
	}
	s := &Shop{Settings: settings, indexes: &openIndexes{}, now: time.Now}
	s.takeTables(data.Shipped())
	if s.store, err = sqlite.Open(home); err != nil {
		return nil, err
	}
	s.latest = &latestShop{}
	if err := s.useOwnTables(context.Background()); err != nil {
		return nil, errors.Join(err, s.store.Close())
	}
	return s, nil
}

// Close closes the catalogue.
func (s *Shop) Close() error {
	index := make(chan error)
	go func() { index <- s.indexes.forget() }() // whoever asked one question waits for both
	return errors.Join(s.store.Close(), <-index)
}

// indexRetries is how often a reader takes the pointer to the index again
// before it calls the index damaged.
const indexRetries = 2

// withIndex runs do on a view and the index that belongs to it, which is opened
// when it is first asked for. An index that is damaged, and not merely replaced
// a moment ago, is built anew.
func (s *Shop) withIndex(ctx context.Context, do func(*sqlite.View, *lateIndex) error) error {
	try := func() error {
		return s.store.View(ctx, func(v *sqlite.View) error {
			late := &lateIndex{s: s, v: v}
			return late.done(do(v, late))
		})
	}
	var err error
	for range indexRetries + 1 {
		if err = try(); !errors.Is(err, bleveindex.ErrDamaged) {
			return err
		}
	}
	if repair := s.repairIndexes(ctx); repair != nil {
		return errors.Join(err, repair)
	}
	return try()
}

// repairIndexes builds the indexes anew that cannot be opened. The store is the
// truth, so nothing is lost with an index.
func (s *Shop) repairIndexes(ctx context.Context) (err error) {
	lock, err := s.store.LockImports()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, lock.Unlock()) }()
	var suppliers []sqlite.Supplier
	err = s.store.View(ctx, func(v *sqlite.View) error {
		suppliers, err = v.Suppliers(ctx)
		return err
	})
	if err != nil {
		return err
	}
	for _, sup := range suppliers {
		if sup.IndexFolder == "" {
			continue
		}
		x, err := bleveindex.Open(s.store.IndexDir(), []string{sup.IndexFolder})
		if err == nil {
			damaged := x.Check()
			if err := x.Close(); err != nil {
				return err
			}
			if damaged == nil {
				continue
			}
		}
		folder, err := s.buildIndex(ctx, sup, nil, nil)
		if err != nil {
			return err
		}
		if err := s.store.SetIndex(ctx, lock, sup.ID, folder); err != nil {
			return err
		}
	}
	return nil
}

// fillTexts puts the original text of each cited line into the evidence.
func fillTexts(ctx context.Context, v *sqlite.View, findings []compat.Finding) error {
	for i := range findings {
		if err := lineTexts(ctx, v, findings[i].Origin); err != nil {
			return err
		}
	}
	return nil
}

// lineTexts puts the original text of each line into the evidence.
func lineTexts(ctx context.Context, v *sqlite.View, list []compat.Evidence) error {
	for i := range list {
		e := &list[i]
		if e.Line == 0 || e.Text != "" {
			continue
		}
		text, err := v.TextAt(ctx, catalog.Origin{Sheet: e.Sheet, SHA256: e.SHA256, Line: e.Line})
		if errors.Is(err, sqlite.ErrNotFound) {
			continue // a row logged by hand has no line
		}
		if err != nil {
			return err
		}
		e.Text = text
	}
	return nil
}

// supplierName returns the canonical name of a supplier known by any of its
// names. An unknown name is an error that offers the nearest known one.
func supplierName(name string, known []sqlite.Supplier) (string, error) {
	if name == "" {
		return "", nil
	}
	var names []string
	for _, k := range known {
		for _, n := range append([]string{k.Name}, k.OtherNames...) {
			if catalog.Fold(n) == catalog.Fold(name) {
				return k.Name, nil
			}
			names = append(names, n)
		}
	}
	otherwise := "no supplier's sheet has been imported yet: fitfill import FILE --supplier NAME"
	if len(names) > 0 {
		otherwise = "known are: " + strings.Join(names, ", ")
	}
	return "", &UsageError{Problem: fmt.Sprintf("no supplier is called %q", name), Hint: nearestHint(name, names, otherwise)}
}
