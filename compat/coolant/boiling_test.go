package coolant_test

import (
	"errors"
	"testing"

	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

func pour(tb *coolant.Tables, glycol string, v float64) coolant.Charge {
	return tb.Pour(glycol, units.Litres(1), units.Percents(v))
}

func boils(t *testing.T, tb *coolant.Tables, c coolant.Charge, gauge units.Pressure, metres float64) float64 {
	t.Helper()
	air, err := tb.Ambient(units.Millimetres(metres * 1000))
	if err != nil {
		t.Fatal(err)
	}
	got, pm, err := tb.Boiling(c, units.Kilopascals(air.Kilopascals()+gauge.Kilopascals()), units.Percent{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "uncertainty of a boiling point", pm.Kelvins(), 1.5, 0)
	return got.Celsius()
}

// Computed values of the model IF97 + DIPPR-101 at handbook strengths (50 vol %
// is 52.4 mass % EG, 50.1 mass % PG); the 15 psi figure is commonly
// quoted as 265 °F = 129.4 °C (common practice).
func TestCoolantBoilsOpenAndUnderTheCap(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		glycol string
		vol    float64
		gauge  units.Pressure
		metres float64
		want   float64
	}{
		{"ethylene", 49.67, units.Kilopascals(0), 0, 107.7}, // 52.4 mass %
		{"ethylene", 49.67, units.PSI(15), 0, 129.6},
		{"propylene", 49.2, units.Kilopascals(0), 0, 105.8}, // 50.1 mass %
		{"propylene", 49.2, units.PSI(15), 0, 127.5},
		{"ethylene", 49.67, units.PSI(15), 2000, 125.9},
		{"ethylene", 40, units.Kilopascals(110), 0, 128.1},
		{"ethylene", 33, units.Kilopascals(90), 0, 123.4},
		{"ethylene", 0, units.Kilopascals(0), 0, 99.97},
	} {
		near(t, c.glycol+" boils, °C", boils(t, tb, pour(tb, c.glycol, c.vol), c.gauge, c.metres), c.want, 0.11)
	}
	near(t, "50/50 under 15 psi against the quoted figure", boils(t, tb, pour(tb, "ethylene", 50), units.PSI(15), 0), 129.4, 1.0)
}

// US Army TM 5-3895-382-24, boiling points by vol %.
func TestBoilingAgreesWithAnArmyManual(t *testing.T) {
	tb := tables(t)
	for glycol, want := range map[string][3]float64{"ethylene": {104, 106, 108}, "propylene": {102, 104, 106}} {
		for i, v := range []float64{30, 40, 50} {
			near(t, glycol+" against the manual, °C", boils(t, tb, pour(tb, glycol, v), units.Kilopascals(0), 0), want[i], 1.0)
		}
	}
}

// Perry's Chemical Engineers' Handbook, table 2-8, DIPPR-101 coefficients;
// the first of each pair is the normal boiling point (1 atm).
func TestGlycolVapourPressure(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		glycol          string
		kelvin, kPa, pm float64
	}{
		{"ethylene", 470.45, 101.98, 0.05}, {"ethylene", 403.15, 8.893, 0.005},
		{"propylene", 460.75, 100.93, 0.05}, {"propylene", 403.15, 12.350, 0.005},
	} {
		got, err := tb.GlycolVapour(c.glycol, units.Celsius(c.kelvin-273.15))
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.glycol+" vapour, kPa", got.Kilopascals(), c.kPa, c.pm)
	}
	if _, err := tb.GlycolVapour("ethylene", units.Celsius(-100)); err == nil {
		t.Error("-100 °C: no error below the range of the coefficients")
	}
}

// Mole fractions by hand from the molar masses 18.015, 62.068, 76.095.
func TestWaterMoles(t *testing.T) {
	tb := tables(t)
	near(t, "EG 52.4 mass %", tb.WaterMoles(coolant.Charge{Ethylene: 52.4, Water: 47.6}), 0.75785, 1e-4)
	near(t, "PG 50.1 mass %", tb.WaterMoles(coolant.Charge{Propylene: 50.1, Water: 49.9}), 0.80795, 1e-4)
}

func TestNoBoilingFigureWhereTheModelFails(t *testing.T) {
	tb := tables(t)
	air := units.Kilopascals(101.325)
	if _, _, err := tb.Boiling(pour(tb, "ethylene", 70), air, units.Percent{}); err != nil {
		t.Errorf("70 vol %%: %v", err)
	}
	if _, _, err := tb.Boiling(pour(tb, "ethylene", 70.1), air, units.Percent{}); !errors.Is(err, coolant.ErrNoBoiling) {
		t.Errorf("70.1 vol %%: %v, want %v", err, coolant.ErrNoBoiling)
	}
	if _, _, err := tb.Boiling(coolant.Charge{}, air, units.Percent{}); err == nil {
		t.Error("an empty system boils")
	}
}
