package returns

import (
	"sort"
	"strings"

	"fitfill/catalog"
)

// allocate gives the pieces of every return of a shard to sales, the strongest
// link of all returns of a lot first, so that a guess never takes a piece that a
// link claims.
func (m *matcher) allocate(sh *shard) {
	for i := range sh.lots {
		if l := &sh.lots[i]; len(l.back) > 0 {
			m.allocateLot(sh, l)
		}
	}
}

func (m *matcher) allocateLot(sh *shard, l *lot) {
	named := m.newNamer(l)
	spent := 0 // sales at the start of the lot that have nothing left
	for _, rule := range []Rule{BySaleID, ByDocument, ByBoughtDay, ByOldestSale} {
		for i := range l.back {
			r := &l.back[i]
			if !r.live {
				continue
			}
			if rule == BySaleID && r.stray {
				r.fate.flag(LinkDisagrees)
			}
			if r.open == 0 || !rule.applies(r) {
				continue
			}
			before := r.open
			switch rule {
			case BySaleID, ByDocument:
				m.takeFrom(sh, r, named.of(r), rule)
			case ByBoughtDay:
				m.takeFrom(sh, r, m.soldOn(l, r.Bought.Value), rule)
			default:
				m.takeFrom(sh, r, m.unspent(l, r, &spent), rule)
			}
			sh.matched += before - r.open
			if rule == ByOldestSale {
				sh.oldest += before - r.open
			}
		}
	}
}

// takeFrom takes what the return still has open from sales of its lot, which
// stand in their order, as far as the rule links them.
func (m *matcher) takeFrom(sh *shard, r *returnLine, lines []int32, rule Rule) {
	for n := range lines {
		if r.open == 0 {
			return
		}
		i := lines[n]
		if m.books.LastInFirstOut {
			i = lines[len(lines)-1-n]
		}
		if s := &m.sales[i]; s.live && s.open > 0 && int(s.day-r.Day) <= m.set.DateTolerance && rule.joins(r, &m.books.Sales[s.at]) {
			m.give(sh, r, s, rule)
		}
	}
}

// soldOn returns the sales of a lot on one day.
func (m *matcher) soldOn(l *lot, day catalog.Date) []int32 {
	lines := l.lines
	from := sort.Search(len(lines), func(i int) bool { return m.sales[lines[i]].day >= day })
	to := from
	for to < len(lines) && m.sales[lines[to]].day == day {
		to++
	}
	return lines[from:to]
}

// unspent returns the sales of the return's lot from the first that has
// something left to the last that the return can be of.
func (m *matcher) unspent(l *lot, r *returnLine, spent *int) []int32 {
	lines := l.lines
	from := *spent
	for from < len(lines) && (!m.sales[lines[from]].live || m.sales[lines[from]].open == 0) {
		from++
	}
	*spent = from
	lines = lines[from:]
	return lines[:sort.Search(len(lines), func(i int) bool { return int(m.sales[lines[i]].day-r.Day) > m.set.DateTolerance })]
}

// applies reports whether the return states what the rule goes by.
func (rule Rule) applies(r *returnLine) bool {
	switch rule {
	case BySaleID:
		return r.SaleID != "" || r.Document != "" && r.DocumentLine != ""
	case ByDocument:
		return r.Document != "" || r.Job != ""
	case ByBoughtDay:
		return r.Bought.Known
	}
	return true
}

// joins reports whether the rule links the return to the sale, which is of the
// same supplier and part.
func (rule Rule) joins(r *returnLine, s *Sale) bool {
	same := func(a, b string) bool { return strings.TrimSpace(a) != "" && sameFolded(a, b) }
	switch rule {
	case BySaleID:
		return same(r.SaleID, s.ID) || same(r.Document, s.Document) && same(r.DocumentLine, s.DocumentLine)
	case ByDocument:
		return same(r.Document, s.Document) || same(r.Job, s.Job)
	case ByBoughtDay:
		return r.Bought.Known && r.Bought.Value == s.Day
	}
	return true
}

// give moves as many pieces as both have left from the sale to the return.
func (m *matcher) give(sh *shard, r *returnLine, s *saleLine, rule Rule) {
	n := min(r.open, s.open)
	r.open -= n
	s.open -= n
	days := int(r.Day - s.day)
	switch {
	case days < 0:
		days = 0
		r.fate.flag(ToleratedDate)
	case r.Class == DeadOnArrival && days > 0:
		days = 0
		r.fate.flag(TimeSetToZero)
	}
	if len(r.fate.Sales) == 1 {
		r.fate.flag(SplitOverLots)
	}
	r.fate.Sales = append(r.fate.Sales, Allocation{Sale: int(s.at), Pieces: n, Days: days, Rule: rule})
	switch r.Class {
	case Neutral:
		r.fate.flag(NeutralReason)
	case SupplyError:
		r.fate.flag(SupplyErrorReason)
	case UnknownReason:
		r.fate.flag(ReasonUnknown)
	case NotConfirmed:
		r.fate.flag(NotConfirmedReason)
	}
	late, early := days > int(s.window), days <= int(s.entry)
	switch {
	case late:
		r.fate.flag(OutOfWarranty)
	case early:
		r.fate.flag(BeforeRecording)
	}
	if !late {
		sh.exits = append(sh.exits, exit{days, n, r.Class, s.exits})
		s.exits = int32(len(sh.exits) - 1)
	}
	sh.tallies[s.partType].place(r.Class, n, late, early)
}
