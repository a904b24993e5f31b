package returns_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"fitfill/catalog"
	"fitfill/compat/returns"
)

// poisson.test(c(O2, O1), c(E2, E1)) in R 4.2.2, mid-P by pbinom and dbinom.
func TestTwoPeriodsAgainstR(t *testing.T) {
	for _, r := range published(t, "two-periods.csv") {
		got := returns.CompareTwoPeriods(returns.Stretch{Observed: r.num(t, "o1"), Expected: r.num(t, "e1")},
			returns.Stretch{Observed: r.num(t, "o2"), Expected: r.num(t, "e2")}, 0.95)
		what := r.text("o1") + " before, " + r.text("o2") + " after"
		if want := r.num(t, "ratio"); math.IsInf(want, 1) != math.IsInf(got.Ratio.Est, 1) || !math.IsInf(want, 1) && math.Abs(got.Ratio.Est-want) > exact*want {
			t.Errorf("%s: ratio %g, want %g", what, got.Ratio.Est, want)
		}
		near(t, what+" low", got.Ratio.Low, r.num(t, "low"), exact)
		if want := r.num(t, "high"); !math.IsInf(want, 1) || !math.IsInf(got.Ratio.High, 1) {
			near(t, what+" high", got.Ratio.High, want, exact)
		}
		near(t, what+" exact", got.Exact, r.num(t, "exact"), exact)
		near(t, what+" mid-P", got.Worse, r.num(t, "mid_p"), exact)
	}
}

func shopComparison(t *testing.T) (returns.Ledger, returns.Comparison) {
	t.Helper()
	l := returns.Match(shop(t), settings(t))
	return l, compare(t, l.Units, len(l.Suppliers), settings(t))
}

// Months of the invented shop, computed in R 4.2.2 from the pooled
// Nelson-Aalen steps of every part type.
func TestMonthsOfTheShopAgainstR(t *testing.T) {
	l, c := shopComparison(t)
	byMonth := c.ByMonth()
	seen := 0
	for s, name := range l.Suppliers {
		sums := returns.Cusum(byMonth[s], 1, math.Inf(1))
		at := map[string]int{}
		for i, m := range byMonth[s] {
			at[m.First.String()[:7]] = i
		}
		for _, r := range published(t, "shop-trend.csv") {
			if r.text("supplier") != name {
				continue
			}
			i, ok := at[r.text("month")]
			if !ok {
				t.Fatalf("%s: no month %s", name, r.text("month"))
			}
			seen++
			near(t, name+" "+r.text("month")+" observed", byMonth[s][i].Observed, r.num(t, "observed"), exact)
			near(t, name+" "+r.text("month")+" expected", byMonth[s][i].Expected, r.num(t, "expected"), exact)
			near(t, name+" "+r.text("month")+" cusum", sums[i], r.num(t, "cusum"), exact)
		}
		before, after := returns.Split(byMonth[s], date(t, "2025-01-01"))
		for _, r := range published(t, "shop-two-periods.csv") {
			if r.text("supplier") != name {
				continue
			}
			two := returns.CompareTwoPeriods(before, after, 0.95)
			near(t, name+" observed before", before.Observed, r.num(t, "o1"), exact)
			near(t, name+" expected before", before.Expected, r.num(t, "e1"), exact)
			near(t, name+" observed after", after.Observed, r.num(t, "o2"), exact)
			near(t, name+" expected after", after.Expected, r.num(t, "e2"), exact)
			near(t, name+" ratio", two.Ratio.Est, r.num(t, "ratio"), exact)
			near(t, name+" mid-P", two.Worse, r.num(t, "mid_p"), exact)
			highest := 0.0
			for _, v := range sums {
				highest = max(highest, v)
			}
			near(t, name+" highest cusum", highest, r.num(t, "highest_cusum"), exact)
		}
		if e := c.Standings[s].Expected; math.Abs(before.Expected+after.Expected-e) > exact*e {
			t.Errorf("%s: the months sum to %g, expected in all %g", name, before.Expected+after.Expected, e)
		}
	}
	if seen != len(published(t, "shop-trend.csv")) {
		t.Errorf("%d months met", seen)
	}
}

func cusumTable(t *testing.T) returns.Thresholds {
	t.Helper()
	var rows []catalog.RefRow
	for i, r := range readTable(t, "data", "returns_cusum.csv") {
		rows = append(rows, catalog.RefRow{Table: "returns_cusum", Line: i + 2, Cells: r.cells})
	}
	table, err := returns.NewThresholds(rows)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// The thresholds keep false alarms of 24 months near 5 in 100 and find a
// tripled rate of one failure a month in most cases (100 000 runs in R 4.2.2:
// 0.047 to 0.050, and all of them).
func TestCusumAlarmsAsOftenAsItsTableSays(t *testing.T) {
	table := cusumTable(t)
	rng := rand.NewPCG(20260401, 1)
	alarms := func(expected, rate float64) float64 {
		h := table.At(expected)
		const runs = 3000
		n := 0
		draw := distuv.Poisson{Lambda: expected * rate, Src: rng}
		for range runs {
			var list []returns.Month
			for range 24 {
				list = append(list, returns.Month{Stretch: returns.Stretch{Observed: draw.Rand(), Expected: expected}})
			}
			for _, s := range returns.Cusum(list, 1, h) {
				if s > h {
					n++
					break
				}
			}
		}
		return float64(n) / runs
	}
	for _, e := range []float64{0.2, 0.5, 1} {
		if got := alarms(e, 1); got < 0.03 || got > 0.07 {
			t.Errorf("%g a month: false alarms %.3f", e, got)
		}
	}
	if got := alarms(0.3, 1); got > 0.08 {
		t.Errorf("between two rows: false alarms %.3f", got)
	}
	if got := alarms(1, 3); got < 0.97 {
		t.Errorf("a tripled rate is found in %.3f", got)
	}
}

// The supplier whose failures all come late is getting worse; one whose
// failures are spread evenly is not.
func TestWhoIsGettingWorse(t *testing.T) {
	var units []returns.Unit
	start := date(t, "2024-01-01")
	for i := range 720 {
		sold := start + catalog.Date(i)
		for s := range 4 {
			late := s == 0 && i > 400
			u := returns.Unit{Supplier: s, Entry: -1, Exit: 300, Weight: 1, Line: 4*i + s, Sold: sold}
			if i%40 == 10*s || late && i%8 == 0 {
				u.Event, u.Exit = true, 5+i%7
			}
			units = append(units, u)
		}
	}
	c := compare(t, units, 4, settings(t))
	for _, tr := range c.Trends(start+366, cusumTable(t), settings(t)) {
		switch {
		case tr.Supplier == 0 && (tr.Word != returns.GettingWorse || !tr.Since.Known || tr.Since.Value < start+366):
			t.Errorf("late failures: %s, since %v (p %.4f)", tr.Word, tr.Since, tr.Two.Worse)
		case tr.Supplier != 0 && tr.Word == returns.GettingWorse:
			t.Errorf("even failures of supplier %d: %s (p %.4f)", tr.Supplier, tr.Word, tr.Two.Worse)
		}
	}
}
