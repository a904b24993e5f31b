package returns_test

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	"fitfill/compat/returns"
)

// shrinkage is a distribution of true rates between suppliers, estimated from
// their counts: Beta(Alpha, Beta) for shares, Gamma(Alpha, Beta) for rates against
// what was expected. A spread estimated as nought has an infinite Alpha. These
// closed forms are known from handbooks and draw a single supplier towards the
// others; their intervals are too narrow where few suppliers are compared, since
// the spread is taken as known, so no answer rests on them: they are a second
// opinion.
type shrinkage struct {
	Mean        float64
	Alpha, Beta float64
	LogL        float64 // of the maximum; 0 from moments
}

// shareMoments estimates the distribution of shares from x of n by moments: with
// m = Σx/Σn and S = Σn(p − m)²,
// ρ = [S − m(1−m)(K−1)]/[m(1−m)(N − Σn²/N − (K−1))], at least 0, and
// α + β = 1/ρ − 1. Source: "Proportions with extraneous variance: single and
// independent samples", 1973 (from memory).
func shareMoments(x, n []float64) shrinkage {
	var sumX, sumN, sumN2, s float64
	for i := range x {
		sumX, sumN, sumN2 = sumX+x[i], sumN+n[i], sumN2+n[i]*n[i]
	}
	m, k := sumX/sumN, float64(len(x))
	for i := range x {
		d := x[i]/n[i] - m
		s += n[i] * d * d
	}
	rho := max(0, (s-m*(1-m)*(k-1))/(m*(1-m)*(sumN-sumN2/sumN-(k-1))))
	size := 1/rho - 1
	return shrinkage{Mean: m, Alpha: m * size, Beta: (1 - m) * size}
}

// The size α + β or the shape of the gamma is looked for up to this; beyond it
// the suppliers are alike to every digit shown.
const alike = 1e7

// shareML maximises Σ ln C(n, x) + ln B(x+α, n−x+β) − ln B(α, β).
func shareML(x, n []float64) shrinkage {
	logL := func(mean, size float64) (sum float64) {
		a, b := mean*size, (1-mean)*size
		for i := range x {
			sum += -math.Log(n[i]+1) - mathext.Lbeta(x[i]+1, n[i]-x[i]+1) + mathext.Lbeta(x[i]+a, n[i]-x[i]+b) - mathext.Lbeta(a, b)
		}
		return sum
	}
	// Slopes of ln L towards α and β; a flat top is found by its slope, not by its
	// height.
	slopes := func(mean, size float64) (da, db float64) {
		a, b := mean*size, (1-mean)*size
		for i := range x {
			all := mathext.Digamma(size) - mathext.Digamma(n[i]+size)
			da += mathext.Digamma(x[i]+a) - mathext.Digamma(a) + all
			db += mathext.Digamma(n[i]-x[i]+b) - mathext.Digamma(b) + all
		}
		return da, db
	}
	best := func(size float64) float64 {
		return bisect(func(m float64) float64 { da, db := slopes(m, size); return db - da }, 1e-12, 1-1e-12)
	}
	size := math.Exp(bisect(func(v float64) float64 {
		m := best(math.Exp(v))
		da, db := slopes(m, math.Exp(v))
		return -m*da - (1-m)*db
	}, math.Log(1e-3), math.Log(alike)))
	m := best(size)
	return shrinkage{Mean: m, Alpha: m * size, Beta: (1 - m) * size, LogL: logL(m, size)}
}

// share returns the posterior share of x of n, with the quantiles of
// Beta(x + α, n − x + β) at conf.
func (s shrinkage) share(x, n, conf float64) returns.Interval {
	b := distuv.Beta{Alpha: x + s.Alpha, Beta: n - x + s.Beta}
	return returns.Interval{Est: b.Mean(), Low: b.Quantile((1 - conf) / 2), High: b.Quantile(1 - (1-conf)/2)}
}

// rateMoments estimates the distribution of O/E by moments: m = ΣO/ΣE and the
// variance A = [ΣE(O/E − m)² − (K−1)m]/[ΣE − ΣE²/ΣE], at least 0; shape m²/A,
// rate m/A. Source: "Mapping disease and mortality rates using empirical Bayes
// estimators", 1991, with the denominator that makes it unbiased (from memory).
func rateMoments(o, e []float64) shrinkage {
	var sumO, sumE, sumE2, s float64
	for i := range o {
		sumO, sumE, sumE2 = sumO+o[i], sumE+e[i], sumE2+e[i]*e[i]
	}
	m := sumO / sumE
	for i := range o {
		d := o[i]/e[i] - m
		s += e[i] * d * d
	}
	a := max(0, (s-float64(len(o)-1)*m)/(sumE-sumE2/sumE))
	return shrinkage{Mean: m, Alpha: m * m / a, Beta: m / a}
}

// rateML maximises the negative binomial likelihood of O with mean m·E and size
// a. With fixed above 0, m stays at it.
func rateML(o, e []float64, fixed float64) shrinkage {
	logL := func(m, a float64) (sum float64) {
		for i := range o {
			mu := m * e[i]
			sum += lgamma(o[i]+a) - lgamma(a) - lgamma(o[i]+1) + a*math.Log(a/(a+mu)) + o[i]*math.Log(mu/(a+mu))
		}
		return sum
	}
	best := func(a float64) float64 {
		if fixed > 0 {
			return fixed
		}
		return math.Exp(bisect(func(v float64) (slope float64) {
			for i := range o {
				mu := math.Exp(v) * e[i]
				slope += (o[i]+a)*mu/(a+mu) - o[i]
			}
			return slope
		}, -15, 15))
	}
	a := math.Exp(bisect(func(v float64) (slope float64) {
		a := math.Exp(v)
		m := best(a)
		for i := range o {
			mu := m * e[i]
			slope -= mathext.Digamma(o[i]+a) - mathext.Digamma(a) + math.Log(a/(a+mu)) + 1 - (o[i]+a)/(a+mu)
		}
		return slope
	}, math.Log(1e-3), math.Log(alike)))
	m := best(a)
	return shrinkage{Mean: m, Alpha: a, Beta: a / m, LogL: logL(m, a)}
}

// rate returns the posterior O/E, with the quantiles of Gamma(α + O, β + E).
func (s shrinkage) rate(o, e, conf float64) returns.Interval {
	g := distuv.Gamma{Alpha: s.Alpha + o, Beta: s.Beta + e}
	return returns.Interval{Est: g.Mean(), Low: g.Quantile((1 - conf) / 2), High: g.Quantile(1 - (1-conf)/2)}
}

func lgamma(v float64) float64 {
	l, _ := math.Lgamma(v)
	return l
}

// bisect finds where a rising function reaches nought between lo and hi.
func bisect(f func(float64) float64, lo, hi float64) float64 {
	for range 200 {
		if mid := lo + (hi-lo)/2; f(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo + (hi-lo)/2
}
