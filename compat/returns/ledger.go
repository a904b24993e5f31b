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
	Suppliers []string // by name
	PartTypes []string // by name
	Sales     []Fate   // in the order of Books.Sales
	Returns   []Fate   // in the order of Books.Returns
	Units     []Unit   // the headline: nothing unknown counts against anybody
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
	for i := range out {
		out[i].Event = out[i].Event || out[i].Unknown
	}
	return out
}

// ClaimedUnits returns the units as if every piece returned as faulty had been,
// whatever a test said of it.
func (l Ledger) ClaimedUnits() []Unit {
	out := slices.Clone(l.Units)
	for i := range out {
		out[i].Event = out[i].Event || out[i].Claimed
	}
	return out
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
	n := map[Code]int{}
	for _, f := range slices.Concat(l.Sales, l.Returns) {
		for _, c := range f.Codes {
			n[c]++
		}
	}
	out := make([]CodeCount, 0, len(n))
	for c, rows := range n {
		out = append(out, CodeCount{c, rows})
	}
	slices.SortFunc(out, func(a, b CodeCount) int {
		return cmp.Or(cmp.Compare(b.Rows, a.Rows), strings.Compare(string(a.Code), string(b.Code)))
	})
	return out
}
