package returns

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// PartCost is what one piece costs, in any one currency.
type PartCost struct {
	Price      float64
	PerFailure float64 // repeat labour, fluids, freight and handling less the credit received
}

// The log rate is cut into cells over this many standard deviations each way;
// the limits then move by less than a ten-thousandth of themselves.
const (
	cells = 400
	reach = 8
)

// ExpectedCost returns price + per failure·F for a fitted piece, in the currency
// of cost: the mean, with limits at confidence conf. F = 1 − exp(−e^b·h), b from
// the posterior contrast of the supplier, h from the part type. Repeats of
// repeats are left out, which matters above F = 0.1.
func ExpectedCost(b Mixture, h Hazard, cost PartCost, conf float64) Interval {
	rate, mass := b.cut()
	gamma := distuv.Gamma{Alpha: h.Shape, Beta: h.Rate}
	var mean float64
	for i, r := range rate {
		// 1 − E exp(−r·h) over the gamma distribution of h.
		mean += mass[i] * (1 - math.Pow(1+r/h.Rate, -h.Shape))
	}
	atMost := func(f float64) float64 {
		lived := -math.Log1p(-f)
		var p float64
		for i, r := range rate {
			p += mass[i] * gamma.CDF(lived/r)
		}
		return p
	}
	tail := (1 - conf) / 2
	at := func(f float64) float64 { return cost.Price + cost.PerFailure*f }
	low, high := at(bisect(atMost, tail, 0, 1)), at(bisect(atMost, 1-tail, 0, 1))
	return Interval{at(mean), min(low, high), max(low, high)}
}

// cut returns e^b in the middle of each cell and the probability of the cell.
func (m Mixture) cut() (rate, mass []float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for k := range m.mean {
		lo = min(lo, m.mean[k]-reach*m.sd[k])
		hi = max(hi, m.mean[k]+reach*m.sd[k])
	}
	width := (hi - lo) / cells
	if width == 0 {
		return []float64{math.Exp(lo)}, []float64{1}
	}
	below := m.CDF(lo)
	for i := range cells {
		edge := lo + width*float64(i+1)
		upTo := m.CDF(edge)
		if upTo > below {
			rate = append(rate, math.Exp(edge-width/2))
			mass = append(mass, upTo-below)
		}
		below = upTo
	}
	return rate, mass
}

// CostPerPart returns ExpectedCost of a supplier's part of a type within day
// days; false where Hazard cannot say or the supplier is not compared.
func (c Comparison) CostPerPart(supplier, partType, day int, cost PartCost, conf float64) (Interval, bool) {
	s := c.columnOf(supplier)
	h, ok := c.Hazard(partType, day)
	if s < 0 || !ok {
		return Interval{}, false
	}
	only := make([]float64, len(c.Compared))
	only[s] = 1
	return ExpectedCost(c.Posterior.Contrast(only), h, cost, conf), true
}

func (c Comparison) columnOf(supplier int) int {
	for i, s := range c.Compared {
		if s == supplier {
			return i
		}
	}
	return -1
}
