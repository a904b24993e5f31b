package coolant_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"fitfill/compat/coolant"
)

// By hand: 8 L at 50 %, 3 L out and 3 L of water in leave 5·50/8 = 31.25 %.
func TestCapacityByHand(t *testing.T) {
	m := func(v float64) coolant.Measured { return coolant.Measured{Value: v} }
	c, err := coolant.CapacityFrom(coolant.CapacityQuestion{Before: m(50), After: m(31.25), Drained: m(3), Refilled: m(3)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "capacity, L", c.Litres, 8, 1e-9)
	// 0.4 L less in than out: (5·50 + 2.6·0)/7.6.
	c, err = coolant.CapacityFrom(coolant.CapacityQuestion{Before: m(50), After: m(250 / 7.6), Drained: m(3), Refilled: m(2.6)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "capacity with less refilled, L", c.Litres, 8, 1e-9)
}

func TestCapacityThatCannotBeToldIsNotTold(t *testing.T) {
	q := coolant.CapacityQuestion{Before: coolant.Measured{Value: 50, PM: 2}, After: coolant.Measured{Value: 47, PM: 2}, Drained: coolant.Measured{Value: 0.5}, Refilled: coolant.Measured{Value: 0.5}}
	if _, err := coolant.CapacityFrom(q); !errors.Is(err, coolant.ErrNoCapacity) {
		t.Errorf("3 %% apart, each off by 2: %v", err)
	}
	q.After.Value = 55
	if _, err := coolant.CapacityFrom(q); err == nil || errors.Is(err, coolant.ErrNoCapacity) {
		t.Errorf("stronger after water: %v", err)
	}
}

// What a system of a known size does gives that size back; the truth lies
// between the bounds whatever is measured within its error; and what is less
// sure makes the bounds wider.
func TestLawCapacityComesBackWithinItsBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(2, 40).Draw(t, "v")
		d := rapid.Float64Range(0.2, 0.9).Draw(t, "part") * v
		c1 := rapid.Float64Range(20, 60).Draw(t, "before")
		with := rapid.SampledFrom([]float64{0, 99}).Draw(t, "with")
		c2 := (c1*(v-d) + with*d) / v
		off := func(name string, x, pm float64) coolant.Measured {
			return coolant.Measured{Value: x + pm*rapid.Float64Range(-1, 1).Draw(t, name), PM: pm}
		}
		q := coolant.CapacityQuestion{
			Before: off("c1", c1, 1), After: off("c2", c2, 1), Drained: off("d", d, 0.05), Refilled: coolant.Measured{Value: d, PM: 0.05}, With: coolant.Measured{Value: with},
		}
		c, err := coolant.CapacityFrom(q)
		if err != nil {
			t.Skip(err)
		}
		if v < c.Low-1e-9 || v > c.High+1e-9 {
			t.Fatalf("%g L is not between %g and %g", v, c.Low, c.High)
		}
		for name, wider := range map[string]*coolant.Measured{"before": &q.Before, "after": &q.After, "drained": &q.Drained, "refilled": &q.Refilled, "with": &q.With} {
			keep := wider.PM
			wider.PM += 0.1
			if w, err := coolant.CapacityFrom(q); err == nil && (w.Low > c.Low+1e-9 || w.High < c.High-1e-9 || w.High-w.Low < c.High-c.Low) {
				t.Fatalf("less sure of %s: %g to %g, before %g to %g", name, w.Low, w.High, c.Low, c.High)
			}
			wider.PM = keep
		}
	})
}

// Each number's error grows with those it is worked out from.
func TestLawWiderInputWiderOutput(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		q := ask(fluid(rapid.Float64Range(12, 50).Draw(t, "fill"), "oat"), fluid(rapid.Float64Range(12, 50).Draw(t, "add"), "iat"), 8, rapid.Float64Range(0.1, 4).Draw(t, "a"))
		q.CapPressure = kPa(103.4)
		narrow, wide := rapid.Float64Range(0.1, 3).Draw(t, "narrow"), rapid.Float64Range(3.5, 8).Draw(t, "wide")
		at := func(pm float64) coolant.Result {
			q.Fill.StrengthPM, q.Add.StrengthPM = pct(pm).Value, pct(pm).Value
			return tb.Mix(q).Result
		}
		a, b := at(narrow), at(wide)
		for name, pair := range map[string][2]float64{
			"strength": {a.Strength.PM.Percents(), b.Strength.PM.Percents()}, "freezing": {a.Freeze.PM.Kelvins(), b.Freeze.PM.Kelvins()},
			"boiling open": {a.BoilOpen.PM.Kelvins(), b.BoilOpen.PM.Kelvins()}, "boiling capped": {a.BoilCapped.PM.Kelvins(), b.BoilCapped.PM.Kelvins()},
			"foreign share": {a.ForeignPM.Percents(), b.ForeignPM.Percents()},
		} {
			if pair[1] <= pair[0] {
				t.Fatalf("%s: ±%g with ±%g %%, ±%g with ±%g %%", name, pair[0], narrow, pair[1], wide)
			}
		}
		if b.Grows.PM.Compare(a.Grows.PM) < 0 {
			t.Fatalf("expansion: %v, then %v", a.Grows.PM, b.Grows.PM)
		}
	})
}
