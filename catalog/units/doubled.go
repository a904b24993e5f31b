package units

import (
	"math/big"
	"strings"
)

// span is what a text states: one value (low = high) or two.
type span struct {
	low, high int64
	first     value // as printed, for the error
	second    value
	pair      bool // two values, not one stated once or twice
	slash     bool
}

// agreeWithin is how far two statements of one temperature may lie apart: 1 °C,
// the slip of a conversion rounded to whole degrees.
const agreeWithin = 1000 // m°C

// slack is the half of the last printed digit, in base units: a rounded
// conversion is as good as its digits. A fraction is taken as it stands.
func (d *dimension) slack(v value, u Unit) *big.Rat {
	if v.fraction {
		return new(big.Rat)
	}
	ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(v.places)), nil)
	ulp := new(big.Rat).SetFrac(big.NewInt(1), ten)
	return ulp.Mul(ulp, d.scales[u].factor).Mul(ulp, half)
}

// agree reports whether two values in different units state the same thing.
func (d *dimension) agree(a, b value, dflt Unit) bool {
	ua, errA := d.unitOf(a, dflt)
	ub, errB := d.unitOf(b, dflt)
	x, okA := int64(0), false
	y, okB := int64(0), false
	if errA == nil && errB == nil {
		x, okA = d.base(a.val, ua)
		y, okB = d.base(b.val, ub)
	}
	if !okA || !okB || ua == ub {
		return false
	}
	apart := new(big.Rat).SetInt(new(big.Int).Sub(big.NewInt(x), big.NewInt(y)))
	apart.Abs(apart)
	if d == temperatures {
		return apart.Cmp(big.NewRat(agreeWithin, 1)) <= 0
	}
	return apart.Cmp(new(big.Rat).Add(d.slack(a, ua), d.slack(b, ub))) <= 0
}

// restated checks a bracket behind a statement, "(-33.5 °F)" or "(20-30 N·m)",
// against what was read before it.
func (d *dimension) restated(sp span, bracket string, dflt Unit) *ParseError {
	inner, ok := strings.CutSuffix(strings.TrimPrefix(bracket, "("), ")")
	if !ok {
		return unreadable("has a bracket that does not close", "write one value and its unit")
	}
	again, perr := d.read(strings.Trim(inner, " "), dflt, false)
	if perr != nil {
		return perr
	}
	if again.pair != sp.pair || !d.agree(sp.first, again.first, dflt) || sp.pair && !d.agree(sp.second, again.second, dflt) {
		return unreadable("states two values that do not agree", "keep the one that is right")
	}
	return nil
}
