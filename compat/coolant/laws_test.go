package coolant_test

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// badness orders outcomes from best to worst.
func badness(o compat.Outcome) int {
	return map[compat.Outcome]int{compat.Yes: 0, compat.Caution: 1, compat.CannotSay: 2, compat.No: 3}[o]
}

func ids(tb *coolant.Tables) *rapid.Generator[string] { return rapid.SampledFrom(tb.Chemistries()) }

func families(tb *coolant.Tables) *rapid.Generator[[]string] {
	return rapid.SliceOfNDistinct(rapid.SampledFrom(tb.Chemistries()[:10]), 1, 10, func(s string) string { return s })
}

// Half of each concentrate: nothing but the pair and its share counts.
func TestLawPairsAreSymmetric(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		a, b := ids(tb).Draw(t, "a"), ids(tb).Draw(t, "b")
		share := rapid.Float64Range(0.1, 50).Draw(t, "share")
		x := coolant.Question{Fill: fluid(50, a), Add: fluid(50, b), FillVolume: vol(100 - share), AddVolume: vol(share)}
		y := x
		y.Fill, y.Add, y.FillVolume, y.AddVolume = x.Add, x.Fill, x.AddVolume, x.FillVolume
		if p, q := tb.Mix(x).Outcome, tb.Mix(y).Outcome; p != q {
			t.Fatalf("%s and %s at %g %%: %s one way, %s the other", a, b, share, p, q)
		}
	})
}

func TestLawMoreForeignConcentrateIsNeverBetter(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		fill, add := families(tb).Draw(t, "fill"), families(tb).Draw(t, "add")
		less := rapid.Float64Range(0.01, 50).Draw(t, "less")
		more := rapid.Float64Range(less, 50).Draw(t, "more")
		at := func(share float64) compat.Outcome {
			return tb.Mix(ask(fluid(50, fill...), fluid(50, add...), 100-share, share)).Outcome
		}
		if p, q := at(less), at(more); badness(q) < badness(p) && !(p == compat.CannotSay && q == compat.No) {
			t.Fatalf("%v onto %v: %s at %g %%, %s at %g %%", add, fill, p, less, q, more)
		}
	})
}

func TestLawKnowingLessIsNeverBetter(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		fill, add := families(tb).Draw(t, "fill"), families(tb).Draw(t, "add")
		q := ask(fluid(45, fill...), fluid(50, add...), 10, rapid.Float64Range(0.01, 12).Draw(t, "a"))
		if rapid.Bool().Draw(t, "engine") {
			q.Engine = engine("oat", 22)
		}
		q.Coldest = temp(rapid.Float64Range(-40, 0).Draw(t, "coldest"))
		small := tb.Mix(q)
		q.Fill.Chemistries = append(slices.Clone(fill), ids(tb).Draw(t, "one more"))
		if rapid.Bool().Draw(t, "nothing known") {
			q.Fill.Chemistries = nil
		}
		large := tb.Mix(q)
		if small.Outcome != compat.Yes && large.Outcome == compat.Yes ||
			(small.Outcome == compat.No || small.Outcome == compat.CannotSay) && large.Outcome == compat.Caution {
			t.Fatalf("%v: %s; %v: %s", fill, small.Outcome, q.Fill.Chemistries, large.Outcome)
		}
	})
}

func TestLawNeverPourWhileOnePairIsNo(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		fill, add := families(tb).Draw(t, "fill"), families(tb).Draw(t, "add")
		a := rapid.Float64Range(0.01, 12).Draw(t, "a")
		got := tb.Mix(ask(fluid(45, fill...), fluid(50, add...), 10, a)).Outcome
		no, all := false, true
		for _, f := range fill {
			for _, b := range add {
				if tb.Mix(ask(fluid(45, f), fluid(50, b), 10, a)).Outcome == compat.No {
					no = true
				} else {
					all = false
				}
			}
		}
		switch {
		case no && all && got != compat.No, no && !all && got != compat.CannotSay, !no && badness(got) > 1:
			t.Fatalf("%v onto %v: %s (some no: %v, all no: %v)", add, fill, got, no, all)
		}
	})
}

func TestLawPouringNothingChangesNothing(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.Float64Range(0, 57).Draw(t, "strength")
		q := ask(fluid(s, families(tb).Draw(t, "fill")...), fluid(50, ids(tb).Draw(t, "add")), rapid.Float64Range(1, 20).Draw(t, "v"), 0)
		q.Coldest = temp(-20)
		a := tb.Mix(q)
		if a.Outcome != compat.Yes || a.Result.ForeignShare.Percents() != 0 {
			t.Fatalf("%s, foreign share %v", a.Outcome, a.Result.ForeignShare)
		}
		if a.Result.Strength != nil && (a.Result.Strength.Value != *a.Before.Strength || a.Result.Freeze.Value != *a.Before.Freeze) {
			t.Fatalf("after %v, before %v", a.Result, a.Before)
		}
	})
}

func TestLawMassIsKept(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		v, a := rapid.Float64Range(0.1, 40).Draw(t, "v"), rapid.Float64Range(0.1, 40).Draw(t, "a")
		s, p := rapid.Float64Range(0, 100).Draw(t, "s"), rapid.Float64Range(0, 100).Draw(t, "p")
		g, h := rapid.SampledFrom([]string{"ethylene", "propylene"}).Draw(t, "g"), rapid.SampledFrom([]string{"ethylene", "propylene"}).Draw(t, "h")
		q := ask(fluid(s, "oat"), fluid(p, "oat"), v, a)
		q.Fill.Glycol, q.Add.Glycol = g, h
		got := tb.Mix(q).Result
		want := tb.Pour(g, q.FillVolume.Value, q.Fill.Strength.Value).Add(tb.Pour(h, q.AddVolume.Value, q.Add.Strength.Value))
		for _, d := range []float64{got.Charge.Ethylene - want.Ethylene, got.Charge.Propylene - want.Propylene, got.Charge.Water - want.Water} {
			if d > 1e-12*want.Mass() || d < -1e-12*want.Mass() {
				t.Fatalf("%v, want %v", *got.Charge, want)
			}
		}
		byHand := (q.FillVolume.Value.Litres()*q.Fill.Strength.Value.Percents() + q.AddVolume.Value.Litres()*q.Add.Strength.Value.Percents()) /
			(q.FillVolume.Value.Litres() + q.AddVolume.Value.Litres())
		if d := got.Strength.Value.Percents() - byHand; d > 1e-4 || d < -1e-4 {
			t.Fatalf("strength %g, by hand %g", got.Strength.Value.Percents(), byHand)
		}
	})
}

// drawQuestion draws a question that leaves out facts at random.
func drawQuestion(t *rapid.T, tb *coolant.Tables) coolant.Question {
	maybe := func(name string) bool { return rapid.Bool().Draw(t, name) }
	pick := func(name string) coolant.Fluid {
		f := coolant.Fluid{Glycol: rapid.SampledFrom([]string{"", "ethylene", "propylene"}).Draw(t, name+" glycol")}
		switch rapid.IntRange(0, 3).Draw(t, name) {
		case 0:
			f.ByColour = rapid.SampledFrom(tb.Colours()).Draw(t, name+" colour")
		case 1:
			f.Chemistries = families(tb).Draw(t, name+" families")
		case 2:
			f.Chemistries = []string{ids(tb).Draw(t, name+" id")}
		}
		if maybe(name + " strength") {
			f.Strength = pct(rapid.Float64Range(0, 100).Draw(t, name+" vol %"))
		}
		return f
	}
	q := coolant.Question{Fill: pick("fill"), Add: pick("add")}
	if maybe("mixed") {
		q.Fill.Mixed = []coolant.Share{{Chemistry: ids(tb).Draw(t, "m1"), Percent: pct(70).Value}, {Chemistry: ids(tb).Draw(t, "m2"), Percent: pct(30).Value}}
	}
	if maybe("fill volume") {
		q.FillVolume = vol(rapid.Float64Range(0.5, 9).Draw(t, "v"))
	}
	if maybe("engine") {
		q.Engine = engine(rapid.SampledFrom([]string{"", "oat", "low-conductivity"}).Draw(t, "asks"), 10)
		if maybe("liner") {
			q.Engine.WetLiner, q.Nitrite = say(true), say(1500.0)
		}
		if maybe("thermostat") {
			q.Engine.OpeningTemp, q.CapPressure, q.Altitude = temp(95), kPa(10), units3000
		}
	}
	if maybe("coldest") {
		q.Coldest = temp(rapid.Float64Range(-45, 5).Draw(t, "°C"))
	}
	if maybe("hard") {
		q.WaterHardness = say(300.0)
	}
	q.Condition = rapid.SampledFrom([]string{"", "clear", "hazy", "rusty"}).Draw(t, "look")
	return q
}

// What people read is short and in their words.
func TestLawPlainWords(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		q := drawQuestion(t, tb)
		if rapid.Bool().Draw(t, "amount") {
			q.AddVolume = vol(rapid.Float64Range(0, 3).Draw(t, "a"))
		}
		if rapid.Bool().Draw(t, "us") {
			q.Show = units.US
		}
		a := tb.Mix(q)
		lines := append(slices.Clone(a.Cautions), a.First)
		lines = append(lines, a.Before.Says...)
		for _, f := range append(a.Findings, a.NotChecked...) {
			lines = append(lines, f.Says)
			if f.Says == "" || f.Check == "" {
				t.Fatalf("an empty finding: %+v", f)
			}
		}
		for _, s := range a.Settle {
			lines = append(lines, s.Tells)
		}
		for _, s := range a.Ladder {
			lines = append(lines, s.Why)
		}
		if a.GetHome != nil {
			lines = append(lines, a.GetHome.Says)
		}
		for _, l := range lines {
			for _, w := range []string{"residue", "candidate", "settle", "reserve alkalinity", "%!", "  "} {
				if strings.Contains(strings.ToLower(l), w) {
					t.Fatalf("%q is not for a mechanic: %q", w, l)
				}
			}
		}
		if n := utf8.RuneCountInString(a.First); n > 60 {
			t.Fatalf("first line of %d characters: %q", n, a.First)
		}
		worst := compat.Yes
		for _, f := range a.Findings {
			worst = compat.Worst(worst, f.Outcome)
		}
		if worst != a.Outcome {
			t.Fatalf("outcome %s, worst finding %s", a.Outcome, worst)
		}
		if (a.Outcome == compat.Yes) != strings.HasPrefix(a.First, "mixes") && !strings.HasPrefix(a.First, "mixes, but") {
			t.Fatalf("%s: %q", a.Outcome, a.First)
		}
	})
}
