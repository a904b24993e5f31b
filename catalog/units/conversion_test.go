package units_test

import (
	"math"
	"testing"

	"fitfill/catalog/units"
)

// The factors are those printed in NIST SP 811, appendix B.8 (exact ones in
// full, the rest to the digits printed there).
func TestFactorsAreThoseOfNISTSP811(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
		tol       float64
	}{
		{"195 °F in °C, t/°C = (t/°F − 32)/1.8", parsed(units.ParseTemperature("195 °F", "")).Celsius(), 163.0 / 1.8, 0.0005},
		{"-40 °F in °C", parsed(units.ParseTemperature("-40 °F", "")).Celsius(), -40, 0},
		{"0 K in °C", parsed(units.ParseTemperature("0 K", "")).Celsius(), -273.15, 0},
		{"1.8 °F of difference in K", parsed(units.ParseTempDelta("1.8 °F", "")).Kelvins(), 1, 0},
		{"1 in in mm", parsed(units.ParseLength("1 in", "")).Millimetres(), 25.4, 0},
		{"1 US gal in L", parsed(units.ParseVolume("1 US gal", "")).Litres(), 3.785411784, 0},
		{"1 US qt in L", parsed(units.ParseVolume("1 US qt", "")).Litres(), 0.9463529, 5e-8},
		{"1 US pt in L", parsed(units.ParseVolume("1 US pt", "")).Litres(), 0.4731765, 5e-8},
		{"1 US fl oz in mL", parsed(units.ParseVolume("1 US fl oz", "")).Litres() * 1000, 29.57353, 5e-6},
		{"1 imp gal in L", parsed(units.ParseVolume("1 imp gal", "")).Litres(), 4.54609, 0},
		{"1 imp fl oz in mL", parsed(units.ParseVolume("1 imp fl oz", "")).Litres() * 1000, 28.41306, 5e-6},
		{"1 in³ in cm³", parsed(units.ParseVolume("1 in³", "")).Litres() * 1000, 16.387064, 0},
		{"1 lbf·ft in N·m", parsed(units.ParseTorque("1 lbf·ft", "")).NewtonMetres(), 1.355818, 5e-7},
		{"1 lbf·in in N·m", parsed(units.ParseTorque("1 lbf·in", "")).NewtonMetres(), 0.1129848, 5e-7},
		{"1 kgf·m in N·m", parsed(units.ParseTorque("1 kgf·m", "")).NewtonMetres(), 9.80665, 0},
		{"1 psi in kPa", parsed(units.ParsePressure("1 psi", "")).Kilopascals(), 6.894757, 5e-7},
		{"1 kgf/cm² in kPa", parsed(units.ParsePressure("1 kgf/cm²", "")).Kilopascals(), 98.0665, 0},
		{"1 bar in kPa", parsed(units.ParsePressure("1 bar", "")).Kilopascals(), 100, 0},
		{"1 mbar in kPa", parsed(units.ParsePressure("1 mbar", "")).Kilopascals(), 0.1, 0},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s: got %v, want %v ± %v", c.name, c.got, c.want, c.tol)
		}
	}
}

// 1 lbf·ft is 0.3048 m × 0.45359237 kg × 9.80665 m/s² (NIST SP 811, appendix
// B.8), so 10 N·m is 7.375 621 lbf·ft and 88.507 458 lbf·in.
func TestTorqueIsReadTheSameFromEitherSide(t *testing.T) {
	ten := parsed(units.ParseTorque("10 N·m", ""))
	if got := ten.PoundFeet(); math.Abs(got-7.375621) > 1e-6 {
		t.Errorf("10 N·m is %v lbf·ft", got)
	}
	if got := ten.PoundInches(); math.Abs(got-88.507458) > 1e-6 {
		t.Errorf("10 N·m is %v lbf·in", got)
	}
	if back := parsed(units.ParseTorque("7.375621 lb-ft", "")); back.Format(units.UnitNewtonM) != "10 N·m" {
		t.Errorf("7.375621 lb-ft is %v", back)
	}
}

// The exact reading of a text and the float constructors agree to one base unit.
func TestParsingAndConstructorsAgree(t *testing.T) {
	for _, c := range []struct{ got, want int64 }{
		{parsed(units.ParseTemperature("195 F", "")).MilliCelsius(), units.Fahrenheit(195).MilliCelsius()},
		{parsed(units.ParseLength(`2-1/8"`, "")).Nanometres(), units.Inches(2.125).Nanometres()},
		{parsed(units.ParseVolume("5 US qt", "")).Nanolitres(), units.USQuarts(5).Nanolitres()},
		{parsed(units.ParseVolume("5 imp qt", "")).Nanolitres(), units.ImperialQuarts(5).Nanolitres()},
		{parsed(units.ParseTorque("18 ft-lb", "")).MicronewtonMetres(), units.PoundFeet(18).MicronewtonMetres()},
		{parsed(units.ParseTorque("90 in-lb", "")).MicronewtonMetres(), units.PoundInches(90).MicronewtonMetres()},
		{parsed(units.ParsePressure("15 psi", "")).Millipascals(), units.PSI(15).Millipascals()},
	} {
		if d := c.got - c.want; d < -1 || d > 1 {
			t.Errorf("parsed %d, constructed %d", c.got, c.want)
		}
	}
}

// parsed stops the test at once: a text that is not read has no value to compare.
func parsed[Q any](q Q, err error) Q {
	if err != nil {
		panic(err)
	}
	return q
}
