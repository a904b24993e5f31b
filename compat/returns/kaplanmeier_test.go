package returns_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/compat/returns"
)

// lifeTable rebuilds the units of a published data set from its life table.
func lifeTable(t *testing.T, rows []row, set string, group int) []returns.Unit {
	t.Helper()
	var units []returns.Unit
	for _, r := range rows {
		if r.text("dataset") != set {
			continue
		}
		u := returns.Unit{Supplier: group, Entry: -1, Exit: int(r.num(t, "time"))}
		u.Weight, u.Event = r.num(t, "n_event"), true
		units = append(units, u)
		u.Weight, u.Event = r.num(t, "n_censor"), false
		units = append(units, u)
	}
	return units
}

// Remission times under 6-MP and placebo ("Regression models and life-tables",
// 1972) and acute myelogenous leukaemia (the aml data of R's survival package):
// survfit and the beta-product limits of R's bpcp. The grouped set is invented.
func TestCurveAgainstPublishedData(t *testing.T) {
	for _, file := range []string{"kaplan-meier.csv", "kaplan-meier-weighted.csv"} {
		rows := published(t, file)
		curves := map[string][]returns.Step{}
		units := map[string][]returns.Unit{}
		next := map[string]int{}
		for _, r := range rows {
			set := r.text("dataset")
			if curves[set] == nil {
				units[set] = lifeTable(t, rows, set, 0)
				curves[set] = returns.Curve(units[set])
			}
			i := next[set]
			next[set]++
			st := curves[set][i]
			what := fmt.Sprintf("%s day %d", set, st.Day)
			near(t, what+" at risk", st.AtRisk, r.num(t, "n_risk"), 1e-15)
			near(t, what+" S", st.Survival, r.num(t, "surv"), exact)
			near(t, what+" SE", st.SE, r.num(t, "se_greenwood"), exact)
			near(t, what+" hazard", st.Hazard, r.num(t, "cumhaz_na"), exact)
			near(t, what+" hazard SE", st.HazardSE, r.num(t, "se_cumhaz"), exact)
			limitsOfACurve(t, what, st.Survival, st.SE, r)
			watched := st.AtRisk - st.Failed - st.Left
			mid, sure := returns.BetaProduct(curves[set][:i+1], watched, 1, 0.95)
			nearLimits(t, what+" guaranteed", sure, r.num(t, "bpcp_lo"), r.num(t, "bpcp_hi"), exact)
			nearLimits(t, what+" mid-P", mid, r.num(t, "bpcpmid_lo"), r.num(t, "bpcpmid_hi"), exact)
		}
	}
}

// survfit(..., cluster, robust=TRUE) of R's survival on an invented data set of
// six sale lines, one of which loses three pieces on one day.
func TestClusterVarianceAgainstR(t *testing.T) {
	lot := []int{1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 4, 5, 6, 6}
	exit := []int{100, 100, 100, 30, 30, 30, 200, 365, 80, 365, 365, 365, 50, 120, 120}
	failed := []int{0, 0, 0, 1, 1, 1, 1, 0, 1, 0, 0, 0, 1, 0, 0}
	var byLot, single []returns.Unit
	for i := range lot {
		u := returns.Unit{Entry: -1, Exit: exit[i], Event: failed[i] == 1, Weight: 1, Line: lot[i]}
		byLot = append(byLot, u)
		u.Line = i
		single = append(single, u)
	}
	for _, r := range published(t, "clustered.csv") {
		day := int(r.num(t, "time"))
		c, g := returns.ClusterVariance(byLot, day)
		near(t, fmt.Sprintf("day %d by line", day), math.Sqrt(c), r.num(t, "se_ij_cluster"), exact)
		near(t, fmt.Sprintf("day %d Greenwood", day), math.Sqrt(g), r.num(t, "se_greenwood"), exact)
		near(t, fmt.Sprintf("day %d design effect", day), returns.DesignEffect(byLot, 1, day), r.num(t, "deff"), exact)
		atRisk, left := 0.0, 1.0
		for _, u := range byLot {
			if u.Exit >= day {
				atRisk += u.Weight
			}
		}
		for _, st := range returns.Curve(byLot) {
			if st.Day <= day {
				left = st.Survival
			}
		}
		near(t, fmt.Sprintf("day %d at risk", day), atRisk, r.num(t, "n_risk"), 1e-15)
		near(t, fmt.Sprintf("day %d S", day), left, r.num(t, "surv"), exact)
		c, _ = returns.ClusterVariance(single, day)
		near(t, fmt.Sprintf("day %d by piece", day), math.Sqrt(c), r.num(t, "se_ij_unit"), exact)
	}
}

func TestSharesOfTheShop(t *testing.T) {
	set := settings(t)
	l := returns.Match(shop(t), set)
	rep, err := returns.Judge(l, set)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range published(t, "shop-shares.csv") {
		for i, s := range rep.Suppliers {
			if s.Name != r.text("supplier") {
				continue
			}
			if r.text("naive_n") != "NA" && s.Tally.Sold != int(r.num(t, "naive_n")) {
				t.Errorf("%s sold %d, want %s", s.Name, s.Tally.Sold, r.text("naive_n"))
			}
			for k, day := range set.Horizons {
				if day != int(r.num(t, "H")) {
					continue
				}
				what := fmt.Sprintf("%s %d days", s.Name, day)
				if s.Shares[k].Observable == (r.text("F") == "NA") {
					t.Errorf("%s: observable %v", what, s.Shares[k].Observable)
				}
				if r.text("F") == "NA" {
					for _, column := range []string{"n_risk_H", "events", "se", "bpcp_lo", "bpcp_hi", "mid_lo", "mid_hi"} {
						if r.text(column) != "NA" {
							t.Errorf("%s: %s of what cannot be observed", what, column)
						}
					}
					if s.Name != "Eskdale Stores" || !strings.Contains(r.text("note"), "not observable") {
						t.Errorf("%s: %s", what, r.text("note"))
					}
					continue
				}
				var own []returns.Unit
				for _, u := range l.Units {
					if u.Supplier == i {
						own = append(own, u)
					}
				}
				got := returns.ShareReturned(own, day, 1, 0.95)
				near(t, what+" watched", got.Watched, r.num(t, "n_risk_H"), 1e-15)
				near(t, what+" failed", got.Failed, r.num(t, "events"), 1e-15)
				near(t, what, got.MidP.Est, r.num(t, "F"), exact)
				se := 0.0
				for _, st := range returns.Curve(own) {
					if st.Day <= day {
						se = st.SE
					}
				}
				near(t, what+" SE", se, r.num(t, "se"), exact)
				nearLimits(t, what+" mid-P", got.MidP, r.num(t, "mid_lo"), r.num(t, "mid_hi"), exact)
				nearLimits(t, what+" guaranteed", got.Guaranteed, r.num(t, "bpcp_lo"), r.num(t, "bpcp_hi"), exact)
			}
		}
	}
}

func TestWithoutCensoringTheShareIsAProportion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 300).Draw(t, "n")
		x := rapid.IntRange(0, n).Draw(t, "x")
		var units []returns.Unit
		for range x {
			units = append(units, returns.Unit{Entry: -1, Exit: rapid.IntRange(0, 90).Draw(t, "day"), Event: true, Weight: 1})
		}
		units = append(units, returns.Unit{Entry: -1, Exit: 400, Weight: float64(n - x)})
		got := returns.ShareReturned(units, 90, 1, 0.95)
		for _, c := range []struct{ got, want returns.Interval }{
			{got.MidP, returns.MidP(float64(x), float64(n), 0.95)},
			{got.Guaranteed, returns.ClopperPearson(float64(x), float64(n), 0.95)},
		} {
			if math.Abs(c.got.Est-c.want.Est) > 1e-9 || math.Abs(c.got.Low-c.want.Low) > 1e-9 || math.Abs(c.got.High-c.want.High) > 1e-9 {
				t.Fatalf("%d of %d: curve %v, proportion %v", x, n, c.got, c.want)
			}
		}
	})
}

func TestLateEntryLeavesTheRiskSetUntilThen(t *testing.T) {
	units := []returns.Unit{
		{Entry: -1, Exit: 10, Event: true, Weight: 1}, {Entry: -1, Exit: 100, Weight: 3},
		{Entry: 10, Exit: 50, Event: true, Weight: 1}, // not yet watched on day 10
		{Entry: 60, Exit: 60, Event: true, Weight: 1}, // never watched
	}
	steps := returns.Curve(units)
	if steps[0].AtRisk != 4 || steps[1].Day != 50 || steps[1].AtRisk != 4 || len(steps) != 3 {
		t.Errorf("steps %+v", steps)
	}
	if sh := returns.ShareReturned(units, 90, 1, 0.95); !sh.LateEntry || sh.Failed != 2 || sh.Watched != 3 {
		t.Errorf("share %+v", sh)
	}
}
