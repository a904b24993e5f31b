package app

import (
	"context"
	"sync"

	"fitfill/catalog/sqlite"
	"fitfill/data"
)

// latestShop is the shop with the garage's own tables as they were last read.
type latestShop struct {
	sync.Mutex
	state string
	shop  *Shop
}

// Current returns the shop with the garage's own tables as they are now: s
// itself, or a copy where another process has changed them since s was opened.
// A process that runs for long asks for it before every question. It shares the
// catalogue with s and is not closed apart. It is safe for use by several
// goroutines.
func (s *Shop) Current(ctx context.Context) (*Shop, error) {
	var state string
	err := s.store.View(ctx, func(v *sqlite.View) (err error) {
		state, err = v.OwnTablesState(ctx)
		return err
	})
	if err != nil {
		return nil, err
	}
	if state == s.ownState {
		return s, nil
	}
	s.latest.Lock()
	defer s.latest.Unlock()
	if s.latest.shop != nil && s.latest.state == state {
		return s.latest.shop, nil
	}
	other := *s
	other.own, other.shipped, other.OwnProblem = nil, shippedTables{}, ""
	other.takeTables(data.Shipped())
	if err := other.useOwnTables(ctx); err != nil {
		return nil, err
	}
	s.latest.state, s.latest.shop = other.ownState, &other
	return &other, nil
}
