package fit

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Proposals of research that the rules of combining overrule. The figure is
// kept beside the rule that stands in its place, with the reason.
func TestRulesThatOverruleProposals(t *testing.T) {
	listed := []catalog.Fitment{listing("Varn", 3)}

	t.Run("a rubber that does not last is no misfit", func(t *testing.T) {
		// The published table of elastomers gives NBR 80 °C in hot water and the
		// proposal is "no". It goes in and seals: what it lacks is life.
		if ok, known := tables(t).StandsHotWater("NBR", units.Celsius(110)); ok || !known {
			t.Error("NBR stands water of 110 °C by the table")
		}
		p := catalog.Part{Supplier: "Varn", Number: "R-1", Material: catalog.Say("NBR", "NBR", of("Varn", 10))}
		expect(t, judgeOne(t, Question{Engine: engine(), Type: Seal}, Candidate{Part: new(p), Listings: listed}), compat.Caution, "should fit: short life, prefer EPDM")
	})

	t.Run("a colder thermostat goes in", func(t *testing.T) {
		// 180 °F where 195 °F belongs lies 8.3 K off and the proposal is
		// "conflict" on either side. The sides are not alike: colder is no only
		// where a warm-up monitor would store a code, hotter always.
		pctClose(t, "195 °F - 180 °F", units.Fahrenheit(195).Sub(units.Fahrenheit(180)).Kelvins(), 8.3, 0.05)
		judge := func(part, wants float64, monitor bool) compat.Outcome {
			q := thermostatQuestion()
			q.Engine.OpeningTemp = catalog.Say(units.Fahrenheit(wants), "", own("rating"))
			q.Engine.WarmUpMonitor = catalog.Say(monitor, "", own("monitor"))
			p := stat("Varn", "TX-1")
			p.OpeningTemp = catalog.Say(units.Fahrenheit(part), "", of("Varn", 10))
			return judgeOne(t, q, Candidate{Part: new(p), Listings: listed}).Outcome
		}
		if got := judge(180, 195, false); got != compat.Caution {
			t.Errorf("colder, no monitor: %s", got)
		}
		if got := judge(180, 195, true); got != compat.No {
			t.Errorf("colder, with a monitor: %s", got)
		}
		if got := judge(195, 180, false); got != compat.No {
			t.Errorf("hotter: %s", got)
		}
	})

	// Odds of evidence, p = 1/(1+10^-s): the proposal words a verdict by p. No
	// probability is shown until it is calibrated on parts that came back, and
	// the verdict follows rules that a person can check.
	p := func(s float64) float64 { return 1 / (1 + math.Pow(10, -s)) }
	pctClose(t, "maker and one more list", p(-0.6+1.0+0.8), 0.941, 0.001)
	pctClose(t, "the second a copy of the first", p(-0.6+1.0), 0.715, 0.001)
	pctClose(t, "listed, and excluded", p(-0.6+0.8-1.5), 0.048, 0.001)
	pctClose(t, "two steps away", p(-0.6+0.5+0.2), 0.557, 0.001)
	two := []catalog.Fitment{listing("Varn", 3), listing("Kemmel", 7)}
	copied := listing("Copyist", 3)
	copied.Origin.Text = two[0].Origin.Text
	for name, tc := range map[string]struct {
		c     Candidate
		want  compat.Outcome
		first string
	}{
		"two independent lists":          {Candidate{Part: new(stat("Varn", "TX-1")), Listings: two}, compat.Yes, "fits: two lists and measured"},
		"a copy of one list is one list": {Candidate{Part: new(stat("Varn", "TX-1")), Listings: []catalog.Fitment{two[0], copied}}, compat.Yes, "fits: one list and measured"},
		"an exclusion beats the listing": {Candidate{Part: new(stat("Varn", "TX-1")), Listings: []catalog.Fitment{noted(two[0], "exc. Corvin")}}, compat.No, ""},
		"two steps of cross-reference":   {Candidate{Part: new(stat("Varn", "TX-1")), Links: []Link{{Via: new(stat("Kemmel", "K-1")), Relation: catalog.Same, Hops: 2, Origin: of("Kemmel", 5)}}}, compat.Caution, ""},
	} {
		t.Run(name, func(t *testing.T) { expect(t, judgeOne(t, thermostatQuestion(), tc.c), tc.want, tc.first) })
	}
}

// No outcome and a shown probability can disagree, since none is shown: neither
// in the first line nor in a reason of any verdict.
func TestNoProbabilityIsShown(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		q := drawQuestion(r)
		for _, v := range tables(t).Judge(q, []Candidate{drawCandidate(r, 1), drawCandidate(r, 2)}) {
			texts := []string{v.First}
			for _, f := range v.Findings {
				texts = append(texts, f.Says)
			}
			for _, text := range texts {
				for _, word := range []string{"probab", "likel", "chance", "odds", "confiden", "certain"} {
					if strings.Contains(strings.ToLower(text), word) {
						r.Fatalf("%s: %q speaks of %q", v.Outcome, text, word)
					}
				}
			}
		}
	})
}
