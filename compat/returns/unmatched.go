package returns

import "fitfill/catalog"

// explainUnmatched says of every return with pieces left over why they found no
// sale, and whether they count in the upper bound.
func (m *matcher) explainUnmatched() {
	wanted := map[string]bool{}
	for _, r := range m.returns {
		if r.live && r.open > 0 {
			wanted[m.lots[r.lot].part] = true
		}
	}
	soldBy := map[string][]*saleLine{}
	for id, lines := range m.byLot {
		part := m.lots[id].part
		if !wanted[part] {
			continue
		}
		for _, i := range lines {
			if s := &m.sales[i]; s.live {
				soldBy[part] = append(soldBy[part], s)
			}
		}
	}
	start, known := m.dataStart()
	for _, r := range m.returns {
		if !r.live || r.open == 0 {
			continue
		}
		r.fate.Unmatched = r.open
		code := m.whyUnmatched(r, soldBy[m.lots[r.lot].part], start, known)
		if len(r.fate.Sales) == 0 {
			r.fate.setAside(code)
		} else {
			r.fate.flag(code)
		}
		t := &m.tallies[r.supplier][r.partType]
		if code == SaleBeforeDataStart {
			t.BeforeDataStart += r.open
			continue
		}
		t.Unmatched += r.open
		if r.Class.quality() {
			t.UnmatchedFaulty += r.open
		}
		if r.Class.quality() || r.Class == UnknownReason {
			m.ledger.Unplaced = append(m.ledger.Unplaced, Unit{Supplier: r.supplier, PartType: r.partType,
				Entry: -1, Exit: 0, Event: true, Unknown: r.Class == UnknownReason, Weight: float64(r.open), Line: -1 - r.Ref, Sold: r.Day})
		}
	}
	m.ledger.Unplaced = sorted(m.ledger.Unplaced)
}

// dataStart returns the first day that the sales cover.
func (m *matcher) dataStart() (catalog.Date, bool) {
	if m.books.SalesFrom.Known {
		return m.books.SalesFrom.Value, true
	}
	for i := range m.sales {
		if m.sales[i].live {
			return m.sales[i].day, true
		}
	}
	return 0, false
}

// whyUnmatched chooses the code. A return whose sale can lie before the data,
// as far back as the warranty reaches, is nobody's failure here: the pieces that
// were sold then and held are not in the data either.
func (m *matcher) whyUnmatched(r *returnLine, samePart []*saleLine, start catalog.Date, known bool) Code {
	var own, ownBefore, otherBefore bool
	for _, s := range samePart {
		before := int(s.day-r.Day) <= m.set.DateTolerance
		if m.lots[s.lot].supplier == r.supplier {
			own, ownBefore = true, ownBefore || before
		} else {
			otherBefore = otherBefore || before
		}
	}
	back := m.warranty(r.supplier, r.partType)
	if back < 0 {
		back = m.set.ScoreHorizon
	}
	switch {
	case known && r.Day < start:
		return SaleBeforeDataStart
	case ownBefore:
		return MoreReturnsThanSales
	case !own && otherBefore:
		return SoldByOther
	case known && int(r.Day)-back < int(start):
		return SaleBeforeDataStart
	case own:
		return ReturnBeforeSale
	}
	return NeverSold
}
