package coolant

import (
	"errors"
	"math"

	"fitfill/catalog/units"
)

// ErrNothingDrains is returned where no round takes any of the old coolant out.
var ErrNothingDrains = errors.New("nothing drains: no number of rounds gets the old coolant out")

// rounding forgives what divisions leave: half out twice is a quarter.
const rounding = 1e-9

// FlushRounds returns how many drain-and-refill rounds, mixed in between, bring
// the old fill down to left, and what then is left of it, (1-f)^n, where f is
// the share that drains. ErrNothingDrains where f is not above zero, or where
// nothing may stay and not all of it drains.
func FlushRounds(f float64, left units.Percent) (n int, remains units.Percent, err error) {
	switch want := left.Fraction(); {
	case f >= 1:
		return 1, units.Percent{}, nil
	case f <= 0 || want <= 0:
		return 0, units.Percent{}, ErrNothingDrains
	case want >= 1:
		n = 1
	default:
		n = max(int(math.Ceil(math.Log(want)/math.Log(1-f)-rounding)), 1)
	}
	return n, units.Percents(100 * math.Pow(1-f, float64(n))), nil
}

// FlushThrough returns the water that has to run through a system, fully mixed
// all the while, until only left of the old fill is in it: Q = -V·ln(left).
// ErrNothingDrains where nothing may stay.
func FlushThrough(system units.Volume, left units.Percent) (units.Volume, error) {
	if left.Fraction() <= 0 {
		return units.Volume{}, ErrNothingDrains
	}
	return system.Scale(max(-math.Log(left.Fraction()), 0)), nil
}

// brew is what stands in the system, in litres as poured, each measured apart.
type brew struct{ old, fresh, water float64 }

func (b brew) all() float64 { return b.old + b.fresh + b.water }

// strength is vol % as poured, both glycols together.
func (b brew) strength() float64 {
	if all := b.all(); all > 0 {
		return 100 * (b.old + b.fresh) / all
	}
	return 0
}

// foreign is the old coolant's part in the concentrate, in per cent.
func (b brew) foreign() float64 {
	if g := b.old + b.fresh; g > 0 {
		return 100 * b.old / g
	}
	return 0
}

func (b brew) scale(f float64) brew { return brew{b.old * f, b.fresh * f, b.water * f} }

func (b brew) add(c brew) brew { return brew{b.old + c.old, b.fresh + c.fresh, b.water + c.water} }

// course is a way to flush: how much drains, what may be poured and how often.
type course struct {
	volume, drain float64 // litres
	oldLow        float64 // strength of the old fill, vol %; the weakest
	oldHigh       float64 // and the strongest that it may be
	bottle        float64 // strength of what is poured, vol %
	target        float64 // vol %
	slack         float64 // vol % by which the end may fall short
	rounds        int
	fresh         int // how many of the last rounds get coolant instead of water
}

// pour is what goes in after one drain, in litres.
type pour struct{ bottle, water float64 }

// refill returns the mix x of the last m rounds, in vol %, that ends at the
// target: T = x - (x - s)·q with q = (1-f)^m and s what stands before them, so
// x = (T - s·q)/(1-q), kept between water and the bottle. Where the target is
// the bottle's own strength, that is poured undiluted.
func (c *course) refill() (x float64, over bool) {
	if c.slack > 0 {
		return c.bottle, false
	}
	keep := 1 - c.drain/c.volume
	s := c.oldLow * math.Pow(keep, float64(c.rounds-c.fresh))
	q := math.Pow(keep, float64(c.fresh))
	x = (c.target - s*q) / (1 - q)
	return min(max(x, 0), c.bottle), x < -rounding
}

// pours returns what goes in after each drain.
func (c *course) pours() []pour {
	x, _ := c.refill()
	list := make([]pour, c.rounds)
	for i := range list {
		list[i] = pour{water: c.drain}
		if i >= c.rounds-c.fresh && c.bottle > 0 {
			b := c.drain * x / c.bottle
			list[i] = pour{bottle: b, water: c.drain - b}
		}
	}
	return list
}

// run returns what stands after each round, for an old fill of that strength.
func (c *course) run(old float64, pours []pour) []brew {
	now := brew{old: c.volume * old / 100, water: c.volume * (1 - old/100)}
	list := make([]brew, len(pours))
	for i, p := range pours {
		glycol := p.bottle * c.bottle / 100
		now = now.scale(1 - c.drain/c.volume).add(brew{fresh: glycol, water: p.bottle - glycol + p.water})
		list[i] = now
	}
	return list
}

// ends returns what stands at the end, for the weakest and the strongest old
// fill.
func (c *course) ends() (low, high brew) {
	pours := c.pours()
	a, b := c.run(c.oldLow, pours), c.run(c.oldHigh, pours)
	return a[len(a)-1], b[len(b)-1]
}

// left is the share of the old fill that is still in, in per cent.
func (c *course) left(rounds int) float64 {
	return 100 * math.Pow(max(1-c.drain/c.volume, 0), float64(rounds))
}
