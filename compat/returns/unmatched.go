package returns

import "fitfill/catalog"

// explainUnmatched says of every return with pieces left over why they found no
// sale, and whether they count in the upper bound.
func (m *matcher) explainUnmatched() {
	sameLots := map[string][]*lot{} // by part, those of which something is left over
	for i := range m.back {
		if r := &m.back[i]; r.live && r.open > 0 {
			sameLots[m.lots[r.lot].part] = nil
		}
	}
	for i := range m.lots {
		l := &m.lots[i]
		if list, wanted := sameLots[l.part]; wanted && l.sold {
			sameLots[l.part] = append(list, l)
		}
	}
	start, known := m.dataStart()
	for i := range m.back {
		r := &m.back[i]
		if !r.live || r.open == 0 {
			continue
		}
		r.fate.Unmatched = r.open
		code := m.whyUnmatched(r, sameLots[m.lots[r.lot].part], start, known)
		if len(r.fate.Sales) == 0 {
			r.fate.setAside(code)
		} else {
			r.fate.flag(code)
		}
		t := &m.shards[r.supplier].tallies[r.partType]
		if code == SaleBeforeDataStart {
			t.BeforeDataStart += r.open
			continue
		}
		t.Unmatched += r.open
		if r.Class.quality() {
			t.UnmatchedFaulty += r.open
		}
		if r.Class.quality() || r.Class == UnknownReason {
			m.ledger.Unplaced = append(m.ledger.Unplaced, Unit{Supplier: r.supplier, PartType: int(r.partType),
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
	var first catalog.Date
	known := false
	for i := range m.lots {
		if l := &m.lots[i]; l.sold && (!known || l.from < first) {
			first, known = l.from, true
		}
	}
	return first, known
}

// whyUnmatched chooses the code. A return whose sale can lie before the data,
// as far back as the warranty reaches, is nobody's failure here: the pieces that
// were sold then and held are not in the data either.
func (m *matcher) whyUnmatched(r *returnLine, samePart []*lot, start catalog.Date, known bool) Code {
	var own, ownBefore, otherBefore bool
	for _, l := range samePart {
		before := int(l.from-r.Day) <= m.set.DateTolerance
		if l.supplier == r.supplier {
			own, ownBefore = true, ownBefore || before
		} else {
			otherBefore = otherBefore || before
		}
	}
	back := m.warranty(r.supplier, int(r.partType))
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
