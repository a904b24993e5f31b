package returns_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"fitfill/compat/returns"
)

// oneFit is a posterior without any doubt about the spread.
func oneFit(mean []float64, cov []float64) returns.Posterior {
	return returns.Posterior{Fits: []returns.Fit{{Tau: 1, B: mean, V: mat.NewSymDense(len(mean), cov)}}, Weights: []float64{1}}
}

// 400-point Gauss-Legendre integration in R 4.2.2.
func TestExpectedCostAgainstR(t *testing.T) {
	for _, r := range published(t, "cost.csv") {
		sd := r.num(t, "b_sd")
		p := oneFit([]float64{r.num(t, "b_mean")}, []float64{sd * sd})
		h := returns.Hazard{Shape: r.num(t, "h_shape"), Rate: r.num(t, "h_rate")}
		share := returns.ExpectedCost(p.Contrast([]float64{1}), h, returns.PartCost{PerFailure: 1}, 0.95)
		what := "case " + r.text("case")
		near(t, what+" mean share", share.Est, r.num(t, "EF"), 1e-4)
		nearLimits(t, what+" share", share, r.num(t, "F_lo"), r.num(t, "F_hi"), 2e-4)
		middle := returns.ExpectedCost(p.Contrast([]float64{1}), h, returns.PartCost{PerFailure: 1}, 1e-9)
		nearLimits(t, what+" median share", middle, r.num(t, "F_med"), r.num(t, "F_med"), 2e-4)
		cost := returns.ExpectedCost(p.Contrast([]float64{1}), h, returns.PartCost{Price: r.num(t, "price"), PerFailure: r.num(t, "kappa")}, 0.95)
		near(t, what+" cost", cost.Est, r.num(t, "cost_mean"), 1e-5)
		nearLimits(t, what+" cost", cost, r.num(t, "cost_lo"), r.num(t, "cost_hi"), 1e-4)
	}
}

// 120×120-point Gauss-Legendre integration in R 4.2.2: supplier 0 fails often
// and costs 62, supplier 1 seldom and costs 74; 95 a failure.
func TestBreakEvenAgainstR(t *testing.T) {
	want := map[string]float64{}
	for _, r := range published(t, "break-even.csv") {
		want[r.text("item")] = r.num(t, "value")
	}
	cov := -0.3 * 0.33 * 0.36
	p := oneFit([]float64{0.75, -0.22}, []float64{0.33 * 0.33, cov, cov, 0.36 * 0.36})
	h := returns.Hazard{Shape: 9.5, Rate: 140}
	got := returns.BreakEvenGap(p, 1, 0, h, returns.PartCost{Price: 74, PerFailure: 95}, returns.PartCost{Price: 62, PerFailure: 95}, 0.95)
	for _, c := range []struct {
		item      string
		got, band float64
	}{
		{"breakeven_mean", got.Mean, 0.05}, {"breakeven_median", got.Gap.Est, 0.05}, {"breakeven_lo", got.Gap.Low, 0.15},
		{"breakeven_hi", got.Gap.High, 0.15}, {"P_dear_supplier_cheaper_overall", got.ACheaper, 0.003},
	} {
		if w, ok := want[c.item]; !ok || math.Abs(c.got-w) > c.band {
			t.Errorf("%s: got %.5f, want %.5f within %g", c.item, c.got, w, c.band)
		}
	}
}

func TestHazardOfTheShop(t *testing.T) {
	set := settings(t)
	l := returns.Match(shop(t), set)
	c := compare(t, l.Units, len(l.Suppliers), set)
	for g, name := range l.PartTypes {
		h, ok := c.Hazard(g, 365)
		if !ok {
			t.Fatalf("%s: no failure rate", name)
		}
		var failed float64
		for s := range l.Suppliers {
			o, _ := c.Table.ByType(s, g)
			failed += o
		}
		near(t, name+" shape", h.Shape, failed+0.5, 1e-12)
		cheap, ok := c.CostPerPart(0, g, 365, returns.PartCost{Price: 10, PerFailure: 100}, 0.95)
		dear, ok2 := c.CostPerPart(3, g, 365, returns.PartCost{Price: 10, PerFailure: 100}, 0.95)
		if !ok || !ok2 || !(10 < cheap.Low && cheap.Low < cheap.Est && cheap.Est < cheap.High && cheap.Est < dear.Est) {
			t.Errorf("%s: %v against the supplier that fails most %v", name, cheap, dear)
		}
	}
}

// A part type that never failed: its rate counts the pieces by the share of the
// shop's rate that they have lived through, here all of it.
func TestHazardOfATypeThatNeverFailed(t *testing.T) {
	var units []returns.Unit
	for i := range 10 {
		units = append(units, returns.Unit{Supplier: i % 2, Entry: -1, Exit: 30 * i, Event: true, Weight: 1, Line: i})
	}
	units = append(units, returns.Unit{Supplier: 0, Entry: -1, Exit: 400, Weight: 45, Line: 20}, returns.Unit{Supplier: 1, Entry: -1, Exit: 400, Weight: 45, Line: 21})
	none := []returns.Unit{{Supplier: 0, PartType: 1, Entry: -1, Exit: 400, Weight: 10, Line: 30}, {Supplier: 1, PartType: 1, Entry: -1, Exit: 400, Weight: 10, Line: 31}}
	set := settings(t)
	set.DesignEffectFrom = math.MaxFloat64
	c := compare(t, append(units, none...), 2, set)
	h, ok := c.Hazard(1, 365)
	var a, b float64
	for k, f := range c.Posterior.Fits {
		a += c.Posterior.Weights[k] * f.B[0]
		b += c.Posterior.Weights[k] * f.B[1]
	}
	// ½/h̄ is what is left when the pieces' own share is taken off.
	left := h.Rate - 10*math.Exp(a) - 10*math.Exp(b)
	if !ok || h.Shape != 0.5 || left <= 0 || math.Abs(0.5/left-10/115.0) > 0.01 {
		t.Errorf("%+v, shop's rate %s", h, fmt.Sprint(0.5/left))
	}
}
