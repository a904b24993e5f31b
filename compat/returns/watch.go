package returns

import (
	"slices"

	"fitfill/catalog"
)

// warranty returns the days within which the supplier takes a part type back,
// −1 if no limit is stated.
func (m *matcher) warranty(supplier, partType int) int {
	days := -1
	for _, w := range m.books.Warranties {
		if catalog.Fold(w.Supplier) != catalog.Fold(m.ledger.Suppliers[supplier]) {
			continue
		}
		if w.PartType == "" {
			days = w.Days
		} else if catalog.Fold(w.PartType) == catalog.Fold(m.ledger.PartTypes[partType]) {
			return w.Days
		}
	}
	return days
}

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
	for _, s := range m.sales {
		if !s.live {
			continue
		}
		s.window = int(m.books.AsOf - s.Day)
		longest := &m.ledger.Warranty[s.lot.supplier]
		if w := stated[s.lot.supplier][s.partType]; w < 0 {
			*longest = -1
		} else {
			s.window = min(s.window, w)
			if *longest >= 0 {
				*longest = max(*longest, w)
			}
		}
		if from := m.books.ReturnsFrom; from.Known && s.Day < from.Value {
			s.entry = int(from.Value - s.Day)
			s.fate.flag(DelayedEntry)
		}
	}
}

// buildUnits turns every sale into units: one for the pieces that came back on
// the same day for the same reason, one for the rest. Pieces that were never
// watched are sold, but no units.
func (m *matcher) buildUnits() {
	m.ledger.Units = make([]Unit, 0, len(m.sales)+len(m.returns))
	for _, s := range m.salesBySupplier() {
		if !s.live || s.pieces == 0 {
			continue
		}
		first := len(m.ledger.Units)
		m.tallies[s.lot.supplier][s.partType].Sold += s.pieces
		unit := Unit{Supplier: s.lot.supplier, PartType: s.partType, Entry: s.entry, Line: s.Ref, Sold: s.Day}
		rest := s.pieces
		exits := m.exits[s]
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
func (m *matcher) salesBySupplier() []*saleLine {
	next := make([]int, len(m.ledger.Suppliers)+1)
	for _, s := range m.sales {
		next[s.lot.supplier+1]++
	}
	for i := 1; i < len(next); i++ {
		next[i] += next[i-1]
	}
	out := make([]*saleLine, len(m.sales))
	for _, s := range m.sales {
		out[next[s.lot.supplier]] = s
		next[s.lot.supplier]++
	}
	return out
}

func (m *matcher) keep(u Unit) {
	if u.seen() {
		m.ledger.Units = append(m.ledger.Units, u)
	}
}
