package returns

import "slices"

// openWindows settles from which day to which each sale is watched: to the
// as-of day or the end of the warranty, and where returns were recorded only
// from some day on, from the age it had then.
func (m *matcher) openWindows() {
	m.ledger.Warranty = make([]int, len(m.ledger.Suppliers))
	stated := make([][]int, len(m.ledger.Suppliers))
	for s := range stated {
		for g := range m.ledger.PartTypes {
			stated[s] = append(stated[s], m.warranty(s, g))
		}
	}
	for i := range m.sales {
		s := &m.sales[i]
		if !s.live {
			continue
		}
		s.window = int(m.books.AsOf - s.day)
		supplier := m.lots[s.lot].supplier
		longest := &m.ledger.Warranty[supplier]
		if w := stated[supplier][s.partType]; w < 0 {
			*longest = -1
		} else {
			s.window = min(s.window, w)
			if *longest >= 0 {
				*longest = max(*longest, w)
			}
		}
		if from := m.books.ReturnsFrom; from.Known && s.day < from.Value {
			s.entry = int(from.Value - s.day)
			m.fate(s).flag(DelayedEntry)
		}
	}
}

// buildUnits turns every sale into units: one for the pieces that came back on
// the same day for the same reason, one for the rest. Pieces that were never
// watched are sold, but no units.
func (m *matcher) buildUnits() {
	m.ledger.Units = make([]Unit, 0, len(m.sales)+len(m.returns))
	for _, i := range m.salesBySupplier() {
		s := &m.sales[i]
		if !s.live || s.pieces == 0 {
			continue
		}
		first := len(m.ledger.Units)
		supplier := m.lots[s.lot].supplier
		m.tallies[supplier][s.partType].Sold += s.pieces
		unit := Unit{Supplier: supplier, PartType: int(s.partType), Entry: s.entry, Line: m.fate(s).Ref, Sold: s.day}
		rest := s.pieces
		var exits []exit
		if s.open < s.pieces {
			exits = m.exits[i]
		}
		for _, e := range exits {
			rest -= e.pieces
			u := unit
			u.Exit, u.Weight = e.days, float64(e.pieces)
			u.Event, u.Unknown = e.class.quality(), e.class == UnknownReason
			u.Claimed = e.class == NotConfirmed
			m.keep(u)
		}
		unit.Exit, unit.Weight = s.window, float64(rest)
		m.keep(unit)
		if len(exits) > 0 {
			slices.SortFunc(m.ledger.Units[first:], compareUnits)
		}
	}
	m.ledger.Units = sorted(m.ledger.Units)
	for _, row := range m.tallies {
		for _, t := range row {
			if t != (Tally{Supplier: t.Supplier, PartType: t.PartType}) {
				m.ledger.Tallies = append(m.ledger.Tallies, t)
			}
		}
	}
}

// salesBySupplier lists the sales of one supplier after the other, each in the
// order of days.
func (m *matcher) salesBySupplier() []int32 {
	next := make([]int, len(m.ledger.Suppliers)+1)
	for i := range m.sales {
		next[m.lots[m.sales[i].lot].supplier+1]++
	}
	for i := 1; i < len(next); i++ {
		next[i] += next[i-1]
	}
	out := make([]int32, len(m.sales))
	for i := range m.sales {
		supplier := m.lots[m.sales[i].lot].supplier
		out[next[supplier]] = int32(i)
		next[supplier]++
	}
	return out
}

func (m *matcher) keep(u Unit) {
	if u.seen() {
		m.ledger.Units = append(m.ledger.Units, u)
	}
}
