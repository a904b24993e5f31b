package returns_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"fitfill/compat/returns"
)

func lives(units []returns.Unit) []returns.Life {
	var out []returns.Life
	for _, u := range units {
		out = append(out, returns.Life{Time: float64(u.Exit), Failed: u.Event, Weight: u.Weight})
	}
	return out
}

// hours are the failures of the NIST/SEMATECH e-Handbook, 8.4.1.2: ten units,
// and ten more running at 500 hours.
func hours() []returns.Life {
	out := []returns.Life{{Time: 500, Weight: 10}}
	for _, h := range []float64{54, 187, 216, 240, 244, 335, 361, 373, 375, 386} {
		out = append(out, returns.Life{Time: h, Failed: true, Weight: 1})
	}
	return out
}

// survreg of R's survival, polished to 1e-12; profile limits by uniroot.
// Optimised values are compared to 1e-5, as the table states.
func TestWeibullAgainstPublishedData(t *testing.T) {
	table := published(t, "kaplan-meier.csv")
	maintained, not := lives(lifeTable(t, table, "aml_maintained", 0)), lives(lifeTable(t, table, "aml_nonmaintained", 0))
	sets := map[string][]returns.Life{
		"aml_maintained": maintained, "aml_nonmaintained": not, "aml_all": append(append([]returns.Life{}, maintained...), not...),
		"gehan_6mp": lives(lifeTable(t, table, "gehan_6mp", 0)), "nist_8412": hours(),
		"grouped_weights": {{12, true, 2}, {40, false, 10}, {90, true, 1}, {90, false, 25}, {200, true, 3}, {365, false, 60}, {365, true, 1}},
	}
	const optimised = 1e-5
	seen := 0
	for _, r := range published(t, "weibull.csv") {
		w, ok := returns.FitWeibull(sets[r.text("data")], 0.95)
		if !ok {
			t.Fatalf("%s: no fit", r.text("data"))
		}
		seen++
		what := r.text("data")
		var pieces float64
		for _, l := range sets[what] {
			pieces += l.Weight
		}
		besideConstantRate(t, what, sets[what], w.LogL, r)
		near(t, what+" pieces", pieces, r.num(t, "pieces"), 1e-15)
		near(t, what+" failed", w.Failed, r.num(t, "failed"), 1e-12)
		near(t, what+" shape", w.Shape, r.num(t, "shape"), optimised)
		near(t, what+" scale", w.Scale, r.num(t, "scale"), optimised)
		near(t, what+" ln L", w.LogL, r.num(t, "logl"), optimised)
		near(t, what+" se ln shape", w.SELogShape, r.num(t, "se_log_shape"), optimised)
		near(t, what+" se ln scale", w.SELogScale, r.num(t, "se_log_scale"), optimised)
		near(t, what+" covariance", w.CovLog, r.num(t, "cov"), optimised)
		nearLimits(t, what+" Wald", w.Wald, r.num(t, "wald_low"), r.num(t, "wald_high"), optimised)
		nearLimits(t, what+" profile", w.Profile, r.num(t, "profile_low"), r.num(t, "profile_high"), optimised)
	}
	if seen != len(sets) {
		t.Errorf("%d data sets met, want %d", seen, len(sets))
	}
	// The handbook itself prints 1.7207 and 606.5280.
	if w, _ := returns.FitWeibull(hours(), 0.95); math.Abs(w.Shape-1.7207) > 0.0002 || math.Abs(w.Scale-606.5280) > 0.01 {
		t.Errorf("handbook example: shape %.4f, scale %.4f", w.Shape, w.Scale)
	}
}

func TestWithoutTwoTimesOrAFailureNoShapeIsFitted(t *testing.T) {
	for name, l := range map[string][]returns.Life{
		"nothing":          nil,
		"no failure":       {{10, false, 5}, {20, false, 5}},
		"one time":         {{10, true, 5}, {10, false, 5}},
		"a time of 0":      {{0, true, 1}, {10, true, 1}},
		"only empty lives": {{5, true, 0}, {10, true, 0}},
	} {
		if _, ok := returns.FitWeibull(l, 0.95); ok {
			t.Errorf("%s: fitted", name)
		}
	}
}

// drawn draws pieces whose lives follow a Weibull distribution, watched 400 days.
func drawn(rng *rand.Rand, shape, failing float64, pieces int) []returns.Unit {
	scale := 400 / math.Pow(-math.Log(1-failing), 1/shape)
	var units []returns.Unit
	for i := range pieces {
		day := int(math.Ceil(scale * math.Pow(-math.Log(rng.Float64()), 1/shape)))
		u := returns.Unit{Entry: -1, Exit: min(day, 400), Event: day <= 400, Weight: 1, Line: i}
		units = append(units, u)
	}
	return units
}

// The words are right where the shape is far from 1 and rare where it is 1 (the
// share of false words of the profile limits in R's runs: 0.05 to 0.07).
func TestWhenPartsFail(t *testing.T) {
	set := settings(t)
	rng := rand.New(rand.NewPCG(7, 20260402))
	count := func(shape float64, runs int) map[returns.ShapeWord]int {
		n := map[returns.ShapeWord]int{}
		for range runs {
			n[returns.WhenTheyFail(drawn(rng, shape, 0.1, 800), set).Word]++
		}
		return n
	}
	if n := count(1, 120); n[returns.EarlyFailures]+n[returns.WearsOut] > 15 {
		t.Errorf("shape 1: %v", n)
	}
	if n := count(2, 30); n[returns.WearsOut] < 27 {
		t.Errorf("shape 2: %v", n)
	}
	if n := count(0.6, 30); n[returns.EarlyFailures] < 24 || n[returns.WearsOut] > 0 {
		t.Errorf("shape 0.6: %v", n)
	}
	few := returns.WhenTheyFail(drawn(rng, 2, 0.001, 100), set)
	dead := returns.WhenTheyFail([]returns.Unit{{Entry: -1, Exit: 0, Event: true, Weight: 20}, {Entry: -1, Exit: 90, Weight: 20}}, set)
	if few.Word != returns.FewToShape || dead.Word != returns.FewToShape {
		t.Errorf("few failures %q, dead on arrival only %q", few.Word, dead.Word)
	}
}

func TestPartTypesThatDisagree(t *testing.T) {
	at := func(observed ...float64) float64 {
		_, p := returns.TypesDisagree(observed, []float64{10, 10, 5}, rand.New(rand.NewPCG(1, 2)).Float64)
		return p
	}
	if p := at(20, 2, 1); p > 0.01 {
		t.Errorf("one type has nearly all failures: p = %.4f", p)
	}
	if p := at(9, 11, 5); p < 0.5 {
		t.Errorf("all as expected: p = %.4f", p)
	}
	if p := at(0, 0, 0); p != 1 {
		t.Errorf("nothing failed: p = %.4f", p)
	}
	// The exact multinomial chance for two types of equal weight and four
	// failures at one: 2/2⁴.
	if _, p := returns.TypesDisagree([]float64{4, 0}, []float64{3, 3}, rand.New(rand.NewPCG(3, 4)).Float64); math.Abs(p-0.125) > 0.02 {
		t.Errorf("four at one of two: p = %.4f", p)
	}
	if x, _ := returns.TypesDisagree([]float64{4, 0}, []float64{3, 3}, rand.New(rand.NewPCG(3, 4)).Float64); math.Abs(x-4) > 1e-12 {
		t.Errorf("chi-square %.4f, want 4", x)
	}
}
