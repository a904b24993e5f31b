package coolant_test

import (
	"errors"
	"testing"

	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

// handbook is a kilogram of a mix of a handbook vol %.
func handbook(tb *coolant.Tables, t *testing.T, glycol string, mass float64) coolant.Charge {
	t.Helper()
	c := coolant.Charge{Ethylene: mass, Water: 100 - mass}
	if glycol == "propylene" {
		c = coolant.Charge{Propylene: mass, Water: 100 - mass}
	}
	return c
}

// ASHRAE densities of inhibited glycol, as an open library of fluid properties
// carries their fits: 50 vol % is 52.40 mass % of ethylene and 50.10 of
// propylene glycol.
func TestDensityAndExpansionByTheHandbook(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		glycol          string
		mass            float64
		at20, at100     float64 // kg/m³
		expansion       float64 // %, 20 to 100 °C
		nineLitresGrows float64
	}{
		{"ethylene", 52.40, 1073.35, 1022.95, 4.93, 0.443},
		{"propylene", 50.10, 1042.87, 983.00, 6.09, 0.548},
	} {
		charge := handbook(tb, t, c.glycol, c.mass)
		for at, want := range map[float64]float64{20: c.at20, 100: c.at100} {
			got, err := tb.Density(charge, units.Celsius(at))
			if err != nil {
				t.Fatal(err)
			}
			near(t, c.glycol+" density, kg/m³", got, want, 0.05)
		}
		pct, err := tb.Expansion(charge, units.Celsius(20), units.Celsius(100))
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.glycol+" expansion, %", pct, c.expansion, 0.02)
		near(t, "9 L grow by, L", 9*pct/100, c.nineLitresGrows, 0.005)
	}
	mix := handbook(tb, t, "ethylene", 52.40)
	hot, err := tb.Expansion(mix, units.Celsius(20), units.Celsius(100))
	if err != nil {
		t.Fatal(err)
	}
	cold, err := tb.Expansion(mix, units.Celsius(20), units.Celsius(-20))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "shrinks to -20 °C, %", cold, -1.24, 0.02)
	near(t, "9 L from -20 to 100 °C, L", 9*(hot-cold)/100, 0.555, 0.005)
}

func TestNoDensityOutsideWhatIsKnown(t *testing.T) {
	tb := tables(t)
	for _, mass := range []float64{0, 5, 61, 100} {
		if _, err := tb.Density(handbook(tb, t, "ethylene", mass), units.Celsius(20)); !errors.Is(err, coolant.ErrNoDensity) {
			t.Errorf("%g mass %%: %v", mass, err)
		}
	}
}

func TestTheResultSaysWhatGrowsAndWhatMustBeFree(t *testing.T) {
	tb := tables(t)
	a := tb.Mix(ask(fluid(50, "oat"), fluid(50, "oat"), 8, 1))
	r := a.Result
	near(t, "9 L of 50 % grow by, L", r.Grows.Value.Litres(), 0.443, 0.005)
	near(t, "head-room, L", r.HeadRoom.Litres(), 1.2*r.Grows.Value.Litres(), 1e-6)
	if a = tb.Mix(ask(fluid(0, "water"), fluid(0, "water"), 8, 1)); a.Result.Grows != nil {
		t.Errorf("water is outside what the densities are known for: %+v", a.Result.Grows)
	}
}
