package coolant_test

import (
	"errors"
	"testing"

	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

// ASHRAE Handbook Fundamentals table, inverted.
func TestStrengthNeeded(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		glycol       string
		celsius, vol float64
	}{
		{"ethylene", -20, 35.2}, {"ethylene", -30, 44.7}, {"ethylene", -37, 50.0},
		{"propylene", -20, 38.4}, {"propylene", -30, 47.3}, {"propylene", -35, 50.9},
		{"ethylene", 0, 0}, {"ethylene", 5, 0},
	} {
		got, err := tb.StrengthNeeded(c.glycol, units.Celsius(c.celsius))
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.glycol+" needed, vol %", got.Percents(), c.vol, 0.1)
	}
	for glycol, vol := range map[string]float64{"ethylene": 44.7, "propylene": 47.3} { // -25 °C with 5 K to spare
		got, err := tb.StrengthForColdest(glycol, units.Celsius(-25))
		if err != nil {
			t.Fatal(err)
		}
		near(t, glycol+" for -25 °C, vol %", got.Percents(), vol, 0.1)
	}
	if _, err := tb.StrengthNeeded("ethylene", units.Celsius(-60)); !errors.Is(err, coolant.ErrTooCold) {
		t.Errorf("-60 °C: %v", err)
	}
}

func TestWhatIsNeededFreezesThere(t *testing.T) {
	tb := tables(t)
	for _, glycol := range []string{"ethylene", "propylene"} {
		for c := -45.0; c <= -2; c += 0.7 {
			v, err := tb.StrengthNeededAsPoured(glycol, units.Celsius(c))
			if err != nil {
				t.Fatal(err)
			}
			got, _, err := tb.Freezing(pour(tb, glycol, v.Percents()), units.Percent{})
			if err != nil {
				t.Fatal(err)
			}
			near(t, glycol+" freezes, °C", got.Celsius(), c, 0.01)
		}
	}
}

// ASTM D3321: a hand refractometer reads to 1 °C.
func TestAReadingGivesAStrength(t *testing.T) {
	tb := tables(t)
	v, pm, err := tb.StrengthRead("ethylene", units.Celsius(-18))
	if err != nil {
		t.Fatal(err)
	}
	f, _, err := tb.Freezing(pour(tb, "ethylene", v.Percents()), units.Percent{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "freezes as read, °C", f.Celsius(), -18, 0.01)
	near(t, "uncertainty, vol %", pm.Percents(), 1.2, 0.3)
	if _, _, err := tb.StrengthRead("ethylene", units.Celsius(-60)); !errors.Is(err, coolant.ErrTooCold) {
		t.Errorf("-60 °C: %v", err)
	}
}

// JIS K 2234 (2006): 50 vol % freezes at -34.0 or below. ASTM D4985 (2010): at
// -36.4 or below.
func TestEffectiveGlycolOfAConcentrate(t *testing.T) {
	tb := tables(t)
	for celsius, want := range map[float64]float64{-34.0: 0.955, -36.4: 0.992} {
		got, err := tb.EffectiveConcentrate("ethylene", units.Percents(50), units.Celsius(celsius))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "effective share", got, want, 0.001)
	}
	need, err := tb.StrengthNeeded("ethylene", units.Celsius(-34))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "strength of a 50 % mix at the standard's limit", need.Percents(), 47.76, 0.01)
}

// By the densities 998.2, 1113.5 and 1036.1 kg/m³ at 20 °C.
func TestMassPercentOfAsPouredMixes(t *testing.T) {
	tb := tables(t)
	near(t, "EG 50/50 as poured, mass %", pour(tb, "ethylene", 50).GlycolMass().Percents(), 52.73, 0.05)
	near(t, "PG 50/50 as poured, mass %", pour(tb, "propylene", 50).GlycolMass().Percents(), 50.93, 0.05)
}

// ASHRAE columns: 50 handbook vol % is 52.40 mass % EG, 50.10 mass % PG. Both
// ways into the table meet there.
func TestHandbookVolumeAndMassMeet(t *testing.T) {
	tb := tables(t)
	for glycol, mass := range map[string]float64{"ethylene": 52.40, "propylene": 50.10} {
		byVol, err := tb.FreezingOfLabel(glycol, units.Percents(50))
		if err != nil {
			t.Fatal(err)
		}
		byMass, err := tb.FreezingOfMass(glycol, units.Percents(mass))
		if err != nil {
			t.Fatal(err)
		}
		near(t, glycol+" by vol and by mass, °C", byVol.Celsius(), byMass.Celsius(), 0.07)
	}
}

// Worked by hand: volumes add, freezing point by the masses carried.
func TestToppedUpSystems(t *testing.T) {
	for _, c := range []struct{ v, at, a, top, vol, freeze float64 }{
		{6, 33, 1, 100, 42.57, -27.8},
		{8, 50, 1.5, 0, 42.11, -27.3},
		{10, 40, 2, 50, 41.67, -26.8},
	} {
		q := ask(fluid(c.at, "oat"), fluid(c.top, "oat"), c.v, c.a)
		r := tables(t).Mix(q).Result
		near(t, "vol %", r.Strength.Value.Percents(), c.vol, 0.01)
		near(t, "freezes, °C", r.Freeze.Value.Celsius(), c.freeze, 0.1)
	}
}

// Worked by hand: 1000 mg/kg in 20 L, 3 L of it replaced by nitrite-free.
func TestNitriteIsThinned(t *testing.T) {
	if got := coolant.Replaced(1000, 20, 3); got != 850 {
		t.Errorf("replaced: %g, want 850", got)
	}
	if got := coolant.Diluted(1000, 17, 3); got != 850 {
		t.Errorf("topped: %g, want 850", got)
	}
}
