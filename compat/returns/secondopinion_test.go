package returns_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	"fitfill/compat/returns"
)

// fisher returns the one-sided p values of a 2×2 table (failed and kept of one
// supplier, of the other) given its margins: at least a, at most a, and the mid-P
// of at least a.
func fisher(a, b, c, d float64) (greater, less, mid, two float64) {
	choose := func(n, k float64) float64 { return lgamma(n+1) - lgamma(k+1) - lgamma(n-k+1) }
	prob := func(x float64) float64 {
		return math.Exp(choose(a+b, x) + choose(c+d, a+c-x) - choose(a+b+c+d, a+c))
	}
	at := prob(a)
	for x := max(0, a-d); x <= min(a+b, a+c); x++ {
		p := prob(x)
		if x >= a {
			greater += p
		}
		if x <= a {
			less += p
		}
		if p <= at*(1+1e-7) {
			two += p
		}
	}
	return greater, less, greater - at/2, two
}

// fisher.test of R 4.2.2. Where every piece was followed to one day, the second
// look is the binomial form of the same question: it never sounds surer than the
// exact one, and agrees with it where few of many fail.
func TestSecondLookBesideFishersExactTest(t *testing.T) {
	for _, r := range published(t, "fisher.csv") {
		a, b, c, d := r.num(t, "a"), r.num(t, "b"), r.num(t, "c"), r.num(t, "d")
		what := fmt.Sprintf("%g of %g and %g of %g", a, a+b, c, c+d)
		greater, less, mid, two := fisher(a, b, c, d)
		near(t, what+" greater", greater, r.num(t, "p_greater"), exact)
		near(t, what+" less", less, r.num(t, "p_less"), exact)
		near(t, what+" mid-P", mid, r.num(t, "midp_greater"), exact)
		near(t, what+" two-sided", two, r.num(t, "p_two"), exact)

		units := []returns.Unit{
			{Supplier: 0, Entry: -1, Exit: 10, Event: true, Weight: a}, {Supplier: 0, Entry: -1, Exit: 400, Weight: b},
			{Supplier: 1, Entry: -1, Exit: 10, Event: true, Weight: c}, {Supplier: 1, Entry: -1, Exit: 400, Weight: d},
		}
		e := returns.RiskTable(units, 2, 365).Expect()
		look := returns.WorseThanShare(a, e.Expected[0], a+c)
		if math.Abs(look-0.5) > math.Abs(mid-0.5)+1e-12 {
			t.Errorf("%s: the second look says %g, the exact test only %g", what, look, mid)
		}
		if (a+c)/(a+b+c+d) < 0.07 && math.Abs(look-mid) > 0.02 {
			t.Errorf("%s: the second look says %g, the exact test %g", what, look, mid)
		}
	}
}

// funnelLimit is where so many failures lie that a count falls below with the
// chance p, interpolated between whole counts: r the least with P(X ≤ r) ≥ p and
// (r − α)/size with α = (P(X ≤ r) − p)/P(X = r). Source: "Funnel plots for
// comparing institutional performance", 2005 (from memory).
func funnelLimit(p, size float64, prob func(x float64) float64) float64 {
	var sum float64
	for r := 0.0; ; r++ {
		at := prob(r)
		if sum += at; sum >= p {
			return (r - (sum-p)/at) / size
		}
	}
}

// qpois and qbinom of R 4.2.2. On the invented shop the lines say what the model
// says: only the supplier that it calls worse lies above the upper one.
func TestModelBesideFunnelLimits(t *testing.T) {
	poisson := func(mean float64) func(float64) float64 {
		return func(x float64) float64 { return math.Exp(x*math.Log(mean) - mean - lgamma(x+1)) }
	}
	for _, r := range published(t, "funnel.csv") {
		size := r.num(t, "size")
		prob := poisson(size * r.num(t, "theta"))
		if r.text("kind") == "binomial" {
			prob = distuv.Binomial{N: size, P: r.num(t, "theta")}.Prob
		}
		for column, p := range map[string]float64{"lo998": 0.001, "lo95": 0.025, "hi95": 0.975, "hi998": 0.999} {
			near(t, fmt.Sprintf("%s %g %s", r.text("kind"), size, column), funnelLimit(p, size, prob), r.num(t, column), exact)
		}
	}
	l, c := shopComparison(t)
	for _, st := range c.Standings {
		above := st.Ratio.Est > funnelLimit(0.975, st.Expected, poisson(st.Expected))
		if above != (st.Word == returns.Worse) {
			t.Errorf("%s: %s, and O/E of %g above the line: %v", l.Suppliers[st.Supplier], st.Word, st.Ratio.Est, above)
		}
	}
}

// gammaFrailty shrinks the relative rates by a gamma instead of a normal spread:
// θ_s ← (a + O_s)/(a + E*_s) with E*_s = Σ_j Y_js·d_j/Σ_r θ_r·Y_jr and a = 1/τ²,
// until nothing moves.
func gammaFrailty(table returns.Table, tau float64) (theta, expected []float64) {
	a := 1 / (tau * tau)
	theta = slices.Repeat([]float64{1}, table.Suppliers)
	for range 100_000 {
		expected = make([]float64, table.Suppliers)
		observed := make([]float64, table.Suppliers)
		for _, r := range table.Rows {
			var at float64
			for s, y := range r.AtRisk {
				at += theta[s] * y
			}
			for s, y := range r.AtRisk {
				expected[s] += y * r.Failed / at
				observed[s] += r.FailedOf[s]
			}
		}
		moved := 0.0
		for s := range theta {
			next := (a + observed[s]) / (a + expected[s])
			moved, theta[s] = max(moved, math.Abs(next-theta[s])), next
		}
		if moved < 1e-14 {
			break
		}
	}
	return theta, expected
}

// gammaFrailtyLogL is the likelihood with the gamma rates integrated out and the
// failure rate of each day at its best, d_j/Σ_r θ_r·Y_jr:
// Σ_s [a·ln a − ln Γ(a) + ln Γ(a + O_s) − (a + O_s)·ln(a + E*_s)] + Σ_j d_j·ln(d_j/Σ_r θ_r·Y_jr).
// What R prints as the integrated log-likelihood leaves the failure rates out: it
// is greater by Σ_j d_j·(1 − ln d_j), whatever the spread.
func gammaFrailtyLogL(table returns.Table, tau float64, theta, expected []float64) (logL, moreInR float64) {
	a := 1 / (tau * tau)
	observed := make([]float64, table.Suppliers)
	for _, r := range table.Rows {
		var at float64
		for s, y := range r.AtRisk {
			at += theta[s] * y
			observed[s] += r.FailedOf[s]
		}
		logL += r.Failed * math.Log(r.Failed/at)
		moreInR += r.Failed * (1 - math.Log(r.Failed))
	}
	for s := range theta {
		logL += a*math.Log(a) - lgamma(a) + lgamma(a+observed[s]) - (a+observed[s])*math.Log(a+expected[s])
	}
	return logL, moreInR
}

// coxph of R's survival with frailty(distribution = "gamma") on the invented
// shop. Both frailties put the suppliers into one order, except where their rates
// are within a tenth.
func TestNormalFrailtyBesideTheGammaOne(t *testing.T) {
	l, c := shopComparison(t)
	checked := 0
	for tau, label := range map[float64]string{0.2: "0.2", 0.5: "0.5", 1: "1.0"} {
		theta, expected := gammaFrailty(c.Table, tau)
		logL, moreInR := gammaFrailtyLogL(c.Table, tau, theta, expected)
		near(t, "what R leaves out", moreInR, 28-12*math.Ln2, exact) // 28 failures, on six days two at once
		for _, r := range published(t, "shop-gamma-frailty.csv") {
			if r.text("section") == "em_L_tau"+label {
				near(t, "ln L at "+label+" "+r.text("item"), logL, r.num(t, "value"), exact)
				checked++
			}
			of, ok := map[string][]float64{"em_theta_tau" + label: theta, "em_E_tau" + label: expected}[r.text("section")]
			if ok {
				near(t, r.text("section")+" "+r.text("item"), of[slices.Index(l.Suppliers, r.text("item"))], r.num(t, "value"), exact)
				checked++
			}
		}
		fit, err := c.Table.FitSpread(tau, nil)
		if err != nil {
			t.Fatal(err)
		}
		for a := range theta {
			for b := range theta {
				if theta[a] > 1.1*theta[b] && fit.B[a] <= fit.B[b] {
					t.Errorf("spread %g: %s is worse than %s by the gamma frailty (%g, %g) and not by the normal one", tau, l.Suppliers[a], l.Suppliers[b], theta[a], theta[b])
				}
			}
		}
	}
	if checked != 33 {
		t.Errorf("%d figures checked", checked)
	}
}

// pbeta and integrate of R 4.2.2: the chance that one of two independent rates is
// the greater. With two suppliers of equal exposure, known hazards and a vague
// spread, the model's P(A worse than B) is within a few hundredths of it.
func TestPairChancesBesideClosedForms(t *testing.T) {
	gamma := func(a1, b1, a2, b2 float64) float64 { return 1 - mathext.RegIncBeta(a1, a2, b1/(b1+b2)) }
	for _, r := range published(t, "pair-chances.csv") {
		a1, b1, a2, b2 := r.num(t, "a1"), r.num(t, "b1"), r.num(t, "a2"), r.num(t, "b2")
		got := gamma(a1, b1, a2, b2)
		if r.text("kind") == "beta" {
			first, second := distuv.Beta{Alpha: a1, Beta: b1}, distuv.Beta{Alpha: a2, Beta: b2}
			// In the first one's own quantiles nothing is left of its pole at nought.
			got = quad.Fixed(func(p float64) float64 { return second.CDF(first.Quantile(p)) }, 0, 1, 400, quad.Legendre{}, 0)
		}
		near(t, strings.Join([]string{r.text("kind"), r.text("a1"), r.text("b1"), r.text("a2"), r.text("b2")}, " "), got, r.num(t, "p_first_greater"), 1e-5)
	}
	set := settings(t)
	for _, o := range [][2]float64{{12, 12}, {20, 12}, {9, 21}, {30, 12}} {
		var units []returns.Unit
		for s, failed := range o {
			units = append(units, returns.Unit{Supplier: s, Entry: -1, Exit: 10, Event: true, Weight: failed}, returns.Unit{Supplier: s, Entry: -1, Exit: 400, Weight: 1000 - failed})
		}
		fit, err := returns.RiskTable(units, 2, set.ScoreHorizon).FitSpread(2, nil)
		if err != nil {
			t.Fatal(err)
		}
		model := returns.Believe([]returns.Fit{fit}, set.Spread).Contrast([]float64{1, -1}).Positive()
		if closed := gamma(o[0]+0.5, 1, o[1]+0.5, 1); math.Abs(model-closed) > 0.03 {
			t.Errorf("%g against %g failures: the model says %.3f, the closed form %.3f", o[0], o[1], model, closed)
		}
	}
}
