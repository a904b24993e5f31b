package returns_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"fitfill/compat/returns"
)

// prop.test, binom.test and qbeta of R 4.2.2; mid-P by root finding in R.
func TestProportionLimitsAgainstR(t *testing.T) {
	for _, r := range published(t, "proportions.csv") {
		x, n := r.num(t, "x"), r.num(t, "n")
		for _, m := range []struct {
			name string
			f    func(x, n, conf float64) returns.Interval
		}{{"wilson", wilson}, {"jeffreys", jeffreys}, {"cp", returns.ClopperPearson}, {"midp", returns.MidP}} {
			got := m.f(x, n, 0.95)
			nearLimits(t, fmt.Sprintf("%s %g/%g", m.name, x, n), got, r.num(t, m.name+"_lo"), r.num(t, m.name+"_hi"), exact)
			near(t, "estimate", got.Est, x/n, 1e-15)
		}
	}
}

// poisson.test and qgamma of R 4.2.2; Byar's formula in R.
func TestPoissonLimitsAgainstR(t *testing.T) {
	for _, r := range published(t, "poisson.csv") {
		o := r.num(t, "O")
		nearLimits(t, fmt.Sprintf("Garwood 95 of %g", o), returns.Garwood(o, 0.95), r.num(t, "garwood95_lo"), r.num(t, "garwood95_hi"), exact)
		nearLimits(t, fmt.Sprintf("Garwood 99.8 of %g", o), returns.Garwood(o, 0.998), r.num(t, "garwood998_lo"), r.num(t, "garwood998_hi"), exact)
		otherPoissonLimits(t, o, r)
		closed := byar(o, 0.95)
		nearLimits(t, fmt.Sprintf("Byar of %g", o), closed, r.num(t, "byar95_lo"), r.num(t, "byar95_hi"), exact)
		if g := returns.Garwood(o, 0.95); o >= 3 && (math.Abs(g.Low-closed.Low) > 0.02 || math.Abs(g.High-closed.High) > 0.02) {
			t.Errorf("%g events: %v, by the closed form %v", o, g, closed)
		}
	}
}

func TestNonsenseCountsGiveNoNumber(t *testing.T) {
	for _, f := range []func(x, n, conf float64) returns.Interval{returns.ClopperPearson, returns.MidP} {
		for _, c := range [][3]float64{{3, 2, 0.95}, {-1, 2, 0.95}, {1, 2, 0}, {1, 2, 1}, {math.NaN(), 2, 0.95}, {1, math.Inf(1), 0.95}} {
			if got := f(c[0], c[1], c[2]); !math.IsNaN(got.Est) || !math.IsNaN(got.Low) || !math.IsNaN(got.High) {
				t.Errorf("%v gives %v", c, got)
			}
		}
		if got := f(0, 0, 0.95); got.Low != 0 || got.High != 1 {
			t.Errorf("nothing sold gives %v, want everything possible", got)
		}
	}
	if got := returns.Garwood(-1, 0.95); !math.IsNaN(got.Low) {
		t.Errorf("-1 events give %v", got)
	}
}

func TestLawsOfProportionLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := float64(rapid.IntRange(1, 2000).Draw(t, "n"))
		x := float64(rapid.IntRange(0, int(n)).Draw(t, "x"))
		mid, sure := returns.MidP(x, n, 0.95), returns.ClopperPearson(x, n, 0.95)
		if !(sure.Low <= mid.Low && mid.Low <= x/n && x/n <= mid.High && mid.High <= sure.High) {
			t.Fatalf("mid-P %v is not inside the guaranteed %v", mid, sure)
		}
		for name, other := range map[string]returns.Interval{"score": wilson(x, n, 0.95), "Jeffreys": jeffreys(x, n, 0.95)} {
			if width := mid.High - mid.Low; math.Abs(other.Low-mid.Low) > 0.4*width || math.Abs(other.High-mid.High) > 0.4*width {
				t.Fatalf("%g of %g: mid-P %v, %s %v", x, n, mid, name, other)
			}
		}
		mirror := returns.MidP(n-x, n, 0.95)
		if math.Abs(mirror.Low-(1-mid.High)) > 1e-11 {
			t.Fatalf("sold and held: %v against %v", mid, mirror)
		}
	})
}

// wilson is the score interval for x of n: centre (p + z²/2n)/(1 + z²/n),
// half-width z/(1 + z²/n)·√(p(1−p)/n + z²/4n²). Source: "Probable inference, the
// law of succession, and statistical inference", 1927 (from memory).
func wilson(x, n, conf float64) returns.Interval {
	z := distuv.UnitNormal.Quantile(1 - (1-conf)/2)
	p, shrink := x/n, 1+z*z/n
	centre, half := (p+z*z/(2*n))/shrink, z/shrink*math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return ended(x, n, centre-half, centre+half)
}

// jeffreys is the equal-tailed interval of Beta(x + ½, n − x + ½). Source:
// "Interval estimation for a binomial proportion", 2001 (from memory).
func jeffreys(x, n, conf float64) returns.Interval {
	b := distuv.Beta{Alpha: x + 0.5, Beta: n - x + 0.5}
	return ended(x, n, b.Quantile((1-conf)/2), b.Quantile(1-(1-conf)/2))
}

// ended sets the lower end to 0 for x = 0 and the upper to 1 for x = n.
func ended(x, n, low, high float64) returns.Interval {
	if x == 0 {
		low = 0
	}
	if x == n {
		high = 1
	}
	return returns.Interval{Est: x / n, Low: low, High: high}
}

// byar is the closed-form approximation of the Poisson limits,
// o(1 − 1/9o − z/(3√o))³ and (o+1)(1 − 1/(9(o+1)) + z/(3√(o+1)))³. Source:
// "Statistical methods in cancer research", volume II, 1987 (from memory).
func byar(o, conf float64) returns.Interval {
	z := distuv.UnitNormal.Quantile(1 - (1-conf)/2)
	cube := func(m, z float64) float64 {
		c := 1 - 1/(9*m) + z/(3*math.Sqrt(m))
		return m * c * c * c
	}
	iv := returns.Interval{Est: o, High: cube(o+1, z)}
	if o > 0 {
		iv.Low = max(0, cube(o, -z))
	}
	return iv
}
