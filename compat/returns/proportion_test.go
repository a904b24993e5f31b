package returns_test

import (
	"fmt"
	"math"
	"testing"

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
		}{{"wilson", returns.Wilson}, {"jeffreys", returns.Jeffreys}, {"cp", returns.ClopperPearson}, {"midp", returns.MidP}} {
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
		nearLimits(t, fmt.Sprintf("Byar of %g", o), returns.Byar(o, 0.95), r.num(t, "byar95_lo"), r.num(t, "byar95_hi"), exact)
	}
}

func TestNonsenseCountsGiveNoNumber(t *testing.T) {
	for _, f := range []func(x, n, conf float64) returns.Interval{returns.Wilson, returns.Jeffreys, returns.ClopperPearson, returns.MidP} {
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
		mirror := returns.MidP(n-x, n, 0.95)
		if math.Abs(mirror.Low-(1-mid.High)) > 1e-11 {
			t.Fatalf("sold and held: %v against %v", mid, mirror)
		}
	})
}
