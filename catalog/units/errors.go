package units

import (
	"errors"
	"strconv"
)

// ErrAmbiguous is wrapped by the error of every parse function whose text has
// two readings or more: ask, or state the unit of the column.
var ErrAmbiguous = errors.New("more than one reading")

// ErrUnreadable is wrapped by the error of every parse function whose text has
// no acceptable reading.
var ErrUnreadable = errors.New("no acceptable reading")

// ErrSplit is wrapped by the error of ParseModelYears when the text divides a
// model year by chassis or engine number or by "early" and "late": only the
// vehicle's own number settles which side a vehicle is on.
var ErrSplit = errors.New("divides a model year by the vehicle's number")

// ParseError says why a text was refused. It wraps ErrAmbiguous, ErrUnreadable
// or ErrSplit.
type ParseError struct {
	Quantity string // what was asked for: "temperature", "length", ...
	Text     string // the text as it was given
	Problem  string // what is wrong with it, to be read after the text
	Hint     string // what to do next

	kind error
}

// maxShown keeps an error about a runaway cell to one readable line.
const maxShown = 60

// Error returns one plain sentence: the text, the problem and what to do.
func (e *ParseError) Error() string {
	shown := e.Text
	if r := []rune(shown); len(r) > maxShown {
		shown = string(r[:maxShown]) + "…"
	}
	s := strconv.Quote(shown) + " " + e.Problem
	if e.Hint != "" {
		s += ": " + e.Hint
	}
	return s
}

// Unwrap returns the sentinel of the error.
func (e *ParseError) Unwrap() error { return e.kind }

func ambiguous(problem, hint string) *ParseError {
	return &ParseError{Problem: problem, Hint: hint, kind: ErrAmbiguous}
}

func unreadable(problem, hint string) *ParseError {
	return &ParseError{Problem: problem, Hint: hint, kind: ErrUnreadable}
}

// of completes an error with what was asked for and the text as given.
func (e *ParseError) of(quantity, text string) *ParseError {
	e.Quantity, e.Text = quantity, text
	return e
}
