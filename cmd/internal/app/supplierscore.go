package app

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitfill/compat"
	"fitfill/compat/returns"
)

func (a *SuppliersAnswer) fill(st *supplierStudy) {
	r, q := st.report, st.q
	a.AsOf, a.Ranked = r.AsOf.String(), r.Headline.Ranked
	a.Notes = append(a.Notes, "The clock starts on the day of purchase: time on the shelf counts as time in service.")
	if r.Headline.Why != "" {
		a.Notes = append(a.Notes, Capital(r.Headline.Why)+".")
	}
	if r.Headline.Divided {
		a.Notes = append(a.Notes, fmt.Sprintf("Pieces of one delivery fail together: all counts were divided by %.1f.", r.Headline.DesignEffect))
	}
	if len(r.Exclusive) > 0 && q.Type == "" {
		a.Notes = append(a.Notes, "Bought from one supplier only, so no help in comparing: "+strings.Join(r.Exclusive, ", ")+".")
	}
	lines := st.faultyLines()
	for _, s := range r.Suppliers {
		if s.Tally.Sold == 0 && s.Tally.Unmatched == 0 {
			continue
		}
		line := score(s, r.Headline.Ranked, lines[s.Name])
		if days := st.ledger.Warranty[slices.Index(st.ledger.Suppliers, s.Name)]; days >= 0 {
			line.WarrantyDays, line.AfterWarranty = &days, s.Tally.OutOfWarranty
		}
		a.Suppliers = append(a.Suppliers, line)
	}
	slices.SortStableFunc(a.Suppliers, func(x, y SupplierScore) int {
		switch {
		case x.ExpectedRank == nil && y.ExpectedRank == nil:
			return strings.Compare(x.Supplier, y.Supplier)
		case x.ExpectedRank == nil:
			return 1
		case y.ExpectedRank == nil:
			return -1
		case *x.ExpectedRank < *y.ExpectedRank:
			return -1
		case *x.ExpectedRank > *y.ExpectedRank:
			return 1
		}
		return strings.Compare(x.Supplier, y.Supplier)
	})
}

func score(s returns.Supplier, ranked bool, lines []compat.Evidence) SupplierScore {
	t := s.Tally
	out := SupplierScore{
		Supplier: s.Name, Sold: t.Sold, Faulty: t.Faulty, Observed: int(math.Round(s.Standing.Observed)), Expected: round(s.Standing.Expected, 2), Group: s.Standing.Group,
		Words: string(s.Standing.Word), NotTheirFault: t.Neutral + t.Core, NotConfirmed: t.NotConfirmed, SupplyErrors: t.SupplyErrors, Unknown: t.Unknown,
		Unmatched: t.Unmatched, Provisional: s.Provisional, Within: []Within{},
	}
	for _, sh := range s.Shares {
		w := Within{Days: sh.Day, Watched: int(sh.Watched)}
		switch {
		case !sh.Observable:
			w.Note = "not observable: the supplier's warranty is shorter"
		case !math.IsNaN(sh.MidP.Est):
			w.Est, w.Low, w.High = pct(sh.MidP.Est), pct(sh.MidP.Low), pct(sh.MidP.High)
			if sh.Thin {
				w.Note = "few pieces were followed that long"
			}
			if sh.Day == RateDays {
				out.RatePct = &Estimate{*w.Est, *w.Low, *w.High}
			}
		}
		out.Within = append(out.Within, w)
	}
	if r := s.Standing.Relative; r != nil && s.Standing.Compared {
		out.Relative = &Estimate{round(r.Est, 3), round(r.Low, 3), round(r.High, 3)}
		p := round(s.Standing.WorseThanRest, 4)
		out.WorseThanRest = &p
	}
	if ranked && s.Standing.ExpectedRank > 0 {
		rank := round(s.Standing.ExpectedRank, 2)
		out.ExpectedRank = &rank
	}
	if t.NotConfirmed > 0 {
		out.With = withScore(s.Claimed)
	}
	if t.Unknown+t.Unmatched > 0 {
		out.Upper = withScore(s.Upper)
	}
	if s.SupplyErrors != nil {
		e := estimate(percent(*s.SupplyErrors), 2)
		out.SupplyPct = &e
	}
	says := fmt.Sprintf("%d of %d pieces came back faulty, %d of them within %d days; %.1f would be usual for the same part types at the same age",
		t.Faulty, t.Sold, out.Observed, RateDays, s.Standing.Expected)
	out.Findings = []compat.Finding{{Check: "faulty-returns", Outcome: wordOutcome(s.Standing.Word), Grade: compat.Measured, Says: says, Origin: lines}}
	return out
}

func withScore(c returns.Standing) *WithScore {
	out := &WithScore{Observed: int(math.Round(c.Observed)), Expected: round(c.Expected, 2), WorseThanRest: round(c.WorseThanRest, 4), Words: string(c.Word)}
	if c.Relative != nil {
		e := estimate(*c.Relative, 3)
		out.Relative = &e
	}
	return out
}

// wordOutcome shows a word as an outcome for the mark beside it; a supplier
// that cannot be told apart is not thereby a good one.
func wordOutcome(w returns.Word) compat.Outcome {
	switch w {
	case returns.Worse:
		return compat.No
	case returns.LeaningWorse:
		return compat.Caution
	case returns.Better, returns.LeaningBetter:
		return compat.Yes
	}
	return compat.CannotSay
}

// faultyLines collects the lines of the returns that count as faulty, by
// supplier.
func (st *supplierStudy) faultyLines() map[string][]compat.Evidence {
	lines := map[string][]compat.Evidence{}
	for i, fate := range st.ledger.Returns {
		r := st.books.Returns[i]
		if countedAs(fate, r.Class) == countedFaulty && st.asked(fate.Fate) {
			name := st.ledger.Suppliers[fate.Supplier]
			lines[name] = append(lines[name], compat.From(st.back[r.Ref].Origin))
		}
	}
	return lines
}

func pct(share float64) *float64 {
	v := round(share*100, 3)
	return &v
}

func round(v float64, digits int) float64 {
	scale := math.Pow10(digits)
	return math.Round(v*scale) / scale
}
