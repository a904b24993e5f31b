package app

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"

	"fitfill/importers"
)

// CSV writes one row a supplier for a spreadsheet: figures and words, no
// customers, no vehicles, no documents. Text that a spreadsheet would take for a
// formula is guarded. A figure that is not known is an empty cell.
func (a SuppliersAnswer) CSV() ([]byte, error) {
	head := []string{
		"supplier", "type", "as_of", "bought", "faulty", "faulty_within_365_days", "usual", "faulty_pct", "faulty_pct_low", "faulty_pct_high",
		"relative", "relative_low", "relative_high", "p_worse_than_rest", "expected_rank", "group", "words", "trend",
		"listed_or_supplied_wrong", "not_their_fault", "reason_unknown", "without_purchase", "price", "cost_per_job", "cost_per_job_low", "cost_per_job_high", "currency",
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write(head); err != nil {
		return nil, err
	}
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	estimate := func(e *Estimate) []string {
		if e == nil {
			return []string{"", "", ""}
		}
		return []string{number(e.Est), number(e.Low), number(e.High)}
	}
	stated := func(v *float64) string {
		if v == nil {
			return ""
		}
		return number(*v)
	}
	for _, s := range a.Suppliers {
		rate := s.RatePct
		if s.tooNew() {
			rate = nil
		}
		row := []string{importers.Guard(s.Supplier), importers.Guard(a.Type), a.AsOf, strconv.Itoa(s.Sold), strconv.Itoa(s.Faulty), strconv.Itoa(s.Observed), number(s.Expected)}
		row = append(append(row, estimate(rate)...), estimate(s.Relative)...)
		trend := ""
		if s.Trend != nil {
			trend = s.Trend.Words
		}
		row = append(row, stated(s.WorseThanRest), stated(s.ExpectedRank), importers.Guard(s.Group), s.Words, trend,
			strconv.Itoa(s.SupplyErrors), strconv.Itoa(s.NotTheirFault), strconv.Itoa(s.Unknown), strconv.Itoa(s.Unmatched))
		if c := s.CostPerJob; c != nil {
			row = append(row, number(c.Price))
			row = append(append(row, estimate(&c.Estimate)...), c.Currency)
		} else {
			row = append(row, "", "", "", "", "")
		}
		if err := w.Write(row); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// tooNew reports whether no piece was followed for longer than a year, so that
// the share says nothing yet.
func (s SupplierScore) tooNew() bool {
	for _, w := range s.Within {
		if w.Days == RateDays && w.Watched > 0 {
			return false
		}
	}
	return true
}

// Rate is the headline share with its limits; nil while it says nothing yet.
func (s SupplierScore) Rate() *Estimate {
	if s.tooNew() {
		return nil
	}
	return s.RatePct
}

// Unseen says in a word or two why there is no headline share.
func (s SupplierScore) Unseen() string {
	switch w := s.WarrantyDays; {
	case s.Sold == 0:
		return "none bought"
	case w != nil && *w < RateDays:
		return fmt.Sprintf("warranty %d days", *w)
	}
	return "too new"
}

// CurvePoint is one step of the share that came back faulty.
type CurvePoint struct {
	Day int     `json:"day"`
	Pct float64 `json:"pct"`
}

// fillCurves puts the share returned by day beside each supplier, as far as
// enough pieces are still watched.
func (a *SuppliersAnswer) fillCurves(st *supplierStudy) {
	for i := range a.Suppliers {
		s := &a.Suppliers[i]
		var points []CurvePoint
		for _, step := range st.curve(s.Supplier) {
			if step.Day > RateDays || step.AtRisk < st.settings.FewWatched {
				break
			}
			if step.Failed > 0 {
				points = append(points, CurvePoint{step.Day, round(100*(1-step.Survival), 3)})
			}
			s.CurveEnd = step.Day
		}
		if s.CurveEnd > 0 {
			points = append([]CurvePoint{{0, 0}}, points...)
		}
		s.Curve = points
	}
}
