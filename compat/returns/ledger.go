package returns

import (
	"cmp"
	"slices"
	"strings"

	"fitfill/catalog"
)

// Unclassified is the name of the part type of parts that have none.
const Unclassified = "unclassified"

// Ledger is what matching made of the books.
type Ledger struct {
	AsOf      catalog.Date
	Suppliers []string     // by name
	PartTypes []string     // by name
	Sales     []Fate       // in the order of Books.Sales
	Returns   []ReturnFate // in the order of Books.Returns
	Units     []Unit       // the headline: nothing unknown counts against anybody
	// Unplaced are pieces that came back for quality or unknown reasons and
	// found no sale; as units that failed on day 0 they join the upper bound.
	Unplaced []Unit
	Tallies  []Tally // by supplier, then part type
	// OldestShare is the share of matched pieces that only the oldest open sale
	// could be found for, 0..1.
	OldestShare float64
	// Warranty is the longest window of each supplier in days, −1 = no limit.
	Warranty []int
}

// UpperUnits returns the units of the upper bound: everything unknown and
// everything unmatched counts as a quality failure.
func (l Ledger) UpperUnits() []Unit {
	out := merged(l.Units, l.Unplaced)
	if len(l.Unplaced) == 0 {
		out = slices.Clone(out)
	}
	alsoFailed(out, func(u Unit) bool { return u.Unknown })
	return out
}

// ClaimedUnits returns the units as if every piece returned as faulty had been,
// whatever a test said of it.
func (l Ledger) ClaimedUnits() []Unit {
	out := slices.Clone(l.Units)
	alsoFailed(out, func(u Unit) bool { return u.Claimed })
	return out
}

// alsoFailed counts more units as failed and keeps them in their order, in which
// only units of one sale line can change places.
func alsoFailed(units []Unit, failed func(Unit) bool) {
	for i := range units {
		u := &units[i]
		if u.Event || !failed(*u) {
			continue
		}
		u.Event = true
		ofLine := func(v Unit) bool { return v.Supplier == u.Supplier && v.Sold == u.Sold && v.Line == u.Line }
		from, to := i, i+1
		for from > 0 && ofLine(units[from-1]) {
			from--
		}
		for to < len(units) && ofLine(units[to]) {
			to++
		}
		// Those after i may fail as well: the last of them puts the line in order.
		if line := units[from:to]; len(line) > 1 && !slices.ContainsFunc(units[i+1:to], func(v Unit) bool { return !v.Event && failed(v) }) {
			slices.SortFunc(line, compareUnits)
		}
	}
}

// Only returns the ledger of one part type: its units and tallies, all
// suppliers. An unknown part type leaves it empty.
func (l Ledger) Only(partType string) Ledger {
	g := slices.IndexFunc(l.PartTypes, func(n string) bool { return catalog.Fold(n) == catalog.Fold(partType) })
	keep := func(units []Unit) []Unit {
		return slices.DeleteFunc(slices.Clone(units), func(u Unit) bool { return u.PartType != g })
	}
	l.Units, l.Unplaced = keep(l.Units), keep(l.Unplaced)
	l.Tallies = slices.DeleteFunc(slices.Clone(l.Tallies), func(t Tally) bool { return t.PartType != g })
	return l
}

// Total returns the tally of a supplier over all its part types.
func (l Ledger) Total(supplier int) Tally {
	sum := Tally{Supplier: supplier, PartType: -1}
	for _, t := range l.Tallies {
		if t.Supplier == supplier {
			sum.add(t)
		}
	}
	return sum
}

// Exclusive returns the part types that only one supplier sold: they add
// nothing to the comparison.
func (l Ledger) Exclusive() []string {
	sellers := make([]int, len(l.PartTypes))
	for _, t := range l.Tallies {
		if t.Sold > 0 {
			sellers[t.PartType]++
		}
	}
	var out []string
	for g, n := range sellers {
		if n == 1 {
			out = append(out, l.PartTypes[g])
		}
	}
	return out
}

// CodeCount is how many rows carry a code.
type CodeCount struct {
	Code Code
	Rows int
}

// Counts returns how many rows carry each code that occurs, most first.
func (l Ledger) Counts() []CodeCount {
	var n [numCodes]int
	count := func(s Codes) {
		for _, c := range s.List() {
			n[c]++
		}
	}
	for i := range l.Sales {
		count(l.Sales[i].Codes)
	}
	for i := range l.Returns {
		count(l.Returns[i].Codes)
	}
	var out []CodeCount
	for c, rows := range n {
		if rows > 0 {
			out = append(out, CodeCount{Code(c), rows})
		}
	}
	slices.SortFunc(out, func(a, b CodeCount) int {
		return cmp.Or(cmp.Compare(b.Rows, a.Rows), strings.Compare(a.Code.String(), b.Code.String()))
	})
	return out
}
