package units

import (
	"math/big"
	"strings"
)

// String prints t as ParseThread reads it: "M8x1.25x30", `5/16-18 x 1-1/4"`,
// "G1/4", "1/4 NPT".
func (t Thread) String() string {
	switch t.Kind {
	case ThreadMetric:
		s := "M" + plainMm(t.Nominal) + "x" + plainMm(t.Pitch)
		if t.Length.nm != 0 {
			s += "x" + plainMm(t.Length)
		}
		return s
	case ThreadInch:
		s := inchName(t.Nominal) + "-" + perInch(t.Pitch)
		if t.Length.nm != 0 {
			s += " x " + fractionOf(t.Length) + `"`
		}
		return s
	case ThreadG, ThreadR, ThreadNPT:
		for name, size := range pipeSizes {
			switch {
			case t.Kind == ThreadNPT && size.npt == t.Nominal:
				return name + " NPT"
			case t.Kind != ThreadNPT && size.g == t.Nominal:
				return string(t.Kind) + name
			}
		}
	}
	return t.Text
}

func plainMm(l Length) string { return strings.TrimSuffix(l.String(), " mm") }

func perInch(pitch Length) string {
	if pitch.nm == 0 {
		return "0"
	}
	return big.NewRat(nmPerInch, pitch.nm).FloatString(0)
}

// inchName is "#10" for a numbered size of ASME B1.1 and a fraction otherwise.
func inchName(l Length) string {
	if off := l.nm - 1_524_000; off >= 0 && off%330_200 == 0 && off/330_200 <= lastNumbered { // 0.060 in + n·0.013 in
		return "#" + big.NewInt(off/330_200).String()
	}
	return fractionOf(l)
}

// fractionOf prints inches as "1-1/4" down to sixty-fourths, as a decimal where
// they are none.
func fractionOf(l Length) string {
	const nmPer64th = nmPerInch / 64
	if l.nm%nmPer64th != 0 {
		return strings.TrimSuffix(l.Exact(UnitInch), " in")
	}
	whole, part := l.nm/nmPerInch, big.NewRat(l.nm%nmPerInch/nmPer64th, 64)
	switch {
	case part.Sign() == 0:
		return big.NewInt(whole).String()
	case whole == 0:
		return part.String()
	}
	return big.NewInt(whole).String() + "-" + part.String()
}
