package coolant_test

import (
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// The strength of a fill that was topped up with another one, by hand: what was
// lost went at the strength that was in there.
func TestTheLogMixesStrengths(t *testing.T) {
	tb := tables(t)
	for name, c := range map[string]struct {
		start    float64
		log      []coolant.Poured
		strength float64
		iat      float64 // share of the concentrate
	}{
		"2 of 10 L lost, water put in":       {50, []coolant.Poured{topped("water", 2, 0)}, 40, 0},
		"2 of 10 L lost, 25 % put in":        {50, []coolant.Poured{topped("iat", 2, 25)}, 45, 100 * 0.5 / 4.5},
		"twice 2 of 10 L, water":             {50, []coolant.Poured{topped("water", 2, 0), topped("water", 2, 0)}, 32, 0},
		"4 L drained, 4 L of concentrate in": {30, []coolant.Poured{changed("iat", 4, 4, 100)}, 58, 100 * 4 / 5.8},
	} {
		f := tb.FillByLog(fluid(c.start, "oat"), units.Litres(10), c.log)
		if !f.Strength.Known {
			t.Errorf("%s: the strength stays open", name)
			continue
		}
		near(t, name+": strength, vol %", f.Strength.Value.Percents(), c.strength, 1e-3)
		near(t, name+": share of iat, %", shareOf(f, "iat"), c.iat, 1e-3)
		if f.Glycol != "ethylene" {
			t.Errorf("%s: glycol %q", name, f.Glycol)
		}
		if f.StrengthPM.Percents() <= 0 {
			t.Errorf("%s: the strength is exact", name)
		}
	}
	// A strength that nobody stated leaves it open by as much as it is of the whole.
	open := topped("iat", 1, 0)
	open.Strength = catalog.Stated[units.Percent]{}
	if f := tb.FillByLog(fluid(50, "oat"), units.Litres(10), []coolant.Poured{open}); f.Strength.Known && f.StrengthPM.Percents() <= tb.FillByLog(fluid(50, "oat"), units.Litres(10), []coolant.Poured{topped("iat", 1, 50)}).StrengthPM.Percents() {
		t.Errorf("an unstated strength makes it no less sure: %v", f.StrengthPM)
	}
	// Another glycol in it is no single glycol any more.
	other := topped("iat", 2, 50)
	other.Glycol = "propylene"
	if f := tb.FillByLog(fluid(50, "oat"), units.Litres(10), []coolant.Poured{other}); f.Glycol == "ethylene" || f.Glycol == "propylene" {
		t.Errorf("two glycols are called %q", f.Glycol)
	}
}

// How much ready to pour a pack makes: 1.5 L of concentrate at 50 % is 3 L; a
// premix stays as it is.
func TestWhatAPackMakesReadyToPour(t *testing.T) {
	tb := tables(t)
	text := func(s string) catalog.Stated[string] { return say(s) }
	for name, c := range map[string]struct {
		part     catalog.Part
		litres   float64
		strength float64
		ok       bool
	}{
		"concentrate":         {catalog.Part{Type: text("coolant"), Form: text("concentrate"), PackVolume: vol(1.5)}, 3, 50, true},
		"premix of 50 %":      {catalog.Part{Type: text("coolant"), Form: text("premix"), Strength: pct(50), PackVolume: vol(5)}, 5, 50, true},
		"a weaker premix":     {catalog.Part{Type: text("coolant"), Form: text("premix"), Strength: pct(33), PackVolume: vol(5)}, 5, 33, true},
		"no volume":           {catalog.Part{Type: text("coolant"), Form: text("concentrate")}, 0, 0, false},
		"nothing in the pack": {catalog.Part{Type: text("coolant"), Form: text("concentrate"), PackVolume: vol(0)}, 0, 0, false},
	} {
		made, strength, ok := tb.ReadyToPour(c.part)
		if ok != c.ok {
			t.Errorf("%s: %v", name, ok)
			continue
		}
		if ok {
			near(t, name+": L", made.Litres(), c.litres, 0.16)
			near(t, name+": %", strength.Percents(), c.strength, 1.7)
		}
	}
}

// The limit of chloride is a limit of its own: soft water may hold too much of it.
func TestSaltyWaterIsBadWater(t *testing.T) {
	tb := tables(t)
	at := func(mg float64) coolant.Answer {
		q := ask(fluid(50, "oat"), coolant.Fluid{Chemistries: []string{"water"}}, 6, 0.5)
		q.Engine = engine("oat", 7)
		q.WaterChloride = say(mg)
		return tb.Mix(q)
	}
	good, bad := at(1), at(5000)
	if good.Outcome.Worse(bad.Outcome) || says(good) == says(bad) {
		t.Errorf("1 mg/L: %s, 5000 mg/L: %s\n%s", good.Outcome, bad.Outcome, says(bad))
	}
}

func TestAirAndSpillAreACaution(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		drained, poured float64
		want            compat.Outcome
	}{{4.4, 3.6, compat.Caution}, {4.4, 4.4, compat.Yes}, {4.4, 5.0, compat.Caution}, {0, 1, compat.Yes}} {
		if o, _, _ := tb.Refill(vol(c.drained), vol(c.poured), units.Metric); o != c.want {
			t.Errorf("drained %v, poured %v: %s, want %s", c.drained, c.poured, o, c.want)
		}
	}
}
