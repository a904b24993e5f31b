package coolant_test

import (
	"errors"
	"strings"
	"testing"

	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

// Worked by hand: the arithmetic of dilution.
func TestDrainAndAddToReachAStrength(t *testing.T) {
	for _, c := range []struct{ v, now, target, with, drain float64 }{
		{10, 33, 50, 100, 2.537}, {10, 33, 50, 99, 2.576}, {10, 33, 45, 50, 7.059}, {8, 65, 50, 0, 1.846}, {8, 40, 50, 100, 1.333}, {8, 40, 50, 95, 1.455},
	} {
		got, err := coolant.DrainToReach(units.Litres(c.v), units.Percents(c.now), units.Percents(c.target), units.Percents(c.with))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "drain, L", got.Litres(), c.drain, 0.005)
	}
	got, err := coolant.AddToReach(units.Litres(7), units.Percents(35), units.Percents(50), units.Percents(100))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "add, L", got.Litres(), 2.10, 1e-6)
	for _, with := range []float64{50, 40} {
		if _, err := coolant.AddToReach(units.Litres(7), units.Percents(35), units.Percents(50), units.Percents(with)); !errors.Is(err, coolant.ErrNotThatWay) {
			t.Errorf("50 %% with %g %%: %v", with, err)
		}
	}
	if _, err := coolant.DrainToReach(units.Litres(7), units.Percents(35), units.Percents(50), units.Percents(45)); !errors.Is(err, coolant.ErrNotThatWay) {
		t.Errorf("50 %% by draining with 45 %%: %v", err)
	}
}

// 10 L at 33 % for -25 °C with 5 K to spare: -30 °C takes 44.4 vol % as poured
// (44.7 in the ASHRAE column), and 10·(44.4 - 33)/(99 - 33) is 1.73 L.
func TestTooWeakSaysHowToMakeItRight(t *testing.T) {
	tb := tables(t)
	q := ask(fluid(33, "oat"), fluid(33, "oat"), 9.5, 0.5)
	q.Coldest = temp(-25)
	a := tb.Mix(q)
	if !strings.Contains(a.Mend, "Drain 1.73 L") || !strings.Contains(a.Mend, "concentrate") {
		t.Fatalf("%q", a.Mend)
	}
	q.Engine = engine("", 10)
	q.Engine.Circuits[0].DrainVolume = vol(1)
	if a = tb.Mix(q); !strings.Contains(a.Mend, "One drain gives only 1.0 L") {
		t.Errorf("%q", a.Mend)
	}
	q.Coldest = temp(-5)
	if a = tb.Mix(q); a.Mend != "" {
		t.Errorf("strong enough, but %q", a.Mend)
	}
	q = ask(fluid(64, "oat"), fluid(64, "oat"), 9.5, 0.5)
	if a = tb.Mix(q); !strings.Contains(a.Mend, "with water") {
		t.Errorf("over-strength: %q", a.Mend)
	}
}
