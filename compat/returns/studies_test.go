package returns_test

import (
	"fmt"
	"slices"
	"testing"

	"fitfill/compat/returns"
)

// lungStudy is the survival of 228 patients: "Prospective evaluation of
// prognostic variables from patient-completed questionnaires", 1994, the data
// set lung of R's survival package; status 2 is a death. Suppliers are the sexes
// and part types the performance scores; a patient without one is left out if
// scored is set.
func lungStudy(t *testing.T, scored bool) (units []returns.Unit) {
	t.Helper()
	for _, r := range published(t, "lung.csv") {
		if scored && r.text("ecog") == "" {
			continue
		}
		u := returns.Unit{Supplier: int(r.num(t, "sex")) - 1, Entry: -1, Exit: int(r.num(t, "time")), Event: r.text("status") == "2", Weight: 1, Line: len(units)}
		if scored {
			u.PartType = int(r.num(t, "ecog"))
		}
		units = append(units, u)
	}
	return units
}

// veteranStudy is the survival of 137 patients: "The statistical analysis of
// failure time data", 1980, the data set veteran of R's survival package.
// Suppliers are the four kinds of cells, part types the two treatments.
func veteranStudy(t *testing.T) (units []returns.Unit) {
	t.Helper()
	cells := []string{"squamous", "smallcell", "adeno", "large"}
	for _, r := range published(t, "veteran.csv") {
		units = append(units, returns.Unit{Supplier: slices.Index(cells, r.text("celltype")), PartType: int(r.num(t, "trt")) - 1,
			Entry: -1, Exit: int(r.num(t, "time")), Event: r.text("status") == "1", Weight: 1, Line: len(units)})
	}
	return units
}

// colonStudy is the survival of 929 patients: "Levamisole and fluorouracil for
// adjuvant therapy of resected colon carcinoma", 1990, the deaths of the data
// set colon of R's survival package. Suppliers are the three treatments, part
// types four or fewer and more nodes.
func colonStudy(t *testing.T) (units []returns.Unit) {
	t.Helper()
	treatments := []string{"Obs", "Lev", "Lev+5FU"}
	for _, r := range published(t, "colon.csv") {
		units = append(units, returns.Unit{Supplier: slices.Index(treatments, r.text("rx")), PartType: int(r.num(t, "node4")),
			Entry: -1, Exit: int(r.num(t, "time")), Event: r.text("status") == "1", Weight: 1, Line: len(units)})
	}
	return units
}

// survdiff of R's survival: remission times under 6-MP ("Regression models and
// life-tables", 1972), the aml data, and the studies above, of two, three and
// four groups, with strata and without.
func TestLogRankAgainstPublishedData(t *testing.T) {
	tables := published(t, "kaplan-meier.csv")
	twoOf := func(a, b string) []returns.Unit {
		return slices.Concat(lifeTable(t, tables, a, 0), lifeTable(t, tables, b, 1))
	}
	sets := map[string][]returns.Unit{
		"gehan": twoOf("gehan_6mp", "gehan_control"), "aml": twoOf("aml_maintained", "aml_nonmaintained"),
		"lung_sex": lungStudy(t, false), "lung_sex_strata_ecog": lungStudy(t, true), "veteran_celltype_strata_trt": veteranStudy(t),
		"colon_rx_death_strata_node4": colonStudy(t),
	}
	seen := map[string]int{}
	for _, r := range published(t, "log-rank.csv") {
		set := r.text("dataset")
		g := seen[set]
		what := set + " " + r.text("group_level")
		seen[set]++
		var members float64
		groups := 0
		for _, u := range sets[set] {
			groups = max(groups, u.Supplier+1)
			if u.Supplier == g {
				members += u.Weight
			}
		}
		e := returns.RiskTable(sets[set], groups, lastDay(sets[set])).Expect()
		near(t, what+" members", members, r.num(t, "n"), 1e-15)
		near(t, what+" observed", e.Observed[g], r.num(t, "observed"), 1e-15)
		near(t, what+" expected", e.Expected[g], r.num(t, "expected"), exact)
		near(t, what+" variance", e.Variance.At(g, g), r.num(t, "var_O_minus_E"), exact)
		test := e.Test()
		near(t, what+" chi-square", test.ChiSquare, r.num(t, "chisq"), exact)
		near(t, what+" p", test.P, r.num(t, "p"), 1e-8)
		if test.DF != int(r.num(t, "df")) {
			t.Errorf("%s: %d degrees of freedom", set, test.DF)
		}
	}
	for set := range sets {
		if seen[set] < 2 {
			t.Errorf("%s: no figures", set)
		}
	}
}

// lastDay is the longest time in a study.
func lastDay(units []returns.Unit) (day int) {
	for _, u := range units {
		day = max(day, u.Exit)
	}
	return day
}

// summary(survfit(...), times) of R's survival on the lung study, all and by sex.
func TestCurveOfTheLungStudyAgainstR(t *testing.T) {
	all := lungStudy(t, false)
	of := map[string][]returns.Unit{"all": all}
	for _, u := range all {
		sex := fmt.Sprintf("sex=%d", u.Supplier+1)
		of[sex] = append(of[sex], u)
	}
	for _, r := range published(t, "kaplan-meier-lung.csv") {
		own, day := of[r.text("stratum")], int(r.num(t, "time"))
		var last returns.Step
		for _, st := range returns.Curve(own) {
			if st.Day <= day {
				last = st
			}
		}
		what := fmt.Sprintf("%s day %d", r.text("stratum"), day)
		watched := returns.StillWatched(own, day)
		for _, u := range own {
			if u.Exit == day && u.Event {
				watched++
			}
		}
		near(t, what+" at risk", watched, r.num(t, "n_risk"), 1e-15)
		near(t, what+" S", last.Survival, r.num(t, "surv"), exact)
		near(t, what+" SE", last.SE, r.num(t, "se"), exact)
		near(t, what+" hazard", last.Hazard, r.num(t, "cumhaz"), exact)
		limitsOfACurve(t, what, last.Survival, last.SE, r)
	}
}
