package units

import "math/big"

// The ranges in which a bare engine size can only be one unit (common practice
// of catalogues): litres as 3.8, cubic centimetres as 3802. Between them, 232
// may be cubic inches or a small engine in cubic centimetres.
var (
	leastBareLitres, mostBareLitres = big.NewRat(6, 10), big.NewRat(99, 10)
	leastBareCc, mostBareCc         = big.NewRat(600, 1), big.NewRat(9999, 1)
)

// ParseDisplacement reads the size of an engine: "3.8 L", "3,8", "232 cu in",
// "232 CID", "3802 cc". A bare number from 0.6 to 9.9 is litres and one above
// 600 up to 9999 cubic centimetres, whatever dflt says; any other takes dflt if
// that is UnitCubicInch or UnitCubicCm and is refused (ErrAmbiguous) otherwise.
// 1 in³ is 16.387 064 cm³ exactly (NIST SP 811, appendix B.8).
func ParseDisplacement(text string, dflt Unit) (Volume, error) {
	const quantity = "engine size"
	sp, perr := volumes.whole(text, UnitLitre)
	switch {
	case perr != nil:
	case sp.pair:
		perr = unreadable("states two sizes where one is expected", "write one size and its unit")
	case sp.first.fraction:
		perr = unreadable("is a fraction", "write the size as a decimal number and its unit")
	case sp.first.unit == "":
		var u Unit
		if u, perr = bareDisplacement(sp.first.val, dflt); perr == nil {
			sp.low, perr = volumes.resolve(sp.first, u)
		}
	}
	if perr == nil && sp.low == 0 {
		perr = unreadable("is no size", "leave the cell empty where the size is not known")
	}
	if perr != nil {
		return Volume{}, perr.of(quantity, text)
	}
	return Volume{sp.low}, nil
}

func bareDisplacement(v *big.Rat, dflt Unit) (Unit, *ParseError) {
	within := func(lo, hi *big.Rat) bool { return v.Cmp(lo) >= 0 && v.Cmp(hi) <= 0 }
	switch {
	case within(leastBareLitres, mostBareLitres):
		return UnitLitre, nil
	case v.Cmp(leastBareCc) != 0 && within(leastBareCc, mostBareCc):
		return UnitCubicCm, nil
	case dflt == UnitCubicInch, dflt == UnitCubicCm:
		return dflt, nil
	}
	n := plainNumber(v)
	return "", ambiguous("could be "+n+" cubic inches or "+n+" cubic centimetres", `write "cu in", "cc" or "L" behind it`)
}
