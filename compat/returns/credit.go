package returns

import "slices"

// creditNotes takes every negative sale off the latest earlier line of its lot
// that is large enough, unless a return of the same quantity lies within the
// credit window: then it is that return's money side and nothing is taken off.
func (m *matcher) creditNotes() {
	returns := map[int][]*returnLine{}
	for _, r := range m.returns {
		if r.milli > 0 && !r.fate.Has(Duplicate) {
			returns[r.lotID] = append(returns[r.lotID], r)
		}
	}
	for _, c := range m.sales {
		if !c.live || c.milli > 0 {
			continue
		}
		c.live = false
		if r := m.paidBack(c, returns[c.lotID]); r != nil {
			r.credited = true
			c.fate.flag(CreditOfReturn)
			continue
		}
		if s := latestSale(m.byLot[c.lotID], c); s != nil {
			s.milli += c.milli
			s.fate.flag(CreditNetted)
			c.fate.flag(CreditNetted)
			continue
		}
		c.fate.setAside(OrphanCredit)
	}
}

// paidBack returns the nearest return whose money side the credit note is.
func (m *matcher) paidBack(c *saleLine, candidates []*returnLine) *returnLine {
	var best *returnLine
	gap := m.set.CreditWindow
	for _, r := range candidates {
		days := int(r.Day - c.Day)
		if days < 0 {
			days = -days
		}
		if r.milli == -c.milli && !r.credited && (days < gap || days == gap && best == nil) {
			best, gap = r, days
		}
	}
	return best
}

func latestSale(lines []*saleLine, c *saleLine) *saleLine {
	for _, s := range slices.Backward(lines) {
		if s.live && s.Day <= c.Day && s.milli >= -c.milli {
			return s
		}
	}
	return nil
}

// reversals lets every negative return take back the latest earlier return of
// its lot that is large enough, one of the same class before any other.
func (m *matcher) reversals() {
	lines := map[int][]*returnLine{}
	for _, r := range m.returns {
		lines[r.lotID] = append(lines[r.lotID], r)
	}
	for _, n := range m.returns {
		if !n.live || n.milli > 0 {
			continue
		}
		n.live = false
		r := latestReturn(lines[n.lotID], n, true)
		if r == nil {
			r = latestReturn(lines[n.lotID], n, false)
		}
		if r == nil {
			n.fate.setAside(OrphanReversal)
			continue
		}
		n.fate.setAside(ReturnReversed)
		r.milli += n.milli
		if r.milli == 0 {
			r.live = false
			r.fate.setAside(ReturnReversed)
		} else {
			r.fate.flag(ReturnReversed)
		}
	}
}

func latestReturn(lines []*returnLine, n *returnLine, sameClass bool) *returnLine {
	for _, r := range slices.Backward(lines) {
		if r.live && r.milli > 0 && r.Day <= n.Day && r.milli >= -n.milli && (!sameClass || r.Class == n.Class) {
			return r
		}
	}
	return nil
}
