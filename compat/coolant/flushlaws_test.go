package coolant_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// What went in less what came out is what stands, kilogram by kilogram.
func TestLawFlushKeepsTheMass(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		q := drawFlush(t, tb)
		p, err := tb.Flush(q)
		if err != nil {
			t.Fatal(err)
		}
		now := p.Start
		for i, r := range p.Rounds {
			for _, x := range []struct {
				name                 string
				was, out, in, stands float64
			}{
				{"ethylene", now.Ethylene, r.Drained.Ethylene, r.Poured.Ethylene, r.Standing.Ethylene},
				{"propylene", now.Propylene, r.Drained.Propylene, r.Poured.Propylene, r.Standing.Propylene},
				{"water", now.Water, r.Drained.Water, r.Poured.Water, r.Standing.Water},
			} {
				if math.Abs(x.was-x.out+x.in-x.stands) > 1e-9 {
					t.Fatalf("round %d, %s: %g - %g + %g is not %g", i+1, x.name, x.was, x.out, x.in, x.stands)
				}
			}
			if got := r.Bottle.Add(r.Water); got != r.Drain {
				t.Fatalf("round %d: %v out, %v in", i+1, r.Drain, got)
			}
			now = r.Standing
		}
	})
}

func drawFlush(t *rapid.T, tb *coolant.Tables) coolant.FlushQuestion {
	v := rapid.Float64Range(2, 40).Draw(t, "volume")
	q := coolant.FlushQuestion{
		From:   fluid(rapid.Float64Range(33, 57).Draw(t, "old strength"), families(tb).Draw(t, "from")...),
		To:     coolant.Fluid{Chemistries: []string{rapid.SampledFrom(tb.Chemistries()[:10]).Draw(t, "to")}, Glycol: "ethylene"},
		Volume: vol(v), Drain: vol(v * rapid.Float64Range(0.2, 1).Draw(t, "f")),
		Rinse: rapid.SampledFrom([]string{"", coolant.RinseWater, coolant.RinseCoolant}).Draw(t, "rinse"),
		Fresh: rapid.IntRange(0, 3).Draw(t, "fresh"),
	}
	if rapid.Bool().Draw(t, "strength known") {
		q.From.Strength = catalog.Stated[units.Percent]{}
	}
	if q.To.Strength = pct(99); rapid.Bool().Draw(t, "premix") {
		q.To.Strength = pct(49.5)
	}
	return q
}

func TestLawEachRoundLeavesLess(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		q := drawFlush(t, tb)
		p, err := tb.Flush(q)
		if err != nil {
			t.Fatal(err)
		}
		f := q.Drain.Value.Ratio(q.Volume.Value)
		for i, r := range p.Rounds {
			want := 100 * math.Pow(1-f, float64(i+1))
			if math.Abs(r.OldLeft.Percents()-want) > 1e-3 {
				t.Fatalf("round %d of f %g leaves %v, want %g", i+1, f, r.OldLeft, want)
			}
		}
		more := q
		more.Drain = vol(q.Volume.Value.Litres())
		all, err := tb.Flush(more)
		if err != nil {
			t.Fatal(err)
		}
		if p.Reachable && len(all.Rounds) > len(p.Rounds) {
			t.Fatalf("%d rounds, and %d where more drains", len(p.Rounds), len(all.Rounds))
		}
	})
}

// A fill flushed to plan is clean, and so is the next top-off of the right
// coolant, whatever the old fill was of all that it may have been.
func TestLawAFlushedFillTakesTheRightTopOff(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		q := drawFlush(t, tb)
		p, err := tb.Flush(q)
		if err != nil {
			t.Fatal(err)
		}
		if !p.Reachable {
			return
		}
		share, to := p.OldShare, q.To.Chemistries[0]
		for _, old := range p.Candidates {
			fill := coolant.Fluid{Glycol: "ethylene", Strength: say(*p.Final)}
			fill.Mixed = []coolant.Share{{Chemistry: to, Percent: units.Percents(100 - share.Percents())}}
			if old != to {
				fill.Mixed = append(fill.Mixed, coolant.Share{Chemistry: old, Percent: share})
			}
			top := rapid.Float64Range(0.05, 0.5).Draw(t, "top")
			a := tb.Mix(coolant.Question{Fill: fill, Add: fluid(49.5, to), FillVolume: vol(q.Volume.Value.Litres() - top), AddVolume: vol(top)})
			if a.Outcome != compat.Yes && !slices.Contains([]string{"strength", "inhibitors"}, worstCheck(a)) {
				t.Fatalf("%v %% %s in %s, topped with %g L: %s: %s", share, old, to, top, a.Outcome, saysOf(a.Findings))
			}
		}
	})
}

func worstCheck(a coolant.Answer) string {
	for _, f := range a.Findings {
		if f.Outcome == a.Outcome {
			return f.Check
		}
	}
	return ""
}
