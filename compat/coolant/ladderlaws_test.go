package coolant_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

// The steps tile the range from nothing to the free space, and pouring any
// amount inside a step gives the step's outcome.
func TestLawLadderStepsTileAndHold(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		q := drawQuestion(t, tb)
		q.AddVolume.Known = false
		steps := tb.Mix(q).Ladder
		most, perLitre := 1.0, false
		switch {
		case q.FillVolume.Known && q.Engine != nil && q.FillVolume.Value.Litres() < 10:
			most = units.Litres(10).Sub(q.FillVolume.Value).Litres()
		case q.FillVolume.Known:
			most = q.FillVolume.Value.Litres()
		case q.Engine != nil:
			most = 10
		default:
			perLitre = true
		}
		if perLitre { // amounts are for a litre in the engine
			q.FillVolume = vol(1)
		}
		if q.Condition == "rusty" || slices.Contains([]string{"brown", "rust", "rusty", "black", "dark", "braun", "rostig", "schwarz"}, q.Fill.ByColour) { // condemned: no amount goes on top
			if len(steps) != 0 {
				t.Fatalf("a ladder onto a condemned fill: %v", steps)
			}
			return
		}
		if len(steps) == 0 || steps[len(steps)-1].UpTo.Litres() != most {
			t.Fatalf("steps %v do not end at %g L", steps, most)
		}
		low := int64(0)
		for i, s := range steps {
			high := s.UpTo.Nanolitres()
			if high <= low {
				t.Fatalf("step %d of %v ends at or before its start", i, steps)
			}
			for _, nl := range []int64{low + 1, low + 1 + rapid.Int64Range(0, high-low-1).Draw(t, "inside"), high} {
				ask := q
				ask.AddVolume = say(units.VolumeOf(nl))
				if got := tb.Mix(ask).Outcome; got != s.Outcome {
					t.Fatalf("%d nL: %s, the ladder %v says %s", nl, got, steps, s.Outcome)
				}
			}
			if i > 0 && steps[i-1].Outcome == s.Outcome && steps[i-1].Why == s.Why {
				t.Fatalf("steps %d and %d of %v are one", i-1, i, steps)
			}
			low = high
		}
	})
}

// With strengths left out and nothing else at stake, more is never better up to
// equal parts: a litre in the engine has at least its low share of glycol, what
// is poured at most that of an undiluted concentrate, so that equal parts are
// not met before a third of the fill.
func TestLawWithoutStrengthsMoreIsNeverBetter(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		q := coolant.Question{
			Fill: coolant.Fluid{Chemistries: families(tb).Draw(t, "fill")}, Add: coolant.Fluid{Chemistries: families(tb).Draw(t, "add")},
			FillVolume: vol(rapid.Float64Range(1, 20).Draw(t, "v")),
		}
		if rapid.Bool().Draw(t, "colour") {
			q.Fill = coolant.Fluid{ByColour: rapid.SampledFrom([]string{"green", "blue", "red", "pink"}).Draw(t, "seen")}
		}
		if rapid.Bool().Draw(t, "hard water") {
			q.WaterHardness = say(300.0)
		}
		even := q.FillVolume.Value.Litres() / 3
		last := -1
		for i, step := range tb.Mix(q).Ladder {
			if i > 0 && tb.Mix(q).Ladder[i-1].UpTo.Litres() >= even {
				break
			}
			if b := badness(step.Outcome); b < last {
				t.Fatalf("step %d of %v is better than the one before", i, tb.Mix(q).Ladder)
			} else {
				last = b
			}
		}
	})
}
