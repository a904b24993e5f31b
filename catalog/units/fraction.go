package units

import (
	"math/big"
	"strconv"

	"fitfill/catalog/pattern"
)

var (
	pureFraction  = pattern.New(`^/(\d{1,2})`).Needing("/")
	mixedFraction = pattern.New(`^(?: |-| ?& ?)(\d{1,2})/(\d{1,2})`).Needing("/")
)

// addFraction takes "/8" behind a 1, or "-1/8" or " 1/8" behind a 2, into the
// number: in the trade "2-1/8" is 2 + 1/8. Only reduced fractions in halves
// down to sixty-fourths and thirds count, so that "22/24" and "82/95" stay two
// values.
func addFraction(n numeral, rest string) (numeral, string) {
	if m := pureFraction.FindStringSubmatch(rest); m != nil && !digit(rest, len(m[0])) && n.val.IsInt() {
		if f, ok := tradeFraction(n.val.Num().String(), m[1]); ok {
			return numeral{val: f, fraction: true}, rest[len(m[0]):]
		}
		return n, rest
	}
	if m := mixedFraction.FindStringSubmatch(rest); m != nil && !digit(rest, len(m[0])) {
		if f, ok := tradeFraction(m[1], m[2]); ok {
			return numeral{val: f.Add(f, n.val), fraction: true}, rest[len(m[0]):]
		}
	}
	return n, rest
}

func tradeFraction(num, den string) (*big.Rat, bool) {
	a, errA := strconv.ParseInt(num, 10, 32)
	b, errB := strconv.ParseInt(den, 10, 32)
	if errA != nil || errB != nil || a < 1 || b <= a {
		return nil, false
	}
	switch b {
	case 2, 3, 4, 8, 16, 32, 64:
	default:
		return nil, false
	}
	f := big.NewRat(a, b)
	return f, f.Denom().Int64() == b
}
