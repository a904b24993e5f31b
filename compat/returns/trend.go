package returns

import (
	"math"

	"fitfill/catalog"
)

// Trend says whether a supplier is getting worse.
type Trend struct {
	Supplier int
	Months   []Month
	Before   Stretch    // up to the split
	After    Stretch    // from it on
	Two      TwoPeriods // the same, divided by the design effect
	Q        float64    // Two.Worse after Benjamini and Hochberg over the suppliers
	Word     TrendWord
	// Usual is the supplier's own rate before Split against what is expected,
	// drawn towards 1 by the doubt about it; Cusum watches for its doubling.
	Usual float64
	Cusum []float64 // of the months from Split on
	Alarm float64   // the threshold
	// Since is the first month of the last run above zero that ended in an alarm;
	// not known without an alarm.
	Since catalog.Stated[catalog.Date]
}

// TrendWord is the verdict on a trend.
type TrendWord string

// The words.
const (
	GettingWorse  TrendWord = "getting worse"
	LeaningWorsen TrendWord = "leaning worse than before"
	NoTrend       TrendWord = "no change to be seen"
)

// Trends splits every compared supplier's months at the first day of split and
// tests whether its rate rose. The word is GettingWorse where the test holds
// after the number of suppliers is allowed for (q up to the setting), or where
// the cusum passed its threshold and the test leans the same way; LeaningWorsen
// where only one of the two speaks, since each alone errs too often in a shop of
// many suppliers. Counts are divided by the design effect as everywhere.
func (c Comparison) Trends(split catalog.Date, thresholds Thresholds, set Settings) []Trend {
	all := c.ByMonth()
	var out []Trend
	var p []float64
	for i, s := range c.Compared {
		t := Trend{Supplier: s, Months: all[s], Usual: 1}
		t.Before, t.After = Split(t.Months, split)
		before, after := t.Before.divided(c.design), t.After.divided(c.design)
		t.Two = CompareTwoPeriods(before, after, set.Confidence)
		t.Usual = c.usual(before)
		var later []Month
		for _, m := range t.Months {
			if m.First >= split {
				later = append(later, Month{m.First, m.divided(c.design)})
			}
		}
		if len(later) > 0 {
			t.Alarm = thresholds.At(t.Usual * after.Expected / float64(len(later)))
			t.Cusum = Cusum(later, t.Usual, t.Alarm)
			t.Since = risingSince(later, t.Cusum, t.Alarm)
		}
		out = append(out, t)
		p = append(p, out[i].Two.Worse)
	}
	for i, q := range FalseDiscovery(p) {
		t := &out[i]
		t.Q, t.Word = q, NoTrend
		leans := t.Two.Worse <= 1-set.LeanAt
		switch {
		case q <= set.FalseDiscovery && t.Two.Worse <= 1-set.CallAt || t.Since.Known && leans:
			t.Word = GettingWorse
		case leans || t.Since.Known:
			t.Word = LeaningWorsen
		}
	}
	return out
}

func (s Stretch) divided(by float64) Stretch { return Stretch{s.Observed / by, s.Expected / by} }

// usual draws O/E towards 1 as a gamma with the posterior spread τ of the
// suppliers would: (O + 1/τ²)/(E + 1/τ²).
func (c Comparison) usual(before Stretch) float64 {
	var variance float64
	for k, f := range c.Posterior.Fits {
		variance += c.Posterior.Weights[k] * f.Tau * f.Tau
	}
	if variance == 0 {
		return 1
	}
	a := 1 / variance
	return (before.Observed + a) / (before.Expected + a)
}

// risingSince finds the last alarm and the month from which the sum rose to it.
func risingSince(list []Month, sums []float64, alarm float64) catalog.Stated[catalog.Date] {
	for i := len(sums) - 1; i >= 0; i-- {
		if sums[i] <= alarm {
			continue
		}
		from := i
		for from > 0 && sums[from-1] > 0 && sums[from-1] <= alarm {
			from--
		}
		return catalog.Stated[catalog.Date]{Value: list[from].First, Known: true}
	}
	return catalog.Stated[catalog.Date]{}
}

// Middle returns the first day of the month in the middle of the time watched.
func (c Comparison) Middle() catalog.Date {
	first, last := catalog.Date(math.MaxInt32), catalog.Date(math.MinInt32)
	for _, u := range c.units {
		first, last = min(first, u.Sold), max(last, u.Sold+catalog.Date(u.Exit))
	}
	if first > last {
		return 0
	}
	starts := months(first, last)
	return starts[len(starts)/2]
}
