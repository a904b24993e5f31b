package sqlite

import (
	"context"
	"sync"
)

// pinned is a connection that does nothing but count the states of the
// catalogue: each connection has a count of its own, so only what one of them
// says can be compared.
type pinned struct {
	mu   sync.Mutex
	with *reader
}

// Version returns a number that stays the same as long as the catalogue does,
// whoever may change it, and while this Store is open. What was read between
// two calls that return the same number is what stood there all the time.
func (s *Store) Version(ctx context.Context) (version int64, err error) {
	s.pinned.mu.Lock()
	defer s.pinned.mu.Unlock()
	ctx = context.WithoutCancel(ctx) // it takes no time, and a connection does not outlive what was cancelled on it
	if s.pinned.with == nil {
		if s.pinned.with, err = s.newReader(ctx); err != nil {
			return 0, busy(err)
		}
	}
	err = s.pinned.with.each(ctx, "PRAGMA data_version", nil, func(rows record) error { return rows.Scan(&version) })
	return version, busy(err)
}

func (s *Store) closePinned() error {
	s.pinned.mu.Lock()
	defer s.pinned.mu.Unlock()
	if s.pinned.with == nil {
		return nil
	}
	err := s.pinned.with.close()
	s.pinned.with = nil
	return err
}
