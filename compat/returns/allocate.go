package returns

import "slices"

// allocate gives the pieces of every return to sales, the strongest link of all
// returns first, so that a guess never takes a piece that a link claims.
func (m *matcher) allocate() {
	byLink := m.byLink()
	matched, oldest := 0, 0
	for _, rule := range []Rule{BySaleID, ByDocument, ByBoughtDay, ByOldestSale} {
		for _, r := range m.returns {
			if !r.live {
				continue
			}
			if rule == BySaleID && strayLink(r, byLink) {
				r.fate.flag(LinkDisagrees)
			}
			if r.open == 0 || !rule.applies(r) {
				continue
			}
			before := r.open
			lines := m.byLot[r.lotID]
			for i := 0; i < len(lines) && r.open > 0; i++ {
				s := lines[i]
				if m.books.LastInFirstOut {
					s = lines[len(lines)-1-i]
				}
				if s.live && s.open > 0 && int(s.Day-r.Day) <= m.set.DateTolerance && rule.joins(r, s) {
					m.give(r, s, rule)
				}
			}
			matched += before - r.open
			if rule == ByOldestSale {
				oldest += before - r.open
			}
		}
	}
	if matched > 0 {
		m.ledger.OldestShare = float64(oldest) / float64(matched)
	}
}

// byLink lists the sales that a return can name by a sale id or a line of a
// document; nobody looks where no return names any.
func (m *matcher) byLink() map[string][]*saleLine {
	if !slices.ContainsFunc(m.returns, func(r *returnLine) bool { return r.live && len(links(r.SaleID, r.Document, r.DocumentLine)) > 0 }) {
		return nil
	}
	out := map[string][]*saleLine{}
	for _, s := range m.sales {
		if s.live {
			for _, k := range links(s.ID, s.Document, s.DocumentLine) {
				out[k] = append(out[k], s)
			}
		}
	}
	return out
}

func links(id, document, line string) []string {
	var out []string
	if id != "" {
		out = append(out, join("id", fold(id)))
	}
	if document != "" && line != "" {
		out = append(out, join("line", fold(document), fold(line)))
	}
	return out
}

// strayLink reports whether the return names sales, but none of its own
// supplier and part.
func strayLink(r *returnLine, byLink map[string][]*saleLine) bool {
	stray := false
	for _, k := range links(r.SaleID, r.Document, r.DocumentLine) {
		for _, s := range byLink[k] {
			if s.lot == r.lot {
				return false
			}
			stray = true
		}
	}
	return stray
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
func (rule Rule) joins(r *returnLine, s *saleLine) bool {
	same := func(a, b string) bool { return fold(a) != "" && fold(a) == fold(b) }
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
func (m *matcher) give(r *returnLine, s *saleLine, rule Rule) {
	n := min(r.open, s.open)
	r.open -= n
	s.open -= n
	days := int(r.Day - s.Day)
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
	r.fate.Sales = append(r.fate.Sales, Allocation{Sale: s.at, Pieces: n, Days: days, Rule: rule})
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
	var code Code
	switch {
	case days > s.window:
		code = OutOfWarranty
	case days <= s.entry:
		code = BeforeRecording
	}
	if code != "" {
		r.fate.flag(code)
	}
	if code != OutOfWarranty {
		m.exits[s] = append(m.exits[s], exit{days, n, r.Class})
	}
	m.tallies[s.lot.supplier][s.partType].place(r.Class, n, code)
}
