package returns_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"fitfill/compat/returns"
)

const flat = 1e-5 // a maximum that R found by iteration on a flat likelihood

// The surgical data of the BUGS examples (12 hospitals) and the 18 batters of
// "Data analysis using Stein's estimator and its generalizations", 1975: optim on
// the beta-binomial likelihood and qbeta in R 4.2.2, checked there with VGAM.
func TestShrunkenSharesAgainstR(t *testing.T) {
	posterior := published(t, "shrink-shares-posterior.csv")
	seen := 0
	for _, r := range published(t, "shrink-shares.csv") {
		var x, n []float64
		for _, u := range posterior {
			if u.text("dataset") == r.text("dataset") {
				x, n = append(x, u.num(t, "x")), append(n, u.num(t, "n"))
			}
		}
		what := r.text("dataset")
		near(t, what+" units", float64(len(x)), r.num(t, "K"), 1e-15)
		mom, ml := shareMoments(x, n), shareML(x, n)
		near(t, what+" moments mean", mom.Mean, r.num(t, "mom_mean"), exact)
		near(t, what+" moments alpha", mom.Alpha, r.num(t, "mom_alpha"), exact)
		near(t, what+" moments beta", mom.Beta, r.num(t, "mom_beta"), exact)
		near(t, what+" moments rho", 1/(1+mom.Alpha+mom.Beta), r.num(t, "mom_rho"), exact)
		near(t, what+" ML mean", ml.Mean, r.num(t, "mml_mean"), flat)
		near(t, what+" ML alpha", ml.Alpha, r.num(t, "mml_alpha"), flat)
		near(t, what+" ML beta", ml.Beta, r.num(t, "mml_beta"), flat)
		near(t, what+" ln L", ml.LogL, r.num(t, "mml_loglik"), exact)
		for _, u := range posterior {
			if u.text("dataset") != r.text("dataset") {
				continue
			}
			seen++
			unit := what + " " + u.text("unit")
			got := ml.share(u.num(t, "x"), u.num(t, "n"), 0.95)
			near(t, unit+" ML", got.Est, u.num(t, "ml_mean"), flat)
			nearLimits(t, unit+" ML", got, u.num(t, "ml_low"), u.num(t, "ml_high"), flat)
			got = mom.share(u.num(t, "x"), u.num(t, "n"), 0.95)
			near(t, unit+" moments", got.Est, u.num(t, "mom_mean"), exact)
			nearLimits(t, unit+" moments", got, u.num(t, "mom_low"), u.num(t, "mom_high"), exact)
		}
	}
	if seen != len(posterior) || seen != 30 {
		t.Errorf("%d of %d units met", seen, len(posterior))
	}
}

// The ten pumps of the BUGS examples: optim on the negative binomial likelihood
// in R 4.2.2, checked there with glm.nb of MASS.
func TestShrunkenRatesAgainstR(t *testing.T) {
	posterior := published(t, "shrink-rates-posterior.csv")
	var o, e []float64
	for _, u := range posterior {
		o, e = append(o, u.num(t, "O")), append(e, u.num(t, "E"))
	}
	mom, ml, one := rateMoments(o, e), rateML(o, e, 0), rateML(o, e, 1)
	for _, r := range published(t, "shrink-rates.csv") {
		var got float64
		tol := flat
		switch r.text("param") {
		case "mom_m":
			got, tol = mom.Mean, exact
		case "mom_A_unbiased":
			got, tol = mom.Mean/mom.Beta, exact
		case "mom_A_marshall":
			got, tol = marshallVariance(o, e), exact
		case "mml_m":
			got = ml.Mean
		case "mml_shape_a":
			got = ml.Alpha
		case "mml_loglik":
			got, tol = ml.LogL, exact
		case "mml_m1_shape_a":
			got = one.Alpha
		case "mml_m1_loglik":
			got, tol = one.LogL, exact
		default:
			t.Fatalf("no check for %s", r.text("param"))
		}
		near(t, r.text("param"), got, r.num(t, "value"), tol)
	}
	for _, u := range posterior {
		what := "pump " + u.text("unit")
		got := ml.rate(u.num(t, "O"), u.num(t, "E"), 0.95)
		near(t, what+" ML", got.Est, u.num(t, "mml_mean"), flat)
		nearLimits(t, what+" ML", got, u.num(t, "mml_lo"), u.num(t, "mml_hi"), flat)
		near(t, what+" moments", mom.rate(u.num(t, "O"), u.num(t, "E"), 0.95).Est, u.num(t, "mom_mean"), exact)
		g := returns.Garwood(u.num(t, "O"), 0.95)
		near(t, what+" O/E", g.Est/u.num(t, "E"), u.num(t, "smr"), exact)
		nearLimits(t, what+" Garwood", returns.Interval{Low: g.Low / u.num(t, "E"), High: g.High / u.num(t, "E")}, u.num(t, "garwood_lo"), u.num(t, "garwood_hi"), exact)
	}
}

// marshallVariance is the spread of the rates in the form Σ E·(O/E − m)²/ΣE − m/Ē
// with m = ΣO/ΣE and Ē the mean of E, which is not free of bias. Source: "Mapping
// disease and mortality rates using empirical Bayes estimators", 1991 (from
// memory).
func marshallVariance(o, e []float64) float64 {
	var sumO, sumE, squares float64
	for i := range o {
		sumO += o[i]
		sumE += e[i]
	}
	m := sumO / sumE
	for i := range o {
		squares += e[i] * (o[i]/e[i] - m) * (o[i]/e[i] - m)
	}
	return squares/sumE - m/(sumE/float64(len(e)))
}

// Suppliers that are alike to the last failure have no spread to estimate, and
// nothing is made of it.
func TestSuppliersAlikeShrinkToOneRate(t *testing.T) {
	x, n := []float64{5, 5, 5}, []float64{100, 100, 100}
	for what, s := range map[string]shrinkage{"moments": shareMoments(x, n), "ML": shareML(x, n)} {
		if s.Alpha < 1e4 || math.Abs(s.Mean-0.05) > 1e-6 {
			t.Errorf("%s: %+v", what, s)
		}
	}
}

// Indirect standardisation: the help example of R's epitools (from
// "Statistical analysis of epidemiologic data", 2004, from memory) for the
// limits, and three suppliers of three part types, whose expected failures are
// n·(Σx/Σn) of the type.
func TestIndirectStandardisationAgainstR(t *testing.T) {
	table := published(t, "standardised.csv")
	value := func(example, item string) float64 {
		for _, r := range table {
			if r.text("example") == example && r.text("item") == item {
				return r.num(t, "value")
			}
		}
		t.Fatalf("no %s of %s", item, example)
		return 0
	}
	g := returns.Garwood(value("selvin", "observed"), 0.95)
	expected := value("selvin", "expected")
	near(t, "selvin O/E", g.Est/expected, value("selvin", "O/E"), exact)
	nearLimits(t, "selvin", returns.Interval{Low: g.Low / expected, High: g.High / expected}, value("selvin", "garwood_lo"), value("selvin", "garwood_hi"), exact)

	// The limits that the library itself prints are those of the log-normal form,
	// exp(ln(O/E) ± z/√O): close to the exact ones where so many are counted.
	wide := math.Exp(distuv.UnitNormal.Quantile(0.975) / math.Sqrt(value("selvin", "observed")))
	nearLimits(t, "selvin, log-normal", returns.Interval{Low: g.Est / expected / wide, High: g.Est / expected * wide}, value("selvin", "epitools_lo"), value("selvin", "epitools_hi"), exact)

	sold := [][]float64{{200, 40, 10}, {30, 100, 60}, {80, 80, 80}}
	failed := [][]float64{{4, 3, 1}, {1, 6, 7}, {1, 4, 8}}
	var units []returns.Unit
	for s := range sold {
		for g := range sold[s] {
			line := 3*s + g
			units = append(units, returns.Unit{Supplier: s, PartType: g, Entry: -1, Exit: 0, Event: true, Weight: failed[s][g], Line: line},
				returns.Unit{Supplier: s, PartType: g, Entry: -1, Exit: 400, Weight: sold[s][g] - failed[s][g], Line: line})
		}
	}
	e := returns.RiskTable(units, 3, 365).Expect()
	for s, name := range []string{"garage_A", "garage_B", "garage_C"} {
		near(t, name+" observed", e.Observed[s], value(name, "observed"), exact)
		near(t, name+" expected", e.Expected[s], value(name, "expected"), exact)
		near(t, name+" O/E", e.Observed[s]/e.Expected[s], value(name, "O/E"), exact)
		pieces := sold[s][0] + sold[s][1] + sold[s][2]
		near(t, name+" crude rate", e.Observed[s]/pieces, value(name, "crude_rate"), exact)
		near(t, name+" adjusted rate", e.Observed[s]/e.Expected[s]*35/680, value(name, "adj_rate"), exact) // 35 of 680 in all
		g := returns.Garwood(e.Observed[s], 0.95)
		nearLimits(t, name, returns.Interval{Low: g.Low / e.Expected[s], High: g.High / e.Expected[s]}, value(name, "garwood_lo"), value(name, "garwood_hi"), exact)
	}
}

// Share failing within a year of every part type and supplier of the invented
// shop at a spread of 0.5: basehaz of R's coxph.
func TestSharesByTypeOfTheShopAgainstR(t *testing.T) {
	l, c := shopComparison(t)
	fit, err := c.Table.FitSpread(0.5, nil)
	if err != nil {
		t.Fatal(err)
	}
	hazard := func(partType string) (h float64) {
		for _, r := range c.Table.Rows {
			if r.PartType != slices.Index(l.PartTypes, partType) {
				continue
			}
			var at float64
			for s, y := range r.AtRisk {
				at += y * math.Exp(fit.B[s])
			}
			h += r.Failed / at
		}
		return h
	}
	for _, r := range published(t, "shop-shares-by-type.csv") {
		supplier, partType, of := strings.Cut(r.text("item"), " | ")
		if section := map[bool]string{false: "base_H365_tau0.5", true: "F365_tau0.5"}[of]; r.text("section") != section {
			t.Errorf("%s: section %s, not %s", r.text("item"), r.text("section"), section)
		}
		if !of {
			near(t, r.text("item"), hazard(supplier), r.num(t, "value"), 1e-8)
			continue
		}
		share := -math.Expm1(-math.Exp(fit.B[slices.Index(l.Suppliers, supplier)]) * hazard(partType))
		near(t, r.text("item"), share, r.num(t, "value"), 1e-8)
	}
}
