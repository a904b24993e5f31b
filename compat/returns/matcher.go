package returns

import (
	"cmp"
	"slices"
)

// lot is one part of one supplier.
type lot struct {
	supplier int
	part     string
}

// saleLine is a sale on its way through matching.
type saleLine struct {
	*Sale
	fate     *Fate
	at       int // index into Books.Sales
	lot      lot
	partType int
	milli    int64 // thousandths of a piece, after credit notes
	pieces   int
	open     int // pieces that have not come back
	window   int // last day watched, −1 before it is known
	entry    int
	exits    []exit
	live     bool
}

// exit is pieces of a sale that left the count early.
type exit struct {
	days, pieces int
	class        Class
}

// returnLine is a return on its way through matching.
type returnLine struct {
	*Return
	fate     *Fate
	lot      lot
	partType int
	milli    int64
	pieces   int
	open     int // pieces that found no sale yet
	live     bool
	credited bool // a credit note is its money side
}

// matcher works on the rows in the order of day and mark, so that the order in
// which they were read changes nothing.
type matcher struct {
	books   Books
	set     Settings
	ledger  Ledger
	sales   []*saleLine
	returns []*returnLine
	byLot   map[lot][]*saleLine
	tallies [][]Tally // by supplier and part type
}

// Match turns rows into units under watch. Every row ends used, used with a
// flag or set aside, with codes that say why. Returns find their sale by sale
// id or document line, then by document or job, then by a stated day of
// purchase, then first in, first out among open sales of the same supplier and
// part dated at most set.DateTolerance days after the return. A link to a sale
// of another supplier or part is not followed: nobody is charged with a return
// that names somebody else.
func Match(b Books, set Settings) Ledger {
	m := newMatcher(b, set)
	m.screenSales()
	m.screenReturns()
	m.creditNotes()
	m.reversals()
	m.countPieces()
	m.openWindows()
	m.allocate()
	m.explainUnmatched()
	m.buildUnits()
	return m.ledger
}

func newMatcher(b Books, set Settings) *matcher {
	m := &matcher{books: b, set: set, byLot: map[lot][]*saleLine{}}
	m.ledger = Ledger{AsOf: b.AsOf, Sales: make([]Fate, len(b.Sales)), Returns: make([]Fate, len(b.Returns))}
	for i := range b.Sales {
		s := &b.Sales[i]
		m.ledger.Sales[i] = Fate{Ref: s.Ref, Status: Used}
		m.sales = append(m.sales, &saleLine{Sale: s, fate: &m.ledger.Sales[i], at: i, milli: s.Quantity.Thousandths(), live: true, entry: -1})
	}
	for i := range b.Returns {
		r := &b.Returns[i]
		m.ledger.Returns[i] = Fate{Ref: r.Ref, Status: Used}
		m.returns = append(m.returns, &returnLine{Return: r, fate: &m.ledger.Returns[i], milli: r.Quantity.Thousandths(), live: true})
	}
	slices.SortStableFunc(m.sales, func(a, b *saleLine) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Ref, b.Ref))
	})
	slices.SortStableFunc(m.returns, func(a, b *returnLine) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Ref, b.Ref))
	})
	m.fold()
	for _, s := range m.sales {
		m.byLot[s.lot] = append(m.byLot[s.lot], s)
	}
	return m
}

// pieces turns thousandths into whole pieces; a part sold by measure counts one
// piece a line, and so does a line that is no whole number.
func pieces(milli int64, measured bool) int {
	if (measured || milli%1000 != 0) && milli > 0 {
		return 1
	}
	return int(milli / 1000)
}

// soldByMeasure finds the parts of whose sales more than half are no whole
// numbers. A single odd quantity is a slip or half a carton, and does not turn
// the pieces of all other lines into lines.
func (m *matcher) soldByMeasure() map[lot]bool {
	lines, odd := map[lot]int{}, map[lot]int{}
	for _, s := range m.sales {
		lines[s.lot]++
		if s.Quantity.Thousandths()%1000 != 0 {
			odd[s.lot]++
		}
	}
	out := map[lot]bool{}
	for l, n := range odd {
		out[l] = 2*n > lines[l]
	}
	return out
}

// countPieces settles how many pieces each live row stands for.
func (m *matcher) countPieces() {
	measured := m.soldByMeasure()
	for _, s := range m.sales {
		if s.live {
			s.pieces = pieces(s.milli, measured[s.lot])
			s.open = s.pieces
			if measured[s.lot] || s.milli%1000 != 0 {
				s.fate.flag(FractionalQuantity)
			}
		}
	}
	for _, r := range m.returns {
		r.pieces = pieces(r.milli, measured[r.lot])
		if r.live {
			r.open = r.pieces
			if measured[r.lot] || r.milli%1000 != 0 {
				r.fate.flag(FractionalQuantity)
			}
		}
		if r.fate.Has(CoreLine) {
			m.tallies[r.lot.supplier][r.partType].Core += max(0, r.pieces)
		}
	}
}
