package coolant_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

func ph(v float64) coolant.Reading { return coolant.Reading{Of: "ph", Level: say(v)} }

func strip(of string, s coolant.Sign) coolant.Reading { return coolant.Reading{Of: of, Shows: s} }

// Interpretation guides of two used-coolant laboratories, common practice; that
// pH may condemn and never acquit is ASTM D1287.
func TestAStripMayCondemnAndNeverAcquits(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		fill string
		ph   float64
		want compat.Outcome
		says string
	}{
		{"oat", 6.9, compat.No, "drain"},
		{"oat", 7.2, compat.Caution, "running low"},
		{"oat", 8.0, compat.Yes, "does not condemn"},
		{"oat", 9.8, compat.Caution, "ammonia"},
		{"iat", 7.2, compat.No, "drain"},
		{"iat", 8.0, compat.Caution, "running low"},
		{"iat", 9.8, compat.Yes, "does not condemn"},
		{"iat", 11.5, compat.Caution, "over-treated"},
	} {
		q := ask(fluid(50, c.fill), fluid(50, c.fill), 6, 0.5)
		q.Fill.Readings = []coolant.Reading{ph(c.ph)}
		a := tb.Mix(q)
		if a.Outcome != c.want || !strings.Contains(says(a), c.says) {
			t.Errorf("%s at pH %g: %s, want %s with %q\n%s", c.fill, c.ph, a.Outcome, c.want, c.says, says(a))
		}
		if strings.Contains(says(a), "good") {
			t.Errorf("%s at pH %g is called good: %s", c.fill, c.ph, says(a))
		}
		if a.Outcome == compat.No && a.GetHome != nil {
			t.Errorf("%s at pH %g points to a head gasket: no water to get home, but %+v", c.fill, c.ph, a.GetHome)
		}
	}
}

func TestWhatIsTooLowForSomeOfTheKindsIsNotPouredOn(t *testing.T) {
	q := ask(coolant.Fluid{ByColour: "green", Strength: pct(50)}, fluid(50, "oat"), 6, 0.5)
	q.Fill.Readings = []coolant.Reading{ph(7.2)}
	a := tables(t).Mix(q)
	if a.Outcome != compat.CannotSay || !strings.Contains(says(a), "has to come out") {
		t.Errorf("%s\n%s", a.Outcome, says(a))
	}
	q.Fill.Readings = []coolant.Reading{ph(6.5)}
	if a = tables(t).Mix(q); a.Outcome != compat.No || !strings.HasPrefix(a.First, "do not mix: change what is in it") {
		t.Errorf("too low for all: %s, %q", a.Outcome, a.First)
	}
}

// The presence table is common practice. A strip that shows none rules out a
// kind only while the fill is in date: inhibitors are used up.
func TestStripsRuleOutKinds(t *testing.T) {
	tb := tables(t)
	rest := func(age float64, readings ...coolant.Reading) []string {
		f := coolant.Fluid{Readings: readings}
		if age > 0 {
			f.AgeMonths = say(age)
		}
		list := tb.Mix(ask(f, fluid(50, "oat"), 6, 0.1)).Candidates
		slices.Sort(list)
		return list
	}
	for _, c := range []struct {
		age      float64
		readings []coolant.Reading
		want     string
	}{
		{0, []coolant.Reading{strip("nitrite", coolant.Seen)}, "hoat-silicate iat iat-heavy-duty iat-phosphate noat"},
		{0, []coolant.Reading{strip("nitrite", coolant.None), strip("silicate", coolant.None)}, "hd-oat hoat-silicate iat iat-heavy-duty iat-phosphate noat oat p-hoat psi-oat si-oat"},
		{12, []coolant.Reading{strip("nitrite", coolant.None), strip("silicate", coolant.None)}, "hd-oat iat-phosphate oat p-hoat"},
		// After 30 months a conventional fill is out of date, an organic one is not.
		{30, []coolant.Reading{strip("silicate", coolant.None)}, "hd-oat iat iat-heavy-duty iat-phosphate noat oat p-hoat"},
		{0, []coolant.Reading{{Of: "nitrite", Level: say(800.0)}}, "hoat-silicate iat iat-heavy-duty iat-phosphate noat"},
		{12, []coolant.Reading{{Of: "nitrite", Level: say(20.0)}}, "hd-oat hoat-silicate iat iat-heavy-duty iat-phosphate noat oat p-hoat psi-oat si-oat"},
		{12, []coolant.Reading{{Of: "nitrite", Level: say(0.0)}}, "hd-oat hoat-silicate iat iat-phosphate oat p-hoat psi-oat si-oat"},
		{12, []coolant.Reading{strip("reserve", coolant.None)}, "hd-oat iat-phosphate noat oat p-hoat psi-oat si-oat"},
		{12, []coolant.Reading{ph(9.8)}, "hd-oat hoat-silicate iat iat-heavy-duty iat-phosphate noat oat p-hoat psi-oat si-oat"},
	} {
		if got := strings.Join(rest(c.age, c.readings...), " "); got != c.want {
			t.Errorf("%v at %g months: %s, want %s", c.readings, c.age, got, c.want)
		}
	}
	q := ask(coolant.Fluid{ByColour: "green"}, fluid(50, "oat"), 6, 0.1)
	q.Fill.Readings = []coolant.Reading{strip("nitrite", coolant.None)}
	if got := says(tb.Mix(q)); !strings.Contains(got, "rules out nothing") {
		t.Errorf("age not known, yet the answer does not say that a strip without colour tells nothing:\n%s", got)
	}
}

func TestATestAgainstWhatIsSaidIsACaution(t *testing.T) {
	q := ask(fluid(50, "oat"), fluid(50, "oat"), 6, 0.5)
	q.Fill.Readings = []coolant.Reading{strip("nitrite", coolant.Seen)}
	a := tables(t).Mix(q)
	if a.Outcome != compat.Caution || !strings.Contains(says(a), "Test again") {
		t.Errorf("%s\n%s", a.Outcome, says(a))
	}
}

func drawReading(t *rapid.T) coolant.Reading {
	r := coolant.Reading{Of: rapid.SampledFrom(coolant.Readings).Draw(t, "of")}
	if r.Of == "ph" || rapid.Bool().Draw(t, "figure") {
		r.Level = say(rapid.Float64Range(0, 14).Draw(t, "level"))
		return r
	}
	r.Shows = rapid.SampledFrom([]coolant.Sign{coolant.Seen, coolant.None}).Draw(t, "shows")
	return r
}

func TestLawATestOrALabelNeverWidens(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		q := drawQuestion(t, tb)
		q.Fill.Mixed = nil
		q.Fill.Readings = rapid.SliceOfN(rapid.Custom(drawReading), 0, 3).Draw(t, "tests")
		if rapid.Bool().Draw(t, "age known") {
			q.Fill.AgeMonths = say(rapid.Float64Range(0, 80).Draw(t, "months"))
		}
		before := tb.Mix(q).Candidates
		more := q
		if rapid.Bool().Draw(t, "a label") {
			more.Fill.FreeOf = []string{rapid.SampledFrom([]string{"nitrite", "silicate", "phosphate"}).Draw(t, "free of")}
			more.Fill.Readings, q.Fill.Readings = nil, nil
			before = tb.Mix(q).Candidates
		} else {
			more.Fill.Readings = append(slices.Clone(q.Fill.Readings), drawReading(t))
		}
		for _, id := range tb.Mix(more).Candidates {
			if !slices.Contains(before, id) {
				t.Fatalf("%v came in with %v: before %v", id, more.Fill.Readings, before)
			}
		}
	})
}

// ASTM D3321: a reading on the wrong scale is off by 10 °C and more; computed
// here from refractive indices of the pure fluids (CRC Handbook).
func TestTheWrongScaleIsSaidAndCorrected(t *testing.T) {
	tb := tables(t)
	q := ask(fluid(0, "oat"), fluid(50, "oat"), 6, 0.5)
	q.Fill.Strength.Known, q.Fill.Glycol = false, "propylene"
	q.FreezeReads, q.Scale = temp(-43.1), "ethylene"
	a := tb.Mix(q)
	f := find(t, a, "refractometer")
	if !strings.Contains(f.Says, "Wrong scale") || !strings.Contains(f.Says, "less than it promises") {
		t.Errorf("%q", f.Says)
	}
	near(t, "true strength of the fill, vol %", a.Before.Strength.Percents(), 49.1, 1.5)
	near(t, "it really freezes at, °C", a.Before.Freeze.Celsius(), -33.5, 1.5)
	for _, c := range []struct{ scale, glycol string }{{"ethylene", "propylene"}, {"propylene", "ethylene"}, {"ethylene", "ethylene"}} {
		for reads := -25.0; reads < 0; reads += 5 {
			v, pm, off, err := tb.StrengthOn(c.scale, c.glycol, units.Celsius(reads))
			if err != nil {
				t.Fatal(err)
			}
			truth, _, err := tb.Freezing(pour(tb, c.glycol, v.Percents()), units.Percent{})
			if err != nil {
				t.Fatal(err)
			}
			near(t, c.glycol+" on the "+c.scale+" scale, °C", truth.Celsius()+off.Kelvins(), reads, 0.05)
			if pm.Percents() <= 0 || c.scale == c.glycol && off.Kelvins() != 0 {
				t.Errorf("%v at %g: ±%g, off %g", c, reads, pm.Percents(), off.Kelvins())
			}
		}
	}
}

// Worked by hand, by volume: 60 % in 8 L with 2 L of new coolant, and of water.
func TestAcidReserveMixesByVolume(t *testing.T) {
	tb := tables(t)
	for add, want := range map[string]string{"oat": "from 60 to about 68 %", "water": "from 60 to about 48 %", "si-oat": ""} {
		q := ask(fluid(50, "oat"), fluid(50, add), 8, 2)
		if add == "water" {
			q.Add.Strength = pct(0)
		}
		q.Fill.Readings = []coolant.Reading{{Of: "reserve", Level: say(60.0)}}
		if got := says(tb.Mix(q)); want != "" && !strings.Contains(got, want) || want == "" && strings.Contains(got, "goes from") {
			t.Errorf("%s: no %q in\n%s", add, want, got)
		}
	}
}
