package coolant_test

import (
	"math"
	"testing"

	"fitfill/catalog/units"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s: got %.7g, want %.7g within %g", what, got, want, tolerance)
	}
}

// IAPWS-IF97 release, tables 35 and 36. Quantities are kept to a thousandth of
// a degree and of a pascal, so the release's nine digits are met to that.
func TestWaterSaturationAgreesWithTheReleaseTables(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct{ mpa, kelvin float64 }{{0.1, 372.755919}, {1, 453.035632}, {10, 584.149488}} {
		got, err := tb.SaturationTemperature(units.Kilopascals(c.mpa * 1000))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "saturation temperature, K", got.Kelvin(), c.kelvin, 5.1e-4)
	}
	for _, c := range []struct{ kelvin, mpa float64 }{{300, 0.00353658941}, {500, 2.63889776}, {600, 12.3443146}} {
		got, err := tb.SaturationPressure(units.Celsius(c.kelvin - 273.15))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "saturation pressure, MPa", got.Kilopascals()/1000, c.mpa, 1e-7)
	}
	for _, p := range []float64{0, 0.1, 30000} {
		if _, err := tb.SaturationTemperature(units.Kilopascals(p)); err == nil {
			t.Errorf("%g kPa: no error outside region 4", p)
		}
	}
}

// Computed from IAPWS-IF97; a much-copied page prints 246 °F for water under
// 15 psi, which must not come out.
func TestWaterUnderTheCap(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		gauge      units.Pressure
		celsius, e float64
	}{
		{units.Kilopascals(0), 99.974, 0.005}, {units.PSI(15), 120.95, 0.05}, {units.Bars(1.4), 126.25, 0.05},
	} {
		got, err := tb.SaturationTemperature(units.Kilopascals(101.325 + c.gauge.Kilopascals()))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "water boils, °C", got.Celsius(), c.celsius, c.e)
		if c.celsius == 120.95 {
			near(t, "water boils, °F", got.Fahrenheit(), 249.7, 0.1)
		}
	}
}

// ISO 2533 standard atmosphere.
func TestAirPressureFallsWithAltitude(t *testing.T) {
	tb := tables(t)
	for m, kPa := range map[float64]float64{0: 101.325, 1000: 89.875, 2000: 79.495, 3000: 70.109, 5000: 54.02} {
		got, err := tb.Ambient(units.Millimetres(m * 1000))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "air pressure, kPa", got.Kilopascals(), kPa, 0.01)
	}
	for m, celsius := range map[float64]float64{2000: 93.3, 3000: 90.0} {
		air, err := tb.Ambient(units.Millimetres(m * 1000))
		if err != nil {
			t.Fatal(err)
		}
		got, err := tb.SaturationTemperature(air)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "open water boils, °C", got.Celsius(), celsius, 0.1)
	}
	if _, err := tb.Ambient(units.Millimetres(12e6)); err == nil {
		t.Error("12 km: no error above the troposphere")
	}
}
