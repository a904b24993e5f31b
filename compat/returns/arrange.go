package returns

import (
	"cmp"
	"math"
	"slices"

	"fitfill/catalog"
)

// arrange reads the rows once, finds out which spellings mean the same, and puts
// the rows in order: sales by supplier, day and mark, returns by lot, day and
// mark. The part types are numbered, but not named yet.
func (m *matcher) arrange() {
	sales, back := make([]seen, len(m.books.Sales)), make([]seen, len(m.books.Returns))
	spellers := [2]*speller{newSpeller(), newSpeller()}
	half := inHalves(len(sales), func(worker, from, to int) {
		for i := from; i < to; i++ {
			s := &m.books.Sales[i]
			sales[i] = spellers[worker].see(s.Supplier, s.Part, s.PartType)
		}
	})
	w := spellers[0]
	w.take(spellers[1], sales[half:])
	for i := range back {
		r := &m.books.Returns[i]
		back[i] = w.see(r.Supplier, r.Part, "")
	}
	m.nameLots(w)
	var ids []int32
	m.types, ids = newTypeNames(w.types)
	m.placeSales(w, sales, ids)
	m.placeReturns(w, back)
}

// placeSales writes each sale to its place in the order of supplier and day.
// Days are few beside the rows, so the places are counted and not searched for.
func (m *matcher) placeSales(w *speller, rows []seen, types []int32) {
	books := m.books.Sales
	first, last := catalog.Date(math.MaxInt32), catalog.Date(math.MinInt32)
	for i := range books {
		first, last = min(first, books[i].Day), max(last, books[i].Day)
	}
	days := int64(last) - int64(first) + 1
	if len(books) == 0 || days*int64(len(m.ledger.Suppliers)) > int64(4*len(books))+100_000 {
		first, days = 0, 1 // dates far apart: the order of days is left to inOrder
	}
	// What is asked of every row lies close together.
	type home struct {
		lot, supplier int32
		unlike        bool
	}
	homes := make([]home, len(w.list))
	for i := range homes {
		p := &w.list[i]
		homes[i] = home{p.lot, int32(m.lots[p.lot].supplier), p.unlike}
	}
	place := func(i int) int64 {
		supplier := int64(homes[rows[i].spelling].supplier)
		if days == 1 {
			return supplier
		}
		return supplier*days + int64(books[i].Day-first)
	}
	var next [2][]int32 // by worker, then place
	half := inHalves(len(books), func(worker, from, to int) {
		count := make([]int32, days*int64(len(m.ledger.Suppliers)))
		for i := from; i < to; i++ {
			count[place(i)]++
		}
		next[worker] = count
	})
	if half == len(books) {
		next[1] = make([]int32, len(next[0]))
	}
	m.shards = make([]shard, len(m.ledger.Suppliers))
	var at int32
	for p := range next[0] {
		if int64(p)%days == 0 {
			m.shards[int64(p)/days].first = at
		}
		next[0][p], at = at, at+next[0][p]
		next[1][p], at = at, at+next[1][p]
	}
	m.sales = make([]saleLine, len(books))
	kinds := m.kindsNamed()
	inHalves(len(books), func(worker, from, to int) {
		for i := from; i < to; i++ {
			s, p := &books[i], place(i)
			at := next[worker][p]
			next[worker][p]++
			spelled := homes[rows[i].spelling]
			line := saleLine{at: int32(i), lot: spelled.lot, partType: types[rows[i].partType], day: s.Day, ref: s.Ref, milli: s.Quantity.Thousandths(),
				live: true, window: -1, entry: -1, exits: -1, lined: s.Document != "" && s.DocumentLine != ""}
			for k, by := range names(s.Document, s.Job, s.ID) {
				if kinds[k] {
					line.named[k] = nameHash(by)
				}
			}
			if spelled.unlike {
				line.mark.flag(KeyFolded)
			}
			m.sales[at] = line
		}
	})
	m.cutShards()
}

// cutShards gives every supplier its sales and its lots, both of which stand
// together.
func (m *matcher) cutShards() {
	lots := m.lots
	for i := range m.shards {
		sh := &m.shards[i]
		sh.supplier = i
		to := int32(len(m.sales))
		if i+1 < len(m.shards) {
			to = m.shards[i+1].first
		}
		sh.sales = m.sales[sh.first:to]
		n := 0
		for n < len(lots) && lots[n].supplier == i {
			n++
		}
		sh.firstLot = int32(len(m.lots) - len(lots))
		sh.lots, lots = lots[:n], lots[n:]
	}
	m.eachShard(func(sh *shard) { inOrder(sh.sales) })
}

// placeReturns gives every lot its returns in the order of day and mark.
func (m *matcher) placeReturns(w *speller, rows []seen) {
	next := make([]int, len(m.lots)+1)
	for i := range rows {
		next[w.list[rows[i].spelling].lot+1]++
	}
	for i := 1; i < len(next); i++ {
		next[i] += next[i-1]
	}
	m.back = make([]returnLine, len(rows))
	for i := range rows {
		r, spelled := &m.books.Returns[i], &w.list[rows[i].spelling]
		fate := &m.ledger.Returns[i]
		fate.Ref = r.Ref
		line := &m.back[next[spelled.lot]]
		next[spelled.lot]++
		*line = returnLine{Return: r, at: int32(i), fate: fate, lot: spelled.lot, supplier: m.lots[spelled.lot].supplier,
			milli: r.Quantity.Thousandths(), live: true}
		if spelled.unlike {
			fate.flag(KeyFolded)
		}
	}
	from := 0
	for i := range m.lots {
		l := &m.lots[i]
		l.back = m.back[from:next[i]:next[i]]
		from = next[i]
		slices.SortStableFunc(l.back, func(a, b returnLine) int {
			return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Ref, b.Ref))
		})
	}
}

// gatherLots lists the sales of every lot of a shard in their order, and gives
// those that state no part type the one that another of the lot states.
func (m *matcher) gatherLots(sh *shard) {
	next := make([]int32, len(sh.lots)+1)
	for i := range sh.sales {
		next[sh.sales[i].lot-sh.firstLot+1]++
	}
	for i := 1; i < len(next); i++ {
		next[i] += next[i-1]
	}
	all := make([]int32, len(sh.sales))
	for i := range sh.sales {
		own := &next[sh.sales[i].lot-sh.firstLot]
		all[*own] = sh.first + int32(i)
		*own++
	}
	from := int32(0)
	for i := range sh.lots {
		l := &sh.lots[i]
		l.lines = all[from:next[i]:next[i]]
		from = next[i]
		for _, at := range l.lines {
			l.partType = m.types.earlier(l.partType, m.sales[at].partType)
		}
		for _, at := range l.lines {
			if s := &m.sales[at]; s.partType == 0 {
				s.partType = l.partType
				if l.partType == 0 {
					s.mark.flag(PartTypeMissing)
					sh.unclassified = true
				}
			}
		}
	}
}
