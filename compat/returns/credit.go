package returns

import "slices"

// creditNotes takes every negative sale off the latest earlier line of its lot
// that is large enough, unless a return of the same quantity lies within the
// credit window: then it is that return's money side and nothing is taken off.
func (m *matcher) creditNotes() {
	var returns [][]*returnLine // by lot, once it is asked for
	for i := range m.sales {
		c := &m.sales[i]
		if !c.live || c.milli > 0 {
			continue
		}
		if returns == nil {
			returns = make([][]*returnLine, len(m.lots))
			for _, r := range m.returns {
				if r.milli > 0 && !r.fate.Has(Duplicate) {
					returns[r.lot] = append(returns[r.lot], r)
				}
			}
		}
		c.live = false
		if r := m.paidBack(c, returns[c.lot]); r != nil {
			r.credited = true
			m.fate(c).flag(CreditOfReturn)
			continue
		}
		if s := m.latestSale(m.byLot[c.lot], c); s != nil {
			s.milli += c.milli
			m.fate(s).flag(CreditNetted)
			m.fate(c).flag(CreditNetted)
			continue
		}
		m.fate(c).setAside(OrphanCredit)
	}
}

// paidBack returns the nearest return whose money side the credit note is.
func (m *matcher) paidBack(c *saleLine, candidates []*returnLine) *returnLine {
	var best *returnLine
	gap := m.set.CreditWindow
	for _, r := range candidates {
		days := int(r.Day - c.day)
		if days < 0 {
			days = -days
		}
		if r.milli == -c.milli && !r.credited && (days < gap || days == gap && best == nil) {
			best, gap = r, days
		}
	}
	return best
}

func (m *matcher) latestSale(lines []int32, c *saleLine) *saleLine {
	for _, i := range slices.Backward(lines) {
		if s := &m.sales[i]; s.live && s.day <= c.day && s.milli >= -c.milli {
			return s
		}
	}
	return nil
}

// reversals lets every negative return take back the latest earlier return of
// its lot that is large enough, one of the same class before any other.
func (m *matcher) reversals() {
	if !slices.ContainsFunc(m.returns, func(r *returnLine) bool { return r.live && r.milli <= 0 }) {
		return
	}
	lines := map[int32][]*returnLine{}
	for _, r := range m.returns {
		lines[r.lot] = append(lines[r.lot], r)
	}
	for _, n := range m.returns {
		if !n.live || n.milli > 0 {
			continue
		}
		n.live = false
		r := latestReturn(lines[n.lot], n, true)
		if r == nil {
			r = latestReturn(lines[n.lot], n, false)
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
