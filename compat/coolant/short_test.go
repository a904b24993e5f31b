package coolant_test

import (
	"slices"
	"strings"
	"testing"

	"fitfill/compat"
	"fitfill/compat/coolant"
)

func TestTheGravestReasonsAreToldFirstAndAtMostThree(t *testing.T) {
	tb := tables(t)
	q := ask(fluid(33, "oat"), coolant.Fluid{Chemistries: []string{"water"}}, 6, 2)
	q.Coldest, q.WaterHardness = temp(-25), say(320.0)
	a := tb.Mix(q)
	got := a.Reasons()
	if len(got) != 3 || len(a.Findings) <= 3 {
		t.Fatalf("%d of %d findings", len(got), len(a.Findings))
	}
	for i, f := range got {
		if f.Outcome != compat.Caution {
			t.Errorf("reason %d does not carry the verdict: %+v", i, f)
		}
	}
	a = tb.Mix(onto("oat", "iat", 30))
	for _, f := range a.Reasons() {
		if f.Outcome != compat.No {
			t.Errorf("beside a no stands: %s", f.Says)
		}
	}
}

func TestACondemnedFillHasNoLadder(t *testing.T) {
	tb := tables(t)
	for _, look := range []string{"rusty", "gel", "oily"} {
		a := tb.Mix(coolant.Question{Engine: engine("oat", 8), Fill: fluid(50, "oat"), Add: fluid(50, "oat"), Condition: look})
		if len(a.Ladder) != 0 || a.LadderNote != "" {
			t.Errorf("%s: %v, %q", look, a.Ladder, a.LadderNote)
		}
	}
}

// By hand: 2, 10 and 25 % of the concentrate of 8 L; the steps at 0.8 and 2 L
// are one as long as only the outcome counts.
func TestNeighboursOfOneOutcomeAreOneRung(t *testing.T) {
	a := tables(t).Mix(coolant.Question{Engine: engine("", 8), Fill: fluid(50, "oat"), Add: fluid(50, "iat")})
	rungs := a.Rungs()
	var outcomes []string
	for _, r := range rungs {
		outcomes = append(outcomes, r.Outcome.String())
	}
	if got := strings.Join(outcomes, " "); got != "yes caution no" || rungs[1].Why != "shortens its life" {
		t.Fatalf("%v", rungs)
	}
	near(t, "end of the second, L", rungs[1].UpTo.Litres(), 2, 1e-6)
}

func TestWhatIsMissingIsNamedOnce(t *testing.T) {
	tb := tables(t)
	truck := engine("", 30)
	truck.Circuits[0].CoolantCapacity.Known = false
	truck.WetLiner = say(true)
	q := coolant.Question{Engine: truck, Fill: fluid(50, "iat-heavy-duty"), Add: fluid(50, "iat-heavy-duty"), AddVolume: vol(2)}
	q.Nitrite = say(1500.0)
	a := tb.Mix(q)
	got := a.Missing()
	if slices.Contains(got, "how much goes in") || !slices.Contains(got, "how much the engine holds") {
		t.Errorf("the amount is known, the capacity is not: %q", got)
	}
}

// ASTM D3321: a wrong scale is off by 10 °C and more, so it is never told last.
func TestAWrongScaleIsAmongTheReasonsToldFirst(t *testing.T) {
	tb := tables(t)
	e := engine("oat", 8)
	e.OpeningTemp, e.CapPressure = temp(88), kPa(103.4)
	q := coolant.Question{Engine: e, Fill: coolant.Fluid{Chemistries: []string{"oat"}, Glycol: "propylene"}, Add: fluid(50, "oat"), AddVolume: vol(1), FreezeReads: temp(-28), Scale: "ethylene"}
	a := tb.Mix(q)
	if got := a.Reasons(); len(a.Findings) < 4 || !slices.ContainsFunc(got, func(f compat.Finding) bool { return strings.Contains(f.Says, "Wrong scale") }) {
		t.Errorf("%d findings, told first: %+v", len(a.Findings), got)
	}
}
