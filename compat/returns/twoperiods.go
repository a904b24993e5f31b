package returns

import "math"

// TwoPeriods compares a supplier's failures before and after some day with
// what was expected of each stretch.
type TwoPeriods struct {
	Before, After Stretch
	// Ratio is by how much observed over expected rose: (O₂/E₂)/(O₁/E₁) with
	// exact limits; infinite where nothing failed before.
	Ratio Interval
	// Worse is the one-sided mid-P of a rise, Exact the one-sided exact P.
	Worse, Exact float64
}

// Stretch is failures observed and expected over some days.
type Stretch struct{ Observed, Expected float64 }

// CompareTwoPeriods tests whether the rate rose: given the sum,
// O₂ ~ Binomial(O₁ + O₂, E₂/(E₁ + E₂)). The ratio's limits are those of
// ClopperPearson for that share π, turned by π/(1 − π)·E₁/E₂. Without any
// failure or with nothing expected in a stretch, every ratio is possible and
// Worse is ½. Source: "Homogeneity of results in testing samples from Poisson
// series", 1940 (from memory).
func CompareTwoPeriods(before, after Stretch, conf float64) TwoPeriods {
	t := TwoPeriods{Before: before, After: after, Ratio: Interval{math.NaN(), 0, math.Inf(1)}, Worse: 0.5, Exact: 1}
	n := before.Observed + after.Observed
	if n <= 0 || before.Expected <= 0 || after.Expected <= 0 {
		return t
	}
	odds := func(p float64) float64 { return p / (1 - p) * before.Expected / after.Expected }
	iv := ClopperPearson(after.Observed, n, conf)
	t.Ratio = Interval{odds(iv.Est), odds(iv.Low), odds(iv.High)}
	share := after.Expected / (before.Expected + after.Expected)
	t.Worse = upperMidP(after.Observed, n, share)
	t.Exact = atLeast(after.Observed, n, share)
	return t
}
