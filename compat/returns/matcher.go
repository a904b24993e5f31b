package returns

import (
	"cmp"
	"slices"

	"fitfill/catalog"
)

// lot is one part of one supplier.
type lot struct {
	supplier int
	part     string
	lines    []int32      // its sales, as places in matcher.sales, by day and mark
	back     []returnLine // its returns, by day and mark
	partType int32        // the one that its sales state; as in saleLine
	from     catalog.Date // first day of a sale that counts
	sold     bool         // from is set
}

// saleLine is a sale on its way through matching. It holds no pointer: a million
// of them cost the garbage collector nothing.
type saleLine struct {
	milli    int64 // thousandths of a piece, after credit notes
	pieces   int
	open     int   // pieces that have not come back
	ref      int   // the caller's mark
	at       int32 // index into Books.Sales and Ledger.Sales
	lot      int32 // index into matcher.lots
	partType int32 // number of matcher.types, from screen on index into Ledger.PartTypes
	day      catalog.Date
	window   int32     // last day watched, −1 before it is known
	entry    int32     // as in Unit
	exits    int32     // the last of its exits in its shard, −1 = none
	named    [3]uint32 // what returns may name it by, as nameHash
	mark     Mark
	live     bool
	lined    bool // it names a line of a document
}

// exit is pieces of a sale that left the count early.
type exit struct {
	days, pieces int
	class        Class
	before       int32 // another exit of the sale, −1 = none
}

// returnLine is a return on its way through matching.
type returnLine struct {
	*Return
	fate     *ReturnFate
	at       int32 // index into Books.Returns
	lot      int32 // index into matcher.lots
	supplier int
	partType int32 // as in saleLine
	milli    int64
	pieces   int
	open     int // pieces that found no sale yet
	live     bool
	stray    bool // it names sales, but none of its own supplier and part
	credited bool // a credit note is its money side
}

// shard is one supplier's share of the work. What happens in it depends on
// nothing outside, so that shards can be done side by side and in any order.
type shard struct {
	supplier int
	sales    []saleLine // by day and mark
	first    int32      // place of the first of them in matcher.sales
	lots     []lot
	firstLot int32 // place of the first of them in matcher.lots
	exits    []exit
	tallies  []Tally // by part type
	warranty int     // longest window in days, −1 = no limit
	units    int     // how many it makes
	matched  int     // pieces back that found a sale
	oldest   int     // of these, those that only the oldest open sale was found for

	unclassified bool // no sale of a lot states its part type
}

// matcher works on rows that are in the order of supplier, day and mark, so that
// the order in which they were read changes nothing.
type matcher struct {
	books  Books
	set    Settings
	ledger Ledger
	sales  []saleLine // by supplier, day and mark
	lots   []lot      // by supplier
	back   []returnLine
	shards []shard // by supplier
	types  *typeNames
	index  []int32 // by number of types: place in Ledger.PartTypes
}

// Match turns rows into units under watch. Every row ends used, used with a
// flag or set aside, with codes that say why. Returns find their sale by sale
// id or document line, then by document or job, then by a stated day of
// purchase, then first in, first out among open sales of the same supplier and
// part dated at most set.DateTolerance days after the return. A link to a sale
// of another supplier or part is not followed: nobody is charged with a return
// that names somebody else.
func Match(b Books, set Settings) Ledger {
	m := &matcher{books: b, set: set}
	m.ledger = Ledger{AsOf: b.AsOf, Sales: make([]Fate, len(b.Sales)), Returns: make([]ReturnFate, len(b.Returns))}
	m.arrange()
	m.eachShard(m.gatherLots)
	m.settleTypes()
	m.eachShard(m.screen)
	m.findStray()
	m.eachShard(m.allocate)
	m.explainUnmatched()
	m.sumUp()
	m.buildUnits()
	return m.ledger
}

// eachShard does the suppliers, two at a time.
func (m *matcher) eachShard(do func(*shard)) {
	inPairs(len(m.shards), len(m.sales), func(i int) { do(&m.shards[i]) })
}

// screen decides which rows of a shard count, for how many pieces, and how long
// they are watched.
func (m *matcher) screen(sh *shard) {
	core := make([]bool, len(m.ledger.PartTypes))
	for g, name := range m.ledger.PartTypes {
		core[g] = isCore(name)
	}
	stated := m.statedWarranties(sh.supplier)
	sh.tallies = make([]Tally, len(m.ledger.PartTypes))
	for g := range sh.tallies {
		sh.tallies[g] = Tally{Supplier: sh.supplier, PartType: g}
	}
	for i := range sh.sales {
		sh.sales[i].partType = m.index[sh.sales[i].partType]
	}
	for i := range sh.lots {
		l := &sh.lots[i]
		m.screenLot(l.lines, core)
		measured := m.soldByMeasure(l)
		m.screenReturns(l.back, core)
		m.creditNotes(l)
		reversals(l.back)
		m.countPieces(sh, l, measured)
		m.openWindows(sh, l, stated)
	}
	if !slices.ContainsFunc(sh.lots, func(l lot) bool { return l.sold }) {
		sh.warranty = -1 // nothing was bought that could be taken back for some days only
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

// soldByMeasure reports whether more than half of the sales of a part are no
// whole numbers. A single odd quantity is a slip or half a carton, and does not
// turn the pieces of all other lines into lines.
func (m *matcher) soldByMeasure(l *lot) bool {
	odd := 0
	for _, i := range l.lines {
		if m.sales[i].milli%1000 != 0 {
			odd++
		}
	}
	return 2*odd > len(l.lines)
}

// countPieces settles how many pieces each live row stands for.
func (m *matcher) countPieces(sh *shard, l *lot, measured bool) {
	for _, i := range l.lines {
		s := &m.sales[i]
		if s.live {
			s.pieces = pieces(s.milli, measured)
			s.open = s.pieces
			if measured || s.milli%1000 != 0 {
				s.mark.flag(FractionalQuantity)
			}
		}
	}
	for i := range l.back {
		r := &l.back[i]
		r.pieces = pieces(r.milli, measured)
		if r.live {
			r.open = r.pieces
			if measured || r.milli%1000 != 0 {
				r.fate.flag(FractionalQuantity)
			}
		}
		if r.fate.Has(CoreLine) {
			sh.tallies[r.partType].Core += max(0, r.pieces)
		}
	}
}

// sumUp gathers what the shards counted and writes down what became of every
// sale.
func (m *matcher) sumUp() {
	matched, oldest := 0, 0
	for i := range m.shards {
		sh := &m.shards[i]
		m.ledger.Warranty = append(m.ledger.Warranty, sh.warranty)
		matched += sh.matched
		oldest += sh.oldest
	}
	if matched > 0 {
		m.ledger.OldestShare = float64(oldest) / float64(matched)
	}
	m.eachShard(func(sh *shard) {
		for i := range sh.sales {
			s := &sh.sales[i]
			m.ledger.Sales[s.at] = Fate{Ref: s.ref, Supplier: int32(sh.supplier), PartType: s.partType, Mark: s.mark}
		}
	})
}

// byDay orders sales by day, then mark.
func byDay(a, b saleLine) int { return cmp.Or(cmp.Compare(a.day, b.day), cmp.Compare(a.ref, b.ref)) }

// inOrder puts sales in the order of day and mark, if they are not.
func inOrder(sales []saleLine) {
	if !slices.IsSortedFunc(sales, byDay) {
		slices.SortStableFunc(sales, byDay)
	}
}
