package returns

import "slices"

// creditNotes takes every negative sale off the latest earlier line of its lot
// that is large enough, unless a return of the same quantity lies within the
// credit window: then it is that return's money side and nothing is taken off.
func (m *matcher) creditNotes(l *lot) {
	for _, i := range l.lines {
		c := &m.sales[i]
		if !c.live || c.milli >= 0 {
			continue
		}
		c.live = false
		if r := m.paidBack(c, l.back); r != nil {
			r.credited = true
			c.mark.flag(CreditOfReturn)
			continue
		}
		if s := m.latestSale(l.lines, c); s != nil {
			s.milli += c.milli
			s.mark.flag(CreditNetted)
			c.mark.flag(CreditNetted)
			continue
		}
		c.mark.setAside(OrphanCredit)
	}
}

// paidBack returns the nearest return whose money side the credit note is.
func (m *matcher) paidBack(c *saleLine, back []returnLine) *returnLine {
	var best *returnLine
	gap := m.set.CreditWindow
	for i := range back {
		r := &back[i]
		if r.milli != -c.milli || r.credited || r.fate.Has(Duplicate) {
			continue
		}
		days := int(r.Day - c.day)
		if days < 0 {
			days = -days
		}
		if days < gap || days == gap && best == nil {
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

// reversals lets every negative return of a lot take back the latest earlier
// one that is large enough, one of the same class before any other.
func reversals(back []returnLine) {
	for i := range back {
		n := &back[i]
		if !n.live || n.milli > 0 {
			continue
		}
		n.live = false
		r := latestReturn(back, n, true)
		if r == nil {
			r = latestReturn(back, n, false)
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

func latestReturn(back []returnLine, n *returnLine, sameClass bool) *returnLine {
	for i := range slices.Backward(back) {
		if r := &back[i]; r.live && r.milli > 0 && r.Day <= n.Day && r.milli >= -n.milli && (!sameClass || r.Class == n.Class) {
			return r
		}
	}
	return nil
}
