package returns

import "math"

// Hazard is what is believed of the cumulative failure rate of a part type
// within some days, at a supplier whose log relative rate is 0: a gamma
// distribution with mean Shape/Rate.
type Hazard struct{ Shape, Rate float64 }

// Hazard returns the failure rate of a part type within day days. Its centre is
// h = Σ d/Σ_s Y_s·e^{b_s} at the mean b of the posterior, its shape d + ½ and its
// rate d/h + ½/h̄, where h̄ is the same sum over all part types together: half an
// event is borrowed from them. Where the type never failed the rate is
// ½/h̄ + Σ w·e^b·H̄(exit)/H̄(day), its pieces counted by the share of the rate they
// have lived through. day is cut at the score horizon, beyond which no failures
// were collected. It is false without any failure or without a posterior.
func (c Comparison) Hazard(partType, day int) (Hazard, bool) {
	if len(c.Posterior.Fits) == 0 || c.Failures == 0 {
		return Hazard{}, false
	}
	rate := make([]float64, len(c.Compared))
	for s := range rate {
		for k, f := range c.Posterior.Fits {
			rate[s] += c.Posterior.Weights[k] * f.B[s]
		}
		rate[s] = math.Exp(rate[s])
	}
	var own, failed float64
	horizon := 0
	for _, r := range c.Table.Rows {
		horizon = max(horizon, r.Day)
		if r.PartType == partType && r.Day <= day {
			failed += r.Failed / c.design
			own += r.hazard(rate)
		}
	}
	pooled := make([]Unit, len(c.units))
	for i, u := range c.units {
		pooled[i] = u
		pooled[i].PartType = 0
	}
	all := RiskTable(pooled, len(c.Compared), min(day, horizon)).Rows
	upTo := func(exit int) (h float64) {
		for _, r := range all {
			if r.Day <= exit {
				h += r.hazard(rate)
			}
		}
		return h
	}
	shop := upTo(day)
	switch {
	case shop == 0:
		return Hazard{}, false
	case failed > 0:
		return Hazard{Shape: failed + 0.5, Rate: failed/own + 0.5/shop}, true
	}
	h := Hazard{Shape: 0.5, Rate: 0.5 / shop}
	for _, u := range c.units {
		if u.PartType == partType && u.seen() {
			h.Rate += u.Weight / c.design * rate[u.Supplier] * (upTo(u.Exit) - upTo(u.Entry)) / shop
		}
	}
	return h, true
}

// hazard returns the step d/Σ_s Y_s·rate_s of the cumulative rate.
func (r RiskRow) hazard(rate []float64) float64 {
	var y float64
	for s := range rate {
		y += r.AtRisk[s] * rate[s]
	}
	return r.Failed / y
}
