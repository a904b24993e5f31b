package returns_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"fitfill/compat/returns"
)

// What is computed here stands in the published tables beside what the program
// uses, and was not chosen for it: limits of a curve that are narrow where few
// fail, limits of a count, two other corrections for many tests.

// limitsOfACurve compares the limits S^exp(±z·SE/(S·ln S)) and, where the table
// has them, S·exp(±z·SE/S), at most 1: conf.type "log-log" and "log" of R's
// survfit. Neither is told where all or nobody has failed.
func limitsOfACurve(t *testing.T, what string, s, se float64, r row) {
	t.Helper()
	z := distuv.UnitNormal.Quantile(0.975)
	column := func(name string, got float64) {
		if r.text(name) == "NA" {
			if s > 0 && s < 1 {
				t.Errorf("%s: R does not tell %s", what, name)
			}
			return
		}
		near(t, what+" "+name, got, r.num(t, name), exact)
	}
	wide := math.Exp(-z * se / (s * math.Log(s)))
	low, high := math.Pow(s, wide), math.Pow(s, 1/wide)
	if s == 1 {
		low, high = 1, 1
	}
	column("loglog_lo", low)
	column("loglog_hi", high)
	if _, has := r.cells["log_lo"]; has {
		column("log_lo", s*math.Exp(-z*se/s))
		column("log_hi", min(1, s*math.Exp(z*se/s)))
	}
}

// otherPoissonLimits compares the mid-P and the Jeffreys limits of a count.
func otherPoissonLimits(t *testing.T, o float64, r row) {
	t.Helper()
	what := fmt.Sprintf("count of %g", o)
	below := func(mean float64) float64 { // P(X < o) + ½·P(X = o)
		p := distuv.Poisson{Lambda: mean}
		return p.CDF(o-1) + p.Prob(o)/2
	}
	root := func(share float64) float64 {
		lo, hi := 1e-12, 10*o+100
		for range 200 {
			if mid := (lo + hi) / 2; below(mid) > share {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	}
	midP, jeffreys := returns.Interval{High: root(0.025)}, returns.Interval{High: distuv.Gamma{Alpha: o + 0.5, Beta: 1}.Quantile(0.975)}
	if o > 0 {
		midP.Low, jeffreys.Low = root(0.975), distuv.Gamma{Alpha: o + 0.5, Beta: 1}.Quantile(0.025)
	}
	nearLimits(t, what+" mid-P", midP, r.num(t, "midp95_lo"), r.num(t, "midp95_hi"), exact)
	nearLimits(t, what+" Jeffreys", jeffreys, r.num(t, "jeffreys95_lo"), r.num(t, "jeffreys95_hi"), exact)
	if g := returns.Garwood(o, 0.95); g.Low > midP.Low || g.High < midP.High {
		t.Errorf("%s: the exact limits %v are narrower than the mid-P ones %v", what, g, midP)
	}
}

// holm and yekutieli are p.adjust(p, "holm") and "BY" of R. Both ask for more
// than the correction in use and never find more than it.
func holm(p []float64) []float64 {
	out, m := make([]float64, len(p)), float64(len(p))
	var last float64
	for rank, i := range rising(p) {
		last = max(last, min(1, (m-float64(rank))*p[i]))
		out[i] = last
	}
	return out
}

func yekutieli(p []float64) []float64 {
	out, m := make([]float64, len(p)), float64(len(p))
	var harmonic float64
	for k := range p {
		harmonic += 1 / float64(k+1)
	}
	last := 1.0
	order := rising(p)
	for rank, i := range slices.Backward(order) {
		last = min(last, harmonic*m/float64(rank+1)*p[i])
		out[i] = last
	}
	return out
}

// rising returns the places of p in rising order.
func rising(p []float64) []int {
	order := make([]int, len(p))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case p[a] < p[b]:
			return -1
		case p[a] > p[b]:
			return 1
		}
		return 0
	})
	return order
}

// besideConstantRate compares the likelihood ratio of a Weibull shape of 1: a
// constant failure rate Σ failed/Σ time.
func besideConstantRate(t *testing.T, what string, lives []returns.Life, logL float64, r row) {
	t.Helper()
	var time, failed float64
	for _, l := range lives {
		time += l.Time * l.Weight
		if l.Failed {
			failed += l.Weight
		}
	}
	ratio := 2 * (logL - (failed*math.Log(failed/time) - failed))
	near(t, what+" mean life at a constant rate", time/failed, r.num(t, "exp_mean"), exact)
	near(t, what+" likelihood ratio", ratio, r.num(t, "lr_beta1"), 1e-5)
	near(t, what+" p of a constant rate", distuv.ChiSquared{K: 1}.Survival(max(0, ratio)), r.num(t, "p_beta1"), 1e-5)
}
