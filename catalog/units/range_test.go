package units_test

import (
	"testing"

	"fitfill/catalog/units"
)

func TestTorqueRanges(t *testing.T) {
	pf, nm := units.PoundFeet, units.NewtonMetres
	for _, c := range []struct {
		text      string
		dflt      units.Unit
		low, high units.Torque
	}{
		{"15-22 ft-lb", "", pf(15), pf(22)}, {"15 – 22 lbf·ft", "", pf(15), pf(22)}, {"15 to 22 lb ft", "", pf(15), pf(22)},
		{"15 ft.lbs.-22 ft.lbs.", "", pf(15), pf(22)}, {"20..30", units.UnitNewtonM, nm(20), nm(30)}, {"24,5 Nm", "", nm(24.5), nm(24.5)},
		{"20-30 N·m (15-22 lbf·ft)", "", nm(20), nm(30)}, {"7-1/2 to 10 lb-ft", "", pf(7.5), pf(10)},
	} {
		low, high, err := units.ParseTorqueRange(c.text, c.dflt)
		if err != nil || low != c.low || high != c.high {
			t.Errorf("%q: got %v to %v, %v", c.text, low, high, err)
		}
	}
	for _, r := range []refusal{
		{"22-15 Nm", "", units.ErrUnreadable, "backwards"}, {"15/22 ft-lb", "", units.ErrUnreadable, "not a range"}, {"15-22", "", units.ErrAmbiguous, "N·m"},
		{"20-30 N·m (15-30 lbf·ft)", "", units.ErrUnreadable, "do not agree"}, {"20 Nm + 90°", "", units.ErrUnreadable, "+ 90°"},
		{"18 lbs", "", units.ErrUnreadable, "lbs"}, {"10-20-30 Nm", "", units.ErrUnreadable, "-30 Nm"},
	} {
		_, _, err := units.ParseTorqueRange(r.text, r.dflt)
		checkRefused(t, r, err)
	}
	_, err := units.ParseTorque("15-22 ft-lb", "")
	checkRefused(t, refusal{"15-22 ft-lb", "", units.ErrUnreadable, "two values"}, err)
}

func TestTemperatureAndLengthRanges(t *testing.T) {
	c := units.Celsius
	for text, want := range map[string][2]units.Temperature{
		"82-95 C": {c(82), c(95)}, "82/95": {c(82), c(95)}, "82 °C/203 °F": {c(82), c(95)}, "180/203 F": {units.Fahrenheit(180), c(95)},
		"88/190": {c(88), c(88)}, "-37--20 °C": {c(-37), c(-20)}, "-37 °C to -20 °C": {c(-37), c(-20)},
	} {
		low, high, err := units.ParseTemperatureRange(text, "")
		if err != nil || low != want[0] || high != want[1] {
			t.Errorf("%q: got %v to %v, %v", text, low, high, err)
		}
	}
	for _, r := range []refusal{{"95/82", "", units.ErrUnreadable, "backwards"}, {"82=95 C", "", units.ErrUnreadable, "do not agree"}} {
		_, _, err := units.ParseTemperatureRange(r.text, r.dflt)
		checkRefused(t, r, err)
	}
	for text, want := range map[string][2]float64{
		"22-24 mm": {22, 24}, `1-1/2 to 1-3/4"`: {38.1, 44.45}, "22 mm - 24 mm": {22, 24}, "12,5-13,5 mm": {12.5, 13.5}, "22 mm to 2.4 cm": {22, 24},
	} {
		low, high, err := units.ParseLengthRange(text, "")
		if err != nil || low != units.Millimetres(want[0]) || high != units.Millimetres(want[1]) {
			t.Errorf("%q: got %v to %v, %v", text, low, high, err)
		}
	}
}
