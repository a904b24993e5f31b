package returns

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// proportion returns x/n with the widest limits, and whether there is anything
// to compute: with n = 0 every share is possible (estimate NaN, limits 0 and
// 1); x outside 0..n or conf outside (0, 1) gives NaN throughout.
func proportion(x, n, conf float64) (Interval, bool) {
	switch {
	case !(x >= 0 && x <= n && conf > 0 && conf < 1) || math.IsInf(n, 0):
		return nowhere(), false
	case n == 0:
		return Interval{math.NaN(), 0, 1}, false
	}
	return Interval{x / n, 0, 1}, true
}

// ClopperPearson returns the guaranteed interval for x of n, quantile
// (1 − conf)/2 of Beta(x, n − x + 1) to quantile 1 − (1 − conf)/2 of
// Beta(x + 1, n − x): it never covers less often than conf. x and n may be real.
// Special cases: n = 0 gives 0 to 1 with estimate NaN; x outside 0..n gives NaN.
// Source: "The use of confidence or fiducial limits illustrated in the
// case of the binomial", 1934 (from memory).
func ClopperPearson(x, n, conf float64) Interval {
	iv, ok := proportion(x, n, conf)
	if !ok {
		return iv
	}
	if x > 0 {
		iv.Low = distuv.Beta{Alpha: x, Beta: n - x + 1}.Quantile((1 - conf) / 2)
	}
	if x < n {
		iv.High = distuv.Beta{Alpha: x + 1, Beta: n - x}.Quantile(1 - (1-conf)/2)
	}
	return iv
}

// MidP returns the mid-P interval for x of n: the quantiles of the half-and-half
// mixture of the two betas of ClopperPearson, which are the roots of
// P(X > x) + ½P(X = x) = (1 − conf)/2 and its mirror image. It is the interval
// shown for shares of sold units and the twin of the one ShareReturned gives
// while units are still out. Special cases as ClopperPearson. Source: "Significance
// tests in discrete distributions", 1961 (from memory).
func MidP(x, n, conf float64) Interval {
	iv, ok := proportion(x, n, conf)
	if !ok {
		return iv
	}
	// The chance that a binomial share p puts x or more failures on the sheet,
	// the failures at x itself counted half; it rises with p.
	asMany := func(p float64) float64 { return upperMidP(x, n, p) }
	if x > 0 {
		iv.Low = bisect(asMany, (1-conf)/2, 0, 1)
	}
	if x < n {
		iv.High = bisect(asMany, 1-(1-conf)/2, 0, 1)
	}
	return iv
}

// upperMidP returns P(X > x) + ½P(X = x) for X ~ Binomial(n, p), continued to
// real x and n by the incomplete beta function (NIST DLMF 8.17.5).
func upperMidP(x, n, p float64) float64 {
	var above float64
	if x < n {
		above = mathext.RegIncBeta(x+1, n-x, p)
	}
	return (atLeast(x, n, p) + above) / 2
}

// atLeast returns P(X ≥ x) for X ~ Binomial(n, p), continued in the same way.
func atLeast(x, n, p float64) float64 {
	if x <= 0 {
		return 1
	}
	return mathext.RegIncBeta(x, n-x+1, p)
}
