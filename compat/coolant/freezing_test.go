package coolant_test

import (
	"errors"
	"testing"

	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

// ASHRAE Handbook Fundamentals, freezing points of inhibited glycol solutions
// (2001): by handbook vol % between the rows, and the rows at 50 mass %.
func TestFreezingByTheHandbook(t *testing.T) {
	tb := tables(t)
	for glycol, want := range map[string][3]float64{"ethylene": {-15.7, -24.8, -37.0}, "propylene": {-13.1, -21.5, -33.7}} {
		for i, v := range []float64{30, 40, 50} {
			got, err := tb.FreezingOfLabel(glycol, units.Percents(v))
			if err != nil {
				t.Fatal(err)
			}
			near(t, glycol+" freezes, °C", got.Celsius(), want[i], 0.1)
		}
	}
	for glycol, want := range map[string]float64{"ethylene": -33.8, "propylene": -33.5} {
		got, err := tb.FreezingOfMass(glycol, units.Percents(50))
		if err != nil {
			t.Fatal(err)
		}
		near(t, glycol+" at 50 mass %, °C", got.Celsius(), want, 1e-9)
	}
}

// The other literature (Melinder, pure glycol) is up to 2.9 K colder; the
// warmer table of inhibited glycol is the one in use.
func TestTheWarmerTableIsTheOneInUse(t *testing.T) {
	got, err := tables(t).FreezingOfMass("ethylene", units.Percents(50))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ASHRAE less Melinder at 50 mass %, K", got.Celsius()-melinderEG.freeze(0.50), 2.2, 0.1)
}

// Common practice: an equipment maker's manual page by vol %. Lange's
// Handbook, table 5.13, propylene glycol.
func TestFreezingAgreesWithOtherTables(t *testing.T) {
	tb := tables(t)
	for v, want := range map[float64]float64{40: -24, 50: -37} {
		got, err := tb.FreezingOfLabel("ethylene", units.Percents(v))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "ethylene against the manual, °C", got.Celsius(), want, 1.0)
	}
	near(t, "60 vol % by the fit of the handbook against the manual", ashraeEG.freeze(0.60), -52, 2)
	for v, want := range map[float64]float64{30: -12.8, 40: -20.6, 45: -26.7, 50: -33.3} {
		got, err := tb.FreezingOfLabel("propylene", units.Percents(v))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "propylene against Lange, °C", got.Celsius(), want, 1.0)
	}
}

func TestNoFreezingFigureAbove60MassPercent(t *testing.T) {
	tb := tables(t)
	if _, _, err := tb.Freezing(coolant.Charge{Ethylene: 60, Water: 40}, units.Percent{}); err != nil {
		t.Errorf("60 mass %%: %v", err)
	}
	for _, c := range []coolant.Charge{{Ethylene: 60.1, Water: 39.9}, {Ethylene: 1}, {Ethylene: 31, Propylene: 31, Water: 38}} {
		if _, _, err := tb.Freezing(c, units.Percent{}); !errors.Is(err, coolant.ErrOverStrength) {
			t.Errorf("%v: %v, want %v", c, err, coolant.ErrOverStrength)
		}
	}
}

// Own rule for both glycols in one system: mass-weighted between the curves.
func TestBothGlycolsInOneSystem(t *testing.T) {
	tb := tables(t)
	mix := func(eg, pg, water float64) coolant.Charge {
		return tb.Pour("ethylene", units.Litres(eg), units.Percents(100)).
			Add(tb.Pour("propylene", units.Litres(pg), units.Percents(100))).
			Add(tb.Pour("", units.Litres(water), units.Percent{}))
	}
	for _, c := range []struct {
		charge          coolant.Charge
		mass, share, at float64
	}{
		{mix(2.5, 0.5, 3), 52.44, 0.157, -37.1},
		{mix(2, 2, 4), 51.85, 0.482, -36.3},
	} {
		near(t, "mass %", c.charge.GlycolMass().Percents(), c.mass, 0.01)
		near(t, "propylene share", c.charge.PropyleneShare(), c.share, 0.001)
		got, pm, err := tb.Freezing(c.charge, units.Percent{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "freezes, °C", got.Celsius(), c.at, 0.1)
		near(t, "uncertainty, K", pm.Kelvins(), 2, 1e-9)
		if g := tb.GlycolOf(c.charge); g != "mixed" {
			t.Errorf("glycol %q, want mixed", g)
		}
	}
	c := mix(25, 25, 50)
	near(t, "25/25/50 open, °C", boils(t, tb, c, units.Kilopascals(0), 0), 106.9, 0.1)
	near(t, "25/25/50 under 15 psi, °C", boils(t, tb, c, units.PSI(15), 0), 128.7, 0.1)
}

func TestALessCertainStrengthGivesALessCertainFreezingPoint(t *testing.T) {
	tb := tables(t)
	last := -1.0
	for _, pm := range []float64{0, 1, 2, 5} {
		_, d, err := tb.Freezing(pour(tb, "ethylene", 40), units.Percents(pm))
		if err != nil {
			t.Fatal(err)
		}
		if d.Kelvins() <= last {
			t.Errorf("±%g vol %%: ±%g K, not more than ±%g K", pm, d.Kelvins(), last)
		}
		last = d.Kelvins()
	}
}

// Computed from refractive indices of the pure fluids (CRC Handbook); ASTM
// D3321 warns of 10 °C and more.
func TestPropyleneOnAnEthyleneScalePromisesTooMuch(t *testing.T) {
	tb := tables(t)
	reads, off, err := tb.WrongScale("propylene", "ethylene", units.Percents(50))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "50 mass % PG on an EG scale, °C", reads.Celsius(), -43.1, 2)
	if off.Kelvins() > -8 {
		t.Errorf("off by %g K, want at least 8 K too cold", off.Kelvins())
	}
	if _, off, err = tb.WrongScale("ethylene", "propylene", units.Percents(50)); err != nil || off.Kelvins() < 5 {
		t.Errorf("EG on a PG scale: off by %g K, %v; want too warm", off.Kelvins(), err)
	}
	if _, _, err = tb.WrongScale("propylene", "ethylene", units.Percents(70)); err == nil {
		t.Error("70 mass %: no error beyond the table")
	}
}

// ASHRAE Handbook Fundamentals: the rows at 50 mass % are 47.6 vol % of
// ethylene and 49.9 vol % of propylene glycol.
func TestRowsOfTheHandbookComeBackAsTheyStand(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		glycol         string
		vol, mass, at  float64
		volOf40, at40C float64
	}{{"ethylene", 47.6, 50, -33.8, 37.5, -22.3}, {"propylene", 49.9, 50, -33.5, 39.6, -21.1}} {
		for vol, want := range map[float64]float64{c.vol: c.at, c.volOf40: c.at40C, 0: 0} {
			got, err := tb.FreezingOfLabel(c.glycol, units.Percents(vol))
			if err != nil {
				t.Fatal(err)
			}
			near(t, c.glycol+" row, °C", got.Celsius(), want, 1e-9)
		}
	}
	// A much-copied fit for propylene glycol holds for 15 to 57 mass % only and
	// gives -15.5 °C for water; water freezes at 0 here, and outside the table
	// there is an error instead of a number.
	if got, err := tb.FreezingOfMass("propylene", units.Percents(0)); err != nil || got.Celsius() != 0 {
		t.Errorf("water: %v, %v", got, err)
	}
	if _, err := tb.FreezingOfMass("propylene", units.Percents(61)); !errors.Is(err, coolant.ErrOverStrength) {
		t.Errorf("61 mass %%: %v", err)
	}
}
