package coolant

import (
	"errors"
	"fmt"
	"math"

	"fitfill/catalog/units"
)

// Measured is a figure with how far it may be off; PM 0 is exact.
type Measured struct{ Value, PM float64 }

// CapacityQuestion is what was measured to find out how much a system holds
// without its book: strengths in vol % as poured before and after some of the
// coolant was replaced, mixed by running it hot, and the volumes in litres.
type CapacityQuestion struct {
	Before, After     Measured // vol %
	Drained, Refilled Measured // litres
	With              Measured // vol % of what was refilled; 0: water
}

// Capacity is how much a system holds, in litres, with the least and the most
// that the errors of what was measured allow.
type Capacity struct {
	Litres, Low, High float64
	Steps             []string
}

// ErrNoCapacity is returned where the two strengths cannot be told apart.
var ErrNoCapacity = errors.New("the two strengths are too near each other to tell: drain more, or refill with something further off")

// CapacityFrom returns how much the full system holds before the drain: what
// was drained plus what the rest must have been for the refill to bring it
// from one strength to the other,
//
//	V = d + r·(cr - c2) / (c2 - c1),
//
// with d drained, r refilled at cr, c1 before and c2 after, by the balance of
// glycol c1·(V-d) + cr·r = c2·(V-d+r). The bounds are the extremes over all
// combinations of the errors. ErrNoCapacity if these let the strengths meet;
// an error that says so if the strength went the wrong way.
func CapacityFrom(q CapacityQuestion) (Capacity, error) {
	if q.Drained.Value <= 0 || q.Refilled.Value <= 0 {
		return Capacity{}, errors.New("nothing was drained or nothing refilled")
	}
	c1, c2, cr := q.Before.Value, q.After.Value, q.With.Value
	if (c2-c1)*(cr-c1) < 0 || math.Abs(c2-c1) > math.Abs(cr-c1) {
		return Capacity{}, fmt.Errorf("%.3g %% cannot become %.3g %% by filling up with %.3g %%: measure again", c1, c2, cr)
	}
	out := Capacity{Low: math.Inf(1), High: math.Inf(-1)}
	hold := func(d, r, c1, c2, cr float64) (float64, bool) {
		if (c2-c1)*(q.After.Value-q.Before.Value) <= 0 {
			return 0, false
		}
		return d + r*(cr-c2)/(c2-c1), true
	}
	var ok bool
	if out.Litres, ok = hold(q.Drained.Value, q.Refilled.Value, c1, c2, cr); !ok {
		return Capacity{}, ErrNoCapacity
	}
	for corner := range 1 << 5 {
		at := func(m Measured, bit int) float64 {
			if corner>>bit&1 == 1 {
				return m.Value + m.PM
			}
			return max(m.Value-m.PM, 0)
		}
		v, ok := hold(at(q.Drained, 0), at(q.Refilled, 1), at(q.Before, 2), at(q.After, 3), at(q.With, 4))
		if !ok {
			return Capacity{}, ErrNoCapacity
		}
		out.Low, out.High = min(out.Low, v), max(out.High, v)
	}
	out.Low = max(out.Low, q.Drained.Value-q.Drained.PM)
	out.Steps = []string{
		fmt.Sprintf("from %.3g to %.3g %%, with %.3g L out and %.3g L of %.3g %% in", c1, c2, q.Drained.Value, q.Refilled.Value, cr),
		fmt.Sprintf("%.3g + %.3g·(%.3g - %.3g)/(%.3g - %.3g) = %.3g L", q.Drained.Value, q.Refilled.Value, cr, c2, c2, c1, out.Litres),
		fmt.Sprintf("with the strengths off by %.2g and %.2g, the amounts by %.2g and %.2g L: %.3g to %.3g L", q.Before.PM, q.After.PM, q.Drained.PM, q.Refilled.PM, out.Low, out.High),
	}
	return out, nil
}

// StrengthError returns how far a stated strength may be off, in vol %.
func (t *Tables) StrengthError() units.Percent { return units.Percents(t.lim.strengthPM) }

// JugError returns how far a volume read off a jug may be off.
func (t *Tables) JugError() units.Volume { return units.Litres(t.limits["level_reading"].value) }
