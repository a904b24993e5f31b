package returns

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// BreakEven says how much dearer supplier A's part may be than supplier B's of
// the same type before it costs more overall.
type BreakEven struct {
	Gap      Interval // median and limits, in the currency of the costs
	Mean     float64
	ACheaper float64 // probability that A is cheaper overall at the prices given
}

// draws is the number of points of the Halton sequence; in four dimensions they
// place the limits well within a hundredth of the spread.
const draws = 20_000

// BreakEvenGap compares columns a and b of the posterior for one part type with
// the same h for both and their joint log rates: gap = κ_b·F_b − κ_a·F_a. The
// integral runs over a fixed low-discrepancy sequence, so the same question has
// the same answer to the last digit. Source: "On the efficiency of certain
// quasi-random sequences of points in evaluating multi-dimensional integrals",
// 1960 (from memory).
func BreakEvenGap(p Posterior, a, b int, h Hazard, costA, costB PartCost, conf float64) BreakEven {
	gamma := distuv.Gamma{Alpha: h.Shape, Beta: h.Rate}
	gaps := make([]float64, draws)
	var out BreakEven
	for i := range gaps {
		f := p.pick(halton(i+1, 2))
		sdA := math.Sqrt(f.V.At(a, a))
		slope := f.V.At(a, b) / sdA
		zA, zB := distuv.UnitNormal.Quantile(halton(i+1, 3)), distuv.UnitNormal.Quantile(halton(i+1, 5))
		bA := f.B[a] + sdA*zA
		bB := f.B[b] + slope*zA + math.Sqrt(max(0, f.V.At(b, b)-slope*slope))*zB
		lived := gamma.Quantile(halton(i+1, 7))
		lossA := costA.PerFailure * -math.Expm1(-math.Exp(bA)*lived)
		lossB := costB.PerFailure * -math.Expm1(-math.Exp(bB)*lived)
		gaps[i] = lossB - lossA
		out.Mean += gaps[i] / draws
		if costA.Price+lossA < costB.Price+lossB {
			out.ACheaper += 1.0 / draws
		}
	}
	slices.Sort(gaps)
	at := func(q float64) float64 { return stat.Quantile(q, stat.LinInterp, gaps, nil) }
	out.Gap = Interval{at(0.5), at((1 - conf) / 2), at(1 - (1-conf)/2)}
	return out
}

// pick returns the fit whose share of the cumulative weights holds u.
func (p Posterior) pick(u float64) Fit {
	for k, w := range p.Weights {
		if u -= w; u < 0 {
			return p.Fits[k]
		}
	}
	return p.Fits[len(p.Fits)-1]
}

// halton returns the i-th point of the Halton sequence in the base, in (0, 1).
func halton(i, base int) float64 {
	f, x := 1.0, 0.0
	for ; i > 0; i /= base {
		f /= float64(base)
		x += f * float64(i%base)
	}
	return x
}
