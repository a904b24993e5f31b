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

// compareUnits orders units by supplier, then day of sale and sale line, so that
// the pieces of one line and of one supplier stand together.
func compareUnits(a, b Unit) int {
	// Almost all differ in the first three: the rest is not looked at before.
	switch {
	case a.Supplier != b.Supplier:
		return cmp.Compare(a.Supplier, b.Supplier)
	case a.Sold != b.Sold:
		return cmp.Compare(a.Sold, b.Sold)
	case a.Line != b.Line:
		return cmp.Compare(a.Line, b.Line)
	}
	return cmp.Or(cmp.Compare(a.PartType, b.PartType),
		cmp.Compare(a.Entry, b.Entry), cmp.Compare(a.Exit, b.Exit), compareBool(a.Event, b.Event),
		compareBool(a.Unknown, b.Unknown), compareBool(a.Claimed, b.Claimed), cmp.Compare(a.Weight, b.Weight))
}

// sorted returns the units in an order that depends on the content only, so
// that sums of floats come out alike whatever order the rows were read in. Units
// that are in order already are returned as they are: the caller must not change
// them.
func sorted(units []Unit) []Unit {
	if slices.IsSortedFunc(units, compareUnits) {
		return units
	}
	out := slices.Clone(units)
	slices.SortFunc(out, compareUnits)
	return out
}

// merged joins two lists in order to one in order.
func merged(a, b []Unit) []Unit {
	if len(b) == 0 {
		return a
	}
	out := make([]Unit, 0, len(a)+len(b))
	for i := range b { // b is short beside a
		n := sort.Search(len(a), func(k int) bool { return compareUnits(a[k], b[i]) > 0 })
		out, a = append(append(out, a[:n]...), b[i]), a[n:]
	}
	return append(out, a...)
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

// bySupplier cuts units that stand in order into those of supplier 0 …
// suppliers − 1.
func bySupplier(units []Unit, suppliers int) [][]Unit {
	out := make([][]Unit, suppliers)
	for from := 0; from < len(units); {
		s := units[from].Supplier
		to := from + sort.Search(len(units)-from, func(i int) bool { return units[from+i].Supplier > s })
		out[s] = units[from:to]
		from = to
	}
	return out
}

// seen reports whether the unit was watched on any day at all.
func (u *Unit) seen() bool { return u.Exit > u.Entry && u.Weight > 0 }

// calendar finds days in a rising list of days without a search.
type calendar struct {
	days []int
	from []int32 // by day: how many days of the list lie before it
}

// newCalendar collects the days on which a watched unit leaves, rising and
// without repeats; with events only, those on which one fails; days after last
// are left out.
func newCalendar(units []Unit, eventsOnly bool, last int) calendar {
	top := -1
	var left []bool
	for i := range units {
		u := &units[i]
		if u.seen() && (u.Event || !eventsOnly) && u.Exit <= last {
			if u.Exit >= len(left) {
				left = append(left, make([]bool, u.Exit+1-len(left))...)
			}
			left[u.Exit], top = true, max(top, u.Exit)
		}
	}
	var c calendar
	left = left[:top+1]
	c.from = make([]int32, top+2)
	for day, yes := range left {
		c.from[day] = int32(len(c.days))
		if yes {
			c.days = append(c.days, day)
		}
	}
	c.from[top+1] = int32(len(c.days))
	return c
}

// upTo returns the calendar without the days after last, which is one of its days.
func (c calendar) upTo(last int) calendar {
	n := c.before(last + 1)
	return calendar{c.days[:n], c.from[:last+2]}
}

// before returns how many days of the list lie before day.
func (c calendar) before(day int) int {
	switch {
	case day <= 0:
		return 0
	case day >= len(c.from):
		return len(c.days)
	}
	return int(c.from[day])
}

// span returns the part from:to of the days on which u was at risk.
func (c calendar) span(u *Unit) (from, to int) { return c.before(u.Entry + 1), c.before(u.Exit + 1) }

// StillWatched returns the pieces that were under watch past day: at risk on
// it, and not failed by its end.
func StillWatched(units []Unit, day int) float64 {
	var n float64
	for i := range units {
		if u := &units[i]; u.seen() && u.Entry < day && u.Exit >= day && !(u.Event && u.Exit == day) {
			n += u.Weight
		}
	}
	return n
}
