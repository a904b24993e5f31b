package coolant

import (
	"fmt"
	"math"

	"fitfill/catalog/units"
)

// Ambient returns the air pressure at an altitude in the standard atmosphere,
// p = 101.325·(1 - 2.25577e-5·h)^5.25588 kPa, h in metres, to 11 km above
// or below sea level; an error outside.
func (t *Tables) Ambient(altitude units.Length) (units.Pressure, error) {
	h := altitude.Millimetres() / 1000
	if h > t.lim.airCeiling || h < -t.lim.airCeiling {
		return units.Pressure{}, fmt.Errorf("%.0f m is outside the standard atmosphere, which is on file up to %.0f m", h, t.lim.airCeiling)
	}
	return units.Kilopascals(t.lim.airPressure * math.Pow(1-t.lim.airLapse*h, t.lim.airExponent)), nil
}
