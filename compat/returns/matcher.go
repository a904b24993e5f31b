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

// saleLine is a sale on its way through matching. It holds no pointer: a million
// of them cost the garbage collector nothing.
type saleLine struct {
	milli    int64 // thousandths of a piece, after credit notes
	pieces   int
	open     int   // pieces that have not come back
	window   int   // last day watched, −1 before it is known
	entry    int   // as in Unit
	at       int32 // index into Books.Sales and Ledger.Sales
	lot      int32 // index into matcher.lots
	partType int32
	day      catalog.Date
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
	fate     *ReturnFate
	at       int32 // index into Books.Returns
	lot      int32 // index into matcher.lots
	supplier int
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
	sales   []saleLine
	returns []*returnLine
	lots    []lot
	byLot   [][]int32        // by lot: its sales, as indexes into sales
	exits   map[int32][]exit // by index into sales
	tallies [][]Tally        // by supplier and part type
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
	m := &matcher{books: b, set: set, sales: make([]saleLine, len(b.Sales)), returns: make([]*returnLine, len(b.Returns)), exits: map[int32][]exit{}}
	m.ledger = Ledger{AsOf: b.AsOf, Sales: make([]Fate, len(b.Sales)), Returns: make([]ReturnFate, len(b.Returns))}
	inOrder := byDay(len(b.Sales), func(i int32) (catalog.Date, int) { return b.Sales[i].Day, b.Sales[i].Ref })
	for i, at := range inOrder {
		s := &b.Sales[at]
		m.ledger.Sales[at].Ref = s.Ref
		m.sales[i] = saleLine{at: at, day: s.Day, milli: s.Quantity.Thousandths(), live: true, entry: -1}
	}
	back := make([]returnLine, len(b.Returns))
	for i, at := range byDay(len(b.Returns), func(i int32) (catalog.Date, int) { return b.Returns[i].Day, b.Returns[i].Ref }) {
		r := &b.Returns[at]
		m.ledger.Returns[at].Ref = r.Ref
		back[i] = returnLine{Return: r, at: at, fate: &m.ledger.Returns[at], milli: r.Quantity.Thousandths(), live: true}
		m.returns[i] = &back[i]
	}
	m.fold()
	m.groupByLot()
	return m
}

// sale returns the row of a sale as it was read, and fate what becomes of it.
func (m *matcher) sale(s *saleLine) *Sale { return &m.books.Sales[s.at] }
func (m *matcher) fate(s *saleLine) *Fate { return &m.ledger.Sales[s.at] }

// byDay returns the numbers 0 … n − 1 of rows in the order of day, then mark,
// without comparing rows of different days: days are few beside the rows.
func byDay(n int, key func(int32) (catalog.Date, int)) []int32 {
	order := make([]int32, n)
	first, last := catalog.Date(math.MaxInt32), catalog.Date(math.MinInt32)
	inOrder := true
	var dayBefore catalog.Date
	var refBefore int
	for i := range order {
		order[i] = int32(i)
		d, ref := key(int32(i))
		first, last = min(first, d), max(last, d)
		inOrder = inOrder && (i == 0 || dayBefore < d || dayBefore == d && refBefore <= ref)
		dayBefore, refBefore = d, ref
	}
	if inOrder {
		return order
	}
	within := func(a, b int32) int {
		dayA, refA := key(a)
		dayB, refB := key(b)
		return cmp.Or(cmp.Compare(dayA, dayB), cmp.Compare(refA, refB))
	}
	if int64(last)-int64(first) > int64(4*n)+1000 {
		slices.SortStableFunc(order, within)
		return order
	}
	start := make([]int, int(last-first)+2)
	days := make([]int32, n)
	for i := range order {
		d, _ := key(int32(i))
		days[i] = int32(d - first)
		start[days[i]+1]++
	}
	for i := 1; i < len(start); i++ {
		start[i] += start[i-1]
	}
	next := slices.Clone(start)
	for i, d := range days {
		order[next[d]] = int32(i)
		next[d]++
	}
	for i := 1; i < len(start); i++ {
		if day := order[start[i-1]:start[i]]; !slices.IsSortedFunc(day, within) {
			slices.SortStableFunc(day, within)
		}
	}
	return order
}

// groupByLot lists the sales of every lot in their order.
func (m *matcher) groupByLot() {
	count := make([]int, len(m.lots))
	for i := range m.sales {
		count[m.sales[i].lot]++
	}
	all := make([]int32, len(m.sales))
	m.byLot = make([][]int32, len(m.lots))
	from := 0
	for id, n := range count {
		m.byLot[id] = all[from : from : from+n]
		from += n
	}
	for i := range m.sales {
		id := m.sales[i].lot
		m.byLot[id] = append(m.byLot[id], int32(i))
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
	out, odd := make([]bool, len(m.lots)), make([]int, len(m.lots))
	for i := range m.sales {
		s := &m.sales[i]
		if m.sale(s).Quantity.Thousandths()%1000 != 0 {
			odd[s.lot]++
		}
	}
	for id, lines := range m.byLot {
		out[id] = 2*odd[id] > len(lines)
	}
	return out
}

// countPieces settles how many pieces each live row stands for.
func (m *matcher) countPieces() {
	measured := m.soldByMeasure()
	for i := range m.sales {
		s := &m.sales[i]
		if s.live {
			s.pieces = pieces(s.milli, measured[s.lot])
			s.open = s.pieces
			if measured[s.lot] || s.milli%1000 != 0 {
				m.fate(s).flag(FractionalQuantity)
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
			m.tallies[r.supplier][r.partType].Core += max(0, r.pieces)
		}
	}
}
