package units

import (
	"math"
	"math/big"
)

// places prints a scale in whole numbers of its last decimal,
// (base·num + add)/den, halves away from zero. An answer writes some thousand
// quantities, and a fraction of any size costs twenty times as much.
type places struct {
	num, add, den int64
	most          int64 // of base, to either side; 0 where the scale does not come out in such numbers
}

// placesOf returns the whole numbers of a scale, from
// 10^max·(base/factor + zero).
func placesOf(s *scale) places {
	last := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(s.max)), nil))
	per := new(big.Rat).Quo(last, s.factor)
	zero := new(big.Rat).Mul(last, s.zero)
	add := zero.Mul(zero, new(big.Rat).SetInt(per.Denom()))
	if !per.Num().IsInt64() || !per.Denom().IsInt64() || !add.IsInt() || !add.Num().IsInt64() {
		return places{}
	}
	p := places{num: per.Num().Int64(), add: add.Num().Int64(), den: per.Denom().Int64()}
	const room = math.MaxInt64 / 4 // for add, and for twice the rest
	if p.den > room || p.add > room || p.add < -room {
		return places{}
	}
	p.most = room / p.num
	return p
}

func (p places) holds(base int64) bool { return -p.most <= base && base <= p.most && p.most > 0 }

// print writes what decimal writes of the same number, and the unit.
func (p places) print(base int64, s *scale, unit string) string {
	v := base*p.num + p.add
	whole, rest := v/p.den, v%p.den
	switch {
	case 2*rest >= p.den:
		whole++
	case 2*rest <= -p.den:
		whole--
	}
	neg := whole < 0
	if neg {
		whole = -whole
	}
	n := 0 // decimals
	for n = s.max; n > s.min && whole%10 == 0; n-- {
		whole /= 10
	}
	var room [48]byte
	at := len(room)
	at -= copy(room[at-len(unit):], unit) // no name of a unit is longer than ten bytes
	at--
	room[at] = ' '
	for i := 0; i <= n || whole > 0; i++ {
		if i == n && n > 0 {
			at--
			room[at] = '.'
		}
		at--
		room[at] = byte('0' + whole%10)
		whole /= 10
	}
	if neg {
		at--
		room[at] = '-'
	}
	return string(room[at:])
}
