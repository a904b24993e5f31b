package returns

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fitfill/catalog"
)

// Thresholds is the table of alarm thresholds of the cusum by failures expected
// a month.
type Thresholds struct{ expected, threshold []float64 }

// NewThresholds reads the table. A number that is missing or not above zero, or
// one expectation twice, is an error that names the line.
func NewThresholds(rows []catalog.RefRow) (Thresholds, error) {
	var t Thresholds
	rows = slices.Clone(rows)
	var first error
	read := func(r catalog.RefRow, column string) float64 {
		v, err := r.Float(column)
		if err == nil && !(v > 0) {
			err = fmt.Errorf("table %s, line %d: %s must be above zero", r.Table, r.Line, column)
		}
		if first == nil {
			first = err
		}
		return v
	}
	slices.SortStableFunc(rows, func(a, b catalog.RefRow) int {
		return cmp.Compare(read(a, "expected_a_month"), read(b, "expected_a_month"))
	})
	for i, r := range rows {
		e, h := read(r, "expected_a_month"), read(r, "threshold")
		if first == nil && i > 0 && e == t.expected[i-1] {
			first = fmt.Errorf("table %s, line %d: %g a month stands there twice", r.Table, r.Line, e)
		}
		t.expected, t.threshold = append(t.expected, e), append(t.threshold, h)
	}
	if first == nil && len(rows) == 0 {
		first = fmt.Errorf("the table of cusum thresholds is empty")
	}
	return t, first
}

// At returns the threshold for that many failures expected a month,
// interpolated in its logarithm; outside the table the nearest end counts.
func (t Thresholds) At(expected float64) float64 {
	i, found := slices.BinarySearch(t.expected, expected)
	switch {
	case found || i == 0:
		return t.threshold[i]
	case i == len(t.expected):
		return t.threshold[i-1]
	}
	share := math.Log(expected/t.expected[i-1]) / math.Log(t.expected[i]/t.expected[i-1])
	return t.threshold[i-1] + share*(t.threshold[i]-t.threshold[i-1])
}

// doubled is the rise of the rate that the cusum looks for.
const doubled = 2

// Cusum returns S_m = max(0, S_{m−1} + O_m·ln R − (R − 1)·r·E_m) for every month
// with R = 2, a doubled rate, and r the rate that is usual; it starts again at 0
// in the month after one above the alarm. An infinite alarm never does. Source:
// "Counted data cusums", Technometrics 1985 (from memory).
func Cusum(list []Month, usual, alarm float64) []float64 {
	out := make([]float64, len(list))
	s := 0.0
	for i, m := range list {
		s = max(0, s+m.Observed*math.Log(doubled)-(doubled-1)*usual*m.Expected)
		out[i] = s
		if s > alarm {
			s = 0
		}
	}
	return out
}
