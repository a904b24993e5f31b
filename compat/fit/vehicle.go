package fit

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// Half is a half of a model year: lists split a year with "2004.5".
type Half uint8

// The halves; the zero Half is not known.
const (
	FirstHalf  Half = 1
	SecondHalf Half = 2
)

// of returns the stretch of a model year that a half is.
func (h Half) of(year int) units.YearRange {
	r := units.Year(year)
	if h == FirstHalf {
		return units.YearRange{From: r.From, To: r.From + 1}
	}
	return units.YearRange{From: r.From + 1, To: r.To}
}

// Month is a month of build, counted as 12·year + (month−1); the zero Month is
// not known. A build month is never compared with a model year.
type Month int32

// String returns YYYY-MM.
func (m Month) String() string { return fmt.Sprintf("%04d-%02d", int(m)/12, int(m)%12+1) }

// year returns the calendar year of the month.
func (m Month) year() int { return int(m) / 12 }

// size returns the displacement of the vehicle's engine in litres to one
// decimal, as badges and notes print it.
func (t trial) size() (litres string, known bool) {
	d := t.q.Engine.Displacement
	if !d.Known {
		d = t.q.Displacement
	}
	return fmt.Sprintf("%.1f", d.Value.Litres()), d.Known
}

// told reports whether the answers given say that the vehicle has, or has not,
// what the tokens name.
func (t trial) told(tokens []string) (has, known bool) {
	for _, w := range t.q.Without {
		if named := t.phrase(w); len(named) > 0 && within(tokens, named) {
			return false, true
		}
	}
	var have []string
	for _, w := range t.q.With {
		have = append(have, t.phrase(w)...)
	}
	for _, w := range tokens {
		if !slices.Contains(have, w) {
			return false, false
		}
	}
	return true, len(tokens) > 0
}

func (t trial) phrase(text string) []string { return strings.Fields(catalog.Fold(text)) }

// within reports whether the words of phrase stand in tokens, in one piece.
func within(tokens, phrase []string) bool {
	for i := 0; i+len(phrase) <= len(tokens); i++ {
		if slices.Equal(tokens[i:i+len(phrase)], phrase) {
			return true
		}
	}
	return false
}
