package returns

import (
	"cmp"
	"math"
	"slices"

	"fitfill/catalog"
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
	lotID    int // index into matcher.byLot
	lot      *lot
	partType int
	milli    int64 // thousandths of a piece, after credit notes
	pieces   int
	open     int // pieces that have not come back
	window   int // last day watched, −1 before it is known
	entry    int
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
	lotID    int
	lot      *lot
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
	byLot   [][]*saleLine // by lotID
	exits   map[*saleLine][]exit
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
	m := &matcher{books: b, set: set, sales: make([]*saleLine, len(b.Sales)), returns: make([]*returnLine, len(b.Returns)), exits: map[*saleLine][]exit{}}
	m.ledger = Ledger{AsOf: b.AsOf, Sales: make([]Fate, len(b.Sales)), Returns: make([]Fate, len(b.Returns))}
	sales, back := make([]saleLine, len(b.Sales)), make([]returnLine, len(b.Returns))
	for i := range b.Sales {
		s := &b.Sales[i]
		m.ledger.Sales[i] = Fate{Ref: s.Ref, Status: Used}
		sales[i] = saleLine{Sale: s, fate: &m.ledger.Sales[i], at: i, milli: s.Quantity.Thousandths(), live: true, entry: -1}
		m.sales[i] = &sales[i]
	}
	for i := range b.Returns {
		r := &b.Returns[i]
		m.ledger.Returns[i] = Fate{Ref: r.Ref, Status: Used}
		back[i] = returnLine{Return: r, fate: &m.ledger.Returns[i], milli: r.Quantity.Thousandths(), live: true}
		m.returns[i] = &back[i]
	}
	byDay(m.sales, func(s *saleLine) (catalog.Date, int) { return s.Day, s.Ref })
	byDay(m.returns, func(r *returnLine) (catalog.Date, int) { return r.Day, r.Ref })
	m.groupByLot(m.fold())
	return m
}

// byDay sorts rows by day, then mark, without comparing rows of different days:
// days are few beside the rows.
func byDay[R any](rows []R, key func(R) (catalog.Date, int)) {
	if len(rows) == 0 {
		return
	}
	first, last := catalog.Date(math.MaxInt32), catalog.Date(math.MinInt32)
	for _, r := range rows {
		d, _ := key(r)
		first, last = min(first, d), max(last, d)
	}
	within := func(a, b R) int {
		dayA, refA := key(a)
		dayB, refB := key(b)
		return cmp.Or(cmp.Compare(dayA, dayB), cmp.Compare(refA, refB))
	}
	if int64(last)-int64(first) > int64(4*len(rows))+1000 {
		slices.SortStableFunc(rows, within)
		return
	}
	start := make([]int, int(last-first)+2)
	for _, r := range rows {
		d, _ := key(r)
		start[d-first+1]++
	}
	for i := 1; i < len(start); i++ {
		start[i] += start[i-1]
	}
	out, next := make([]R, len(rows)), slices.Clone(start)
	for _, r := range rows {
		d, _ := key(r)
		out[next[d-first]] = r
		next[d-first]++
	}
	for i := 1; i < len(start); i++ {
		if day := out[start[i-1]:start[i]]; !slices.IsSortedFunc(day, within) {
			slices.SortStableFunc(day, within)
		}
	}
	copy(rows, out)
}

// groupByLot lists the sales of every lot in their order.
func (m *matcher) groupByLot(lots int) {
	count := make([]int, lots)
	for _, s := range m.sales {
		count[s.lotID]++
	}
	all := make([]*saleLine, len(m.sales))
	m.byLot = make([][]*saleLine, lots)
	from := 0
	for id, n := range count {
		m.byLot[id] = all[from : from : from+n]
		from += n
	}
	for _, s := range m.sales {
		m.byLot[s.lotID] = append(m.byLot[s.lotID], s)
	}
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
func (m *matcher) soldByMeasure() []bool {
	out := make([]bool, len(m.byLot))
	for id, lines := range m.byLot {
		odd := 0
		for _, s := range lines {
			if s.Quantity.Thousandths()%1000 != 0 {
				odd++
			}
		}
		out[id] = 2*odd > len(lines)
	}
	return out
}

// countPieces settles how many pieces each live row stands for.
func (m *matcher) countPieces() {
	measured := m.soldByMeasure()
	for _, s := range m.sales {
		if s.live {
			s.pieces = pieces(s.milli, measured[s.lotID])
			s.open = s.pieces
			if measured[s.lotID] || s.milli%1000 != 0 {
				s.fate.flag(FractionalQuantity)
			}
		}
	}
	for _, r := range m.returns {
		r.pieces = pieces(r.milli, measured[r.lotID])
		if r.live {
			r.open = r.pieces
			if measured[r.lotID] || r.milli%1000 != 0 {
				r.fate.flag(FractionalQuantity)
			}
		}
		if r.fate.Has(CoreLine) {
			m.tallies[r.lot.supplier][r.partType].Core += max(0, r.pieces)
		}
	}
}
