package app

// UsageError is a question that cannot be answered as it was put. Hint is the
// second line: what to do, with the corrected command where there is one.
type UsageError struct{ Problem, Hint string }

// Error returns the problem.
func (e *UsageError) Error() string { return e.Problem }

// BusyError says that something cannot be done while another program is at
// work, and what to do about that. It counts as ErrBusy.
type BusyError struct{ Problem, Hint string }

// Error returns the problem.
func (e *BusyError) Error() string { return e.Problem }

// Is tells errors.Is that it counts as ErrBusy.
func (e *BusyError) Is(target error) bool { return target == ErrBusy }
