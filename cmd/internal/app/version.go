package app

import "context"

// Version returns a number that stays the same as long as the catalogue does:
// an answer that was made between two calls that return the same number is right
// until a call returns another.
func (s *Shop) Version(ctx context.Context) (int64, error) { return s.store.Version(ctx) }
