package app

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat/returns"
)

// SupplierTrend says whether a supplier is getting worse.
type SupplierTrend struct {
	From   string    `json:"from"` // first day of the later stretch
	Before Stretch   `json:"before"`
	After  Stretch   `json:"after"`
	Ratio  *Estimate `json:"ratio"` // later rate over earlier; nil without a failure before
	P      float64   `json:"p_rise_by_chance"`
	Words  string    `json:"words"`
	Rising string    `json:"rising_since,omitempty"` // first day of the month from which it rose
}

// Stretch is faulty pieces and what was usual over some months.
type Stretch struct {
	Faulty float64 `json:"observed_failures"`
	Usual  float64 `json:"expected_failures"`
}

// ThenScore is what was known of a supplier on an earlier day.
type ThenScore struct {
	Sold     int     `json:"sold"`
	Observed int     `json:"observed_failures"`
	Expected float64 `json:"expected_failures"`
	Words    string  `json:"words"`
}

// splitDay is the day from which the later stretch counts: the one asked for,
// else the middle of the time watched.
func (st *supplierStudy) splitDay() (catalog.Date, error) {
	if st.q.Since == "" {
		return st.report.Headline.Middle(), nil
	}
	day, err := catalog.ParseDate(st.q.Since)
	if err != nil {
		return 0, &UsageError{Problem: "--since: " + err.Error(), Hint: "such as --since 2025-01-01"}
	}
	first := st.books.Sales[0].Day
	for _, s := range st.books.Sales {
		first = min(first, s.Day)
	}
	if day <= first || day > st.books.AsOf {
		return 0, &UsageError{
			Problem: fmt.Sprintf("--since %s leaves nothing to set against each other", day),
			Hint:    fmt.Sprintf("the books reach from %s to %s: name a day between", first, st.books.AsOf),
		}
	}
	return day, nil
}

// fillTrends says of every supplier whether it is getting worse and, where a day
// is asked for, what was known of it the day before.
func (a *SuppliersAnswer) fillTrends(st *supplierStudy, table returns.Thresholds) error {
	split, err := st.splitDay()
	if err != nil {
		return err
	}
	c := st.report.Headline
	byName := map[string]*SupplierScore{}
	for i := range a.Suppliers {
		byName[a.Suppliers[i].Supplier] = &a.Suppliers[i]
	}
	for _, t := range c.Trends(split, table, st.settings) {
		if s := byName[st.ledger.Suppliers[t.Supplier]]; s != nil {
			s.Trend = trendOf(t, split)
		}
	}
	a.Worsening = append(a.Worsening, a.worsening()...)
	if st.q.Since == "" {
		return nil
	}
	a.Since, a.Then = split.String(), (split - 1).String()
	books := st.books
	books.AsOf = split - 1
	then := &supplierStudy{q: st.q, settings: st.settings, books: books}
	if err := then.judge(); err != nil {
		return err
	}
	for _, s := range then.report.Suppliers {
		if now := byName[s.Name]; now != nil {
			now.Then = &ThenScore{s.Tally.Sold, int(math.Round(s.Standing.Observed)), round(s.Standing.Expected, 2), string(s.Standing.Word)}
		}
	}
	a.Changed = a.changed()
	return nil
}

func trendOf(t returns.Trend, split catalog.Date) *SupplierTrend {
	out := &SupplierTrend{
		From: split.String(), Words: string(t.Word), P: round(t.Two.Worse, 4),
		Before: Stretch{round(t.Before.Observed, 2), round(t.Before.Expected, 2)},
		After:  Stretch{round(t.After.Observed, 2), round(t.After.Expected, 2)},
	}
	if r := t.Two.Ratio; !math.IsNaN(r.Est) && !math.IsInf(r.Est, 0) && !math.IsInf(r.High, 0) {
		e := estimate(r, 2)
		out.Ratio = &e
	}
	if t.Since.Known {
		out.Rising = t.Since.Value.String()
	}
	return out
}

// changed words what is called otherwise now, and who is getting worse.
func (a *SuppliersAnswer) changed() []string {
	out := []string{}
	for _, s := range a.Suppliers {
		switch {
		case s.Then == nil || s.Then.Sold == 0:
			out = append(out, fmt.Sprintf("%s is new: %s.", s.Supplier, s.Words))
		case s.Then.Words != s.Words:
			out = append(out, fmt.Sprintf("%s was %s, now %s.", s.Supplier, s.Then.Words, s.Words))
		}
	}
	return append(out, a.Worsening...)
}

// worsening words who is getting worse, most certain first.
func (a *SuppliersAnswer) worsening() []string {
	list := slices.Clone(a.Suppliers)
	slices.SortStableFunc(list, func(x, y SupplierScore) int {
		switch {
		case x.Trend == nil || y.Trend == nil:
			return 0
		case x.Trend.P < y.Trend.P:
			return -1
		case x.Trend.P > y.Trend.P:
			return 1
		}
		return strings.Compare(x.Supplier, y.Supplier)
	})
	var out []string
	for _, s := range list {
		if t := s.Trend; t != nil && t.Words == string(returns.GettingWorse) {
			says := fmt.Sprintf("%s is getting worse: %.0f faulty since %s where %.1f were usual, %.0f where %.1f were before", s.Supplier, t.After.Faulty, t.From, t.After.Usual, t.Before.Faulty, t.Before.Usual)
			if t.Rising != "" {
				says += ", rising since " + t.Rising[:len("2006-01")]
			}
			out = append(out, says+".")
		}
	}
	return out
}

func (s *Shop) thresholds() (returns.Thresholds, error) {
	rows, err := s.ref.Table("returns_cusum")
	if err != nil {
		return returns.Thresholds{}, err
	}
	return returns.NewThresholds(rows)
}
