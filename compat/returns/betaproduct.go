package returns

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// product is the distribution of a product of independent Beta(a, b) variables,
// replaced by the one Beta with the same mean and variance. The empty product
// is the point 1; a factor (0, b) makes it the point 0.
type product struct {
	mean, miss   float64 // Σ ln E X, Σ ln of E X²/E X
	spread       float64 // Σ ln of E X²/(E X)²
	factors      int
	pinnedAtZero bool
}

func (p product) times(a, b float64) product {
	if a <= 0 {
		p.pinnedAtZero = true
		return p
	}
	p.mean += math.Log1p(-b / (a + b))
	p.miss += math.Log1p(-b / (a + b + 1))
	p.spread += math.Log1p(b / (a * (a + b + 1)))
	p.factors++
	return p
}

// beta returns the parameters with S1 = E, S2 = E of the square:
// α = S1(S1−S2)/(S2−S1²), β = (1−S1)(S1−S2)/(S2−S1²), written with differences
// of logarithms so that a large fleet with few failures loses no digits.
func (p product) beta() (alpha, beta float64) {
	alpha = -math.Expm1(p.miss) / math.Expm1(p.spread)
	return alpha, alpha * -math.Expm1(p.mean) / math.Exp(p.mean)
}

func (p product) cdf(x float64) float64 {
	switch {
	case x >= 1 || p.pinnedAtZero:
		return 1
	case p.factors == 0 || x <= 0:
		return 0
	}
	a, b := p.beta()
	return mathext.RegIncBeta(a, b, x)
}

func (p product) quantile(q float64) float64 {
	switch {
	case p.pinnedAtZero:
		return 0
	case p.factors == 0:
		return 1
	}
	a, b := p.beta()
	return distuv.Beta{Alpha: a, Beta: b}.Quantile(q)
}

// BetaProduct returns the limits of the survival share behind steps at
// confidence conf, mid-P and guaranteed. watched is the number still under
// watch past the last day asked for; design divides every count (1 = pieces
// fail independently). The upper variable W⁻ is the product of
// Beta(Y − d + 1, d) over the failure days, the lower W⁺ has the further factor
// Beta(watched, 1). Guaranteed: quantile (1 − conf)/2 of W⁺ to quantile
// 1 − (1 − conf)/2 of W⁻. Mid-P: both quantiles of ½W⁺ + ½W⁻. Nobody still
// watched: the lower limit is 0. Nobody censored: the limits of ClopperPearson
// and MidP. Not proven for late entry. Source: "Pointwise confidence
// intervals for a survival distribution with small samples or heavy censoring",
// Biostatistics 2013 (from memory).
func BetaProduct(steps []Step, watched, design, conf float64) (mid, guaranteed Interval) {
	var upper product
	s := 1.0
	for _, st := range steps {
		if st.Failed > 0 {
			upper = upper.times((st.AtRisk-st.Failed)/design+1, st.Failed/design)
		}
		s *= 1 - st.Failed/st.AtRisk
	}
	lower := upper.times(watched/design, 1)
	tail := (1 - conf) / 2
	guaranteed = Interval{s, lower.quantile(tail), upper.quantile(1 - tail)}
	mixture := func(x float64) float64 { return (lower.cdf(x) + upper.cdf(x)) / 2 }
	mid = Interval{Est: s, High: 1}
	if !lower.pinnedAtZero {
		mid.Low = bisect(mixture, tail, 0, 1)
	}
	if upper.factors > 0 {
		mid.High = bisect(mixture, 1-tail, 0, 1)
	}
	return mid, guaranteed
}
