package returns_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"fitfill/compat/returns"
)

// wald is the interval of the normal approximation, which may begin below 0.
func wald(x, n, conf float64) returns.Interval {
	p := x / n
	half := distuv.UnitNormal.Quantile(1-(1-conf)/2) * math.Sqrt(p*(1-p)/n)
	return returns.Interval{Est: p, Low: p - half, High: p + half}
}

// How often five intervals cover a true share, summed exactly over all counts
// that can come up, at 400 shares from 0.002 to 0.15 of even steps in their
// logarithm (dbinom in R 4.2.2). It is why mid-P limits are shown: on average
// they cover what they say at every size, and nowhere fall far below it.
func TestHowOftenLimitsOfAShareCover(t *testing.T) {
	methods := map[string]func(x, n, conf float64) returns.Interval{
		"wald": wald, "wilson": wilson, "jeffreys": jeffreys, "clopper_pearson": returns.ClopperPearson, "midp": returns.MidP,
	}
	const shares = 400
	for _, r := range published(t, "proportions-coverage.csv") {
		n, method := r.num(t, "n"), r.text("method")
		var limits []returns.Interval
		for x := 0.0; x <= n && x <= 0.15*n+12*math.Sqrt(0.15*n)+20; x++ { // beyond, the chance is below any figure here
			limits = append(limits, methods[method](x, n, 0.95))
		}
		var mean, below, above, width float64
		least := 1.0
		for k := range shares {
			p := 0.002 * math.Pow(0.15/0.002, float64(k)/(shares-1))
			binomial := distuv.Binomial{N: n, P: p}
			var cover float64
			for x, iv := range limits {
				chance := binomial.Prob(float64(x))
				switch {
				case p < iv.Low:
					below += chance / shares
				case p > iv.High:
					above += chance / shares
				default:
					cover += chance
				}
				width += chance * (iv.High - iv.Low) / shares
			}
			mean += cover / shares
			least = min(least, cover)
		}
		what := fmt.Sprintf("%s of %g", method, n)
		const printed = 1e-6 // R's figures have eight digits
		near(t, what+" mean", mean, r.num(t, "mean_cov"), printed)
		near(t, what+" least", least, r.num(t, "min_cov"), printed)
		near(t, what+" below", below, r.num(t, "mean_miss_p_below"), 1e-5)
		near(t, what+" above", above, r.num(t, "mean_miss_p_above"), 1e-5)
		near(t, what+" width", width, r.num(t, "mean_width"), printed)
		if method == "midp" && (mean < 0.95 || least < 0.91) {
			t.Errorf("%s covers %g on average, %g at least", what, mean, least)
		}
	}
}
