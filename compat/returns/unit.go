package returns

import (
	"cmp"
	"slices"
	"sort"

	"fitfill/catalog"
)

// Unit is one or more sold pieces that were watched over the same days. It is
// at risk on the days t with Entry < t ≤ Exit, counted from the day of sale;
// Entry is −1 for a piece that was watched from the start, so that a return on
// day 0 counts.
type Unit struct {
	Supplier int // index into the list of suppliers
	PartType int // index into the list of part types
	Entry    int
	Exit     int
	Event    bool    // came back as a quality failure on day Exit
	Unknown  bool    // came back on day Exit and nobody wrote down why
	Claimed  bool    // came back as faulty on day Exit and was found sound
	Weight   float64 // pieces, whole unless scaled
	Line     int     // sale line the pieces were sold on: they may fail together
	Sold     catalog.Date
}

// sorted returns a copy in an order that depends on the content only, so that
// sums of floats come out alike whatever order the rows were read in.
func sorted(units []Unit) []Unit {
	out := slices.Clone(units)
	slices.SortFunc(out, func(a, b Unit) int {
		return cmp.Or(
			cmp.Compare(a.Supplier, b.Supplier), cmp.Compare(a.PartType, b.PartType), cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Entry, b.Entry), cmp.Compare(a.Exit, b.Exit), compareBool(a.Event, b.Event),
			compareBool(a.Unknown, b.Unknown), compareBool(a.Claimed, b.Claimed), cmp.Compare(a.Weight, b.Weight))
	})
	return out
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// bySupplier splits units into those of supplier 0 … suppliers − 1.
func bySupplier(units []Unit, suppliers int) [][]Unit {
	out := make([][]Unit, suppliers)
	for _, u := range units {
		out[u.Supplier] = append(out[u.Supplier], u)
	}
	return out
}

// seen reports whether the unit was watched on any day at all.
func (u Unit) seen() bool { return u.Exit > u.Entry && u.Weight > 0 }

// span returns the part from:to of the rising days on which u was at risk.
func (u Unit) span(days []int) (from, to int) {
	return sort.SearchInts(days, u.Entry+1), sort.SearchInts(days, u.Exit+1)
}

// exitDays returns the days on which a watched unit leaves, rising and without
// repeats; with events only, those on which one fails.
func exitDays(units []Unit, eventsOnly bool) []int {
	var days []int
	for _, u := range units {
		if u.seen() && (u.Event || !eventsOnly) {
			days = append(days, u.Exit)
		}
	}
	slices.Sort(days)
	return slices.Compact(days)
}

// StillWatched returns the pieces that were under watch past day: at risk on
// it, and not failed by its end.
func StillWatched(units []Unit, day int) float64 {
	var n float64
	for _, u := range units {
		if u.seen() && u.Entry < day && u.Exit >= day && !(u.Event && u.Exit == day) {
			n += u.Weight
		}
	}
	return n
}

// sortedByLine returns a copy in which the pieces of one sale line stand
// together.
func sortedByLine(units []Unit) []Unit {
	out := sorted(units)
	slices.SortStableFunc(out, func(a, b Unit) int { return cmp.Compare(a.Line, b.Line) })
	return out
}
