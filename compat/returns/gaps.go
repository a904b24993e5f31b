package returns

import (
	"math"
	"slices"

	"fitfill/catalog"
)

// Gaps are whole calendar months of which the books tell nothing.
type Gaps struct {
	Sales   []catalog.Date // first days of months without a single sale
	Returns []catalog.Date // first days of months that returns should have reached
}

// MissingMonths finds the months between the first sale and the as-of day that
// look as if a sheet were missing: months without any sale or without any
// return, where so many are usual that chance alone leaves a month empty with
// probability at most chance (Poisson, exp(−rows a month)). Months that are not
// over on the as-of day are not judged, and returns only from the month of the
// first of them on.
func MissingMonths(b Books, chance float64) Gaps {
	if len(b.Sales) == 0 {
		return Gaps{}
	}
	var saleDays, returnDays []catalog.Date
	for _, s := range b.Sales {
		if s.Day <= b.AsOf {
			saleDays = append(saleDays, s.Day)
		}
	}
	for _, r := range b.Returns {
		if r.Day <= b.AsOf {
			returnDays = append(returnDays, r.Day)
		}
	}
	return Gaps{Sales: empty(saleDays, b.AsOf, chance), Returns: empty(returnDays, b.AsOf, chance)}
}

// empty returns the first days of the whole months without a day in them.
func empty(days []catalog.Date, asOf catalog.Date, chance float64) []catalog.Date {
	if len(days) == 0 {
		return nil
	}
	first := days[0]
	for _, d := range days {
		first = min(first, d)
	}
	starts := months(first, asOf)
	filled := map[catalog.Date]bool{}
	for _, d := range days {
		i, found := slices.BinarySearch(starts, d)
		if !found {
			i--
		}
		filled[starts[i]] = true
	}
	whole := starts[:len(starts)-1]
	if starts[len(starts)-1] != asOf+1 {
		whole = whole[:len(whole)-1]
	}
	if len(whole) == 0 || math.Exp(-float64(len(days))/float64(len(whole))) > chance {
		return nil
	}
	var out []catalog.Date
	for _, m := range whole {
		if !filled[m] {
			out = append(out, m)
		}
	}
	return out
}
