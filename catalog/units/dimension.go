package units

import (
	"math"
	"math/big"
	"strconv"
	"sync"
)

// scale ties a unit to the base unit of its quantity: base = (v − zero)·factor.
// Format prints between min and max decimals.
type scale struct {
	factor, zero *big.Rat
	min, max     int
	places       func() places
}

// dimension is everything that parsing and printing know of one quantity.
type dimension struct {
	quantity  string
	stored    Unit
	scales    map[Unit]*scale
	names     func() map[string]Unit // made when a unit is first read by its name
	order     []Unit                 // the usual readings of a bare number
	fractions bool
	floor     int64 // least value that can exist, in base units
	floorSays string
}

// rat reads a constant of this package; a slip in one stops every program at
// its start.
func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("units: bad constant " + s)
	}
	return r
}

func product(factors ...string) *big.Rat {
	p := big.NewRat(1, 1)
	for _, f := range factors {
		p.Mul(p, rat(f))
	}
	return p
}

func times(factor string, min, max int) *scale { return offset(rat(factor), "0", min, max) }

func offset(factor *big.Rat, zero string, min, max int) *scale {
	s := &scale{factor: factor, zero: rat(zero), min: min, max: max}
	s.places = sync.OnceValue(func() places { return placesOf(s) })
	return s
}

var half = big.NewRat(1, 2)

// base converts v in u to whole base units, halves away from zero. It is false
// where the result does not fit.
func (d *dimension) base(v *big.Rat, u Unit) (int64, bool) {
	s := d.scales[u]
	r := new(big.Rat).Sub(v, s.zero)
	r.Mul(r, s.factor)
	neg := r.Sign() < 0
	r.Abs(r).Add(r, half)
	q := new(big.Int).Quo(r.Num(), r.Denom())
	if neg {
		q.Neg(q)
	}
	return q.Int64(), q.IsInt64() && q.Int64() != math.MinInt64
}

// in converts base units to u without rounding.
func (d *dimension) in(base int64, u Unit) *big.Rat {
	s := d.scales[u]
	r := new(big.Rat).SetInt64(base)
	return r.Quo(r, s.factor).Add(r, s.zero)
}

// check refuses what cannot exist.
func (d *dimension) check(base int64, inRange bool) *ParseError {
	if !inRange {
		return unreadable("is too large a number for a "+d.quantity, "check the digits")
	}
	if base < d.floor {
		return unreadable(d.floorSays, "check the sign and the unit")
	}
	return nil
}

// readings lists what a bare number could be, for the question to the person.
func (d *dimension) readings(number string) string {
	s := "could be "
	for i, u := range d.order {
		switch {
		case i > 0 && i == len(d.order)-1:
			s += " or "
		case i > 0:
			s += ", "
		}
		s += number + " " + string(u)
	}
	return s
}

func plainNumber(r *big.Rat) string {
	if r.IsInt() {
		return r.Num().String()
	}
	f, _ := r.Float64()
	return strconv.FormatFloat(f, 'f', -1, 64)
}
