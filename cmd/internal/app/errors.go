package app

// UsageError is a question that cannot be answered as it was put. Hint is the
// second line: what to do, with the corrected command where there is one.
type UsageError struct{ Problem, Hint string }

// Error returns the problem.
func (e *UsageError) Error() string { return e.Problem }
