package units

import (
	"math/big"
	"strings"
)

// decimal prints r with at most max decimals, halves away from zero, and drops
// trailing zeros down to min decimals.
func decimal(r *big.Rat, min, max int) string {
	s := r.FloatString(max)
	if i := strings.IndexByte(s, '.'); i >= 0 {
		for len(s)-i-1 > min && s[len(s)-1] == '0' {
			s = s[:len(s)-1]
		}
		s = strings.TrimSuffix(s, ".")
	}
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// format prints base for people; a unit of another quantity gives the stored one.
func (d *dimension) format(base int64, u Unit) string {
	s, ok := d.scales[u]
	if !ok {
		u = d.stored
		s = d.scales[u]
	}
	if p := s.places(); p.holds(base) {
		return p.print(base, s, string(u))
	}
	return decimal(d.in(base, u), s.min, s.max) + " " + string(u)
}

// mostDecimals is more than any unit here needs to tell base units apart.
const mostDecimals = 14

// exact prints the fewest decimals that read back as the same base units.
func (d *dimension) exact(base int64, u Unit) string {
	if _, ok := d.scales[u]; !ok {
		u = d.stored
	}
	r := d.in(base, u)
	s := ""
	for n := 0; n <= mostDecimals; n++ {
		s = decimal(r, n, n)
		back, ok := new(big.Rat).SetString(s)
		if !ok {
			break
		}
		if b, ok := d.base(back, u); ok && b == base {
			break
		}
	}
	return s + " " + string(u)
}

// Format prints t for people in u, to one decimal where it is not whole:
// "82 °C", "195 °F". A unit of another quantity gives °C.
func (t Temperature) Format(u Unit) string { return temperatures.format(t.milliC, u) }

// Exact prints t in u with the fewest digits that ParseTemperature reads back
// as t; in °C that is every stored digit.
func (t Temperature) Exact(u Unit) string { return temperatures.exact(t.milliC, u) }

// String is Exact in °C.
func (t Temperature) String() string { return t.Exact(UnitCelsius) }

// Format prints d for people in K, °C or °F, to one decimal where not whole.
func (d TempDelta) Format(u Unit) string { return tempDeltas.format(d.milliK, u) }

// Exact prints d in u with the fewest digits that ParseTempDelta reads back as d.
func (d TempDelta) Exact(u Unit) string { return tempDeltas.exact(d.milliK, u) }

// String is Exact in K.
func (d TempDelta) String() string { return d.Exact(UnitKelvin) }

// Format prints l for people in u: "54.0 mm", "3.53 mm", "2.125 in". A unit of
// another quantity gives mm.
func (l Length) Format(u Unit) string { return lengths.format(l.nm, u) }

// Exact prints l in u with the fewest digits that ParseLength reads back as l.
func (l Length) Exact(u Unit) string { return lengths.exact(l.nm, u) }

// String is Exact in mm.
func (l Length) String() string { return l.Exact(UnitMillimetre) }

// Format prints v for people in u: "0.8 L", "1.59 US qt", "3802 cm³". A unit of
// another quantity gives litres.
func (v Volume) Format(u Unit) string { return volumes.format(v.nl, u) }

// Exact prints v in u with the fewest digits that ParseVolume reads back as v.
func (v Volume) Exact(u Unit) string { return volumes.exact(v.nl, u) }

// String is Exact in litres.
func (v Volume) String() string { return v.Exact(UnitLitre) }

// Format prints t for people in u: "24.5 N·m", "18 lbf·ft". A unit of another
// quantity gives N·m.
func (t Torque) Format(u Unit) string { return torques.format(t.unm, u) }

// Exact prints t in u with the fewest digits that ParseTorque reads back as t.
func (t Torque) Exact(u Unit) string { return torques.exact(t.unm, u) }

// String is Exact in N·m.
func (t Torque) String() string { return t.Exact(UnitNewtonM) }

// Format prints p for people in u: "103 kPa", "15 psi", "1.03 bar". A unit of
// another quantity gives kPa.
func (p Pressure) Format(u Unit) string { return pressures.format(p.mpa, u) }

// Exact prints p in u with the fewest digits that ParsePressure reads back as p.
func (p Pressure) Exact(u Unit) string { return pressures.exact(p.mpa, u) }

// String is Exact in kPa.
func (p Pressure) String() string { return p.Exact(UnitKilopascal) }

// Format prints p for people, to one decimal where it is not whole: "50 %".
// There is only one unit, UnitPercent.
func (p Percent) Format(u Unit) string { return percents.format(p.e4, u) }

// Exact prints every stored digit of p, without trailing zeros.
func (p Percent) Exact(u Unit) string { return percents.exact(p.e4, u) }

// String is Exact in %.
func (p Percent) String() string { return p.Exact(UnitPercent) }
