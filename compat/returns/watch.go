package returns

import "slices"

// statedWarranties returns the warranty of a supplier by part type.
func (m *matcher) statedWarranties(supplier int) []int {
	out := make([]int, len(m.ledger.PartTypes))
	for g := range out {
		out[g] = m.warranty(supplier, g)
	}
	return out
}

// openWindows settles from which day to which each sale of a lot is watched: to
// the as-of day or the end of the warranty, and where returns were recorded only
// from some day on, from the age it had then.
func (m *matcher) openWindows(sh *shard, l *lot, stated []int) {
	for _, i := range l.lines {
		s := &m.sales[i]
		if !s.live {
			continue
		}
		if !l.sold || s.day < l.from {
			l.from, l.sold = s.day, true
		}
		window := int(m.books.AsOf - s.day)
		if w := stated[s.partType]; w < 0 {
			sh.warranty = -1
		} else {
			window = min(window, w)
			if sh.warranty >= 0 {
				sh.warranty = max(sh.warranty, w)
			}
		}
		s.window = int32(window)
		if from := m.books.ReturnsFrom; from.Known && s.day < from.Value {
			s.entry = int32(from.Value - s.day)
			s.mark.flag(DelayedEntry)
		}
	}
}

// buildUnits turns every sale into units: one for the pieces that came back on
// the same day for the same reason, one for the rest. Pieces that were never
// watched are sold, but no units. The sales stand in the order of units.
func (m *matcher) buildUnits() {
	m.eachShard(func(sh *shard) { sh.units = sh.eachUnit(nil) })
	all := 0
	for i := range m.shards {
		all += m.shards[i].units
	}
	m.ledger.Units = make([]Unit, all)
	starts, at := make([]int, len(m.shards)), 0
	for i := range m.shards {
		starts[i] = at
		at += m.shards[i].units
	}
	m.eachShard(func(sh *shard) { sh.eachUnit(m.ledger.Units[starts[sh.supplier]:][:sh.units]) })
	for i := range m.shards {
		for _, t := range m.shards[i].tallies {
			if t != (Tally{Supplier: t.Supplier, PartType: t.PartType}) {
				m.ledger.Tallies = append(m.ledger.Tallies, t)
			}
		}
	}
}

// eachUnit writes the units of a shard to out and returns how many they are; with
// nil it only counts them, and the pieces sold.
func (sh *shard) eachUnit(out []Unit) (n int) {
	for i := range sh.sales {
		s := &sh.sales[i]
		if !s.live || s.pieces == 0 {
			continue
		}
		if out == nil {
			sh.tallies[s.partType].Sold += s.pieces
		}
		first, rest := n, s.pieces
		keep := func(u Unit) {
			if u.seen() {
				if out != nil {
					out[n] = u
				}
				n++
			}
		}
		unit := Unit{Supplier: sh.supplier, PartType: int(s.partType), Entry: int(s.entry), Line: s.ref, Sold: s.day}
		for at := s.exits; at >= 0; at = sh.exits[at].before {
			e, u := &sh.exits[at], unit
			rest -= e.pieces
			u.Exit, u.Weight = e.days, float64(e.pieces)
			u.Event, u.Unknown = e.class.quality(), e.class == UnknownReason
			u.Claimed = e.class == NotConfirmed
			keep(u)
		}
		unit.Exit, unit.Weight = int(s.window), float64(rest)
		keep(unit)
		if out != nil && n-first > 1 {
			slices.SortFunc(out[first:n], compareUnits)
		}
	}
	return n
}
