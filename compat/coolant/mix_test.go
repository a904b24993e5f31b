package coolant_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"fitfill/catalog"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// onto is a fill of 10 L at 50 % with as much of the bottle, at 50 %, as gives
// that share of foreign concentrate.
func onto(fill, add string, sharePct float64) coolant.Question {
	return ask(fluid(50, fill), fluid(50, add), 10, 10*sharePct/(100-sharePct))
}

func says(a coolant.Answer) string {
	var b strings.Builder
	b.WriteString(a.First + "\n")
	for _, f := range a.Findings {
		b.WriteString(f.Says + "\n")
	}
	return b.String()
}

// Common practice: the classes of pairs by share of foreign concentrate.
func TestPairsByShare(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		fill, add string
		share     float64
		want      compat.Outcome
		words     string
	}{
		{"oat", "iat", 8, compat.Caution, "shortens its life"},
		{"oat", "iat", 20, compat.Caution, "change it at the next chance"},
		{"oat", "iat", 30, compat.No, "does not mix"},
		{"oat", "si-oat", 8, compat.Yes, "mixes"},
		{"oat", "si-oat", 30, compat.Caution, "shorter interval"},
		{"iat-heavy-duty", "noat", 40, compat.Caution, "shorter interval"},
		{"low-conductivity", "oat", 1, compat.No, "conduct"},
		{"waterless", "oat", 1, compat.No, "Waterless"},
		{"waterless", "water", 1, compat.No, "Waterless"},
		{"oat", "not-engine", 0.5, compat.No, "Not made for engines"},
		{"oat", "oat", 40, compat.Yes, "same kind"},
		{"oat", "iat", 1.9, compat.Yes, "too little"}, // below the 2 % floor
		{"oat", "iat", 2.1, compat.Caution, "shortens"},
	} {
		a := tb.Mix(onto(c.fill, c.add, c.share))
		if a.Outcome != c.want || !strings.Contains(says(a), c.words) {
			t.Errorf("%s onto %s, %g %%: %s, want %s saying %q:\n%s", c.add, c.fill, c.share, a.Outcome, c.want, c.words, says(a))
		}
	}
}

// The share is on concentrate: 5 L at 40 % is 2.0 L, 1 L of premix is 0.5 L.
func TestShareCountsConcentrate(t *testing.T) {
	a := tables(t).Mix(ask(fluid(40, "oat"), fluid(50, "iat"), 5, 1))
	near(t, "foreign share, %", a.Result.ForeignShare.Percents(), 20, 1e-4)
	a = tables(t).Mix(ask(fluid(40, "oat"), coolant.Fluid{Chemistries: []string{"water"}}, 5, 1))
	near(t, "foreign share of water, %", a.Result.ForeignShare.Percents(), 0, 0)
}

// Handbooks list what is usually sold in green and stop there; here a colour
// never rules a family out, so families outside that list stay in the
// judgement, and a fluid not made for engines is no candidate of a fill found
// in an engine but a line of warning.
func TestAColourOrdersButNeverExcludes(t *testing.T) {
	tb := tables(t)
	green := coolant.Fluid{ByColour: "green", Strength: pct(50)}
	a := tb.Mix(ask(green, fluid(50, "oat"), 10, 10*8/92.0))
	if a.Outcome != compat.Caution {
		t.Errorf("8 %%: %s, want caution:\n%s", a.Outcome, says(a))
	}
	if len(a.Candidates) != 10 || a.Candidates[0] != "iat" {
		t.Errorf("may be %v: want ten families, iat first", a.Candidates)
	}
	if !strings.Contains(strings.Join(a.Cautions, " "), "heating") {
		t.Errorf("no warning of heating fluid in %q", a.Cautions)
	}
	a = tb.Mix(ask(green, fluid(50, "oat"), 10, 10*30/70.0))
	if a.Outcome != compat.CannotSay || !strings.Contains(says(a), "Don't pour yet: it may be conventional IAT, which does not mix with OAT") {
		t.Errorf("30 %%: %s\n%s", a.Outcome, says(a))
	}
	// What a fresh fill without nitrite and silicate may be: everything that
	// is left goes with OAT.
	fresh := green
	fresh.FreeOf, fresh.InDate = []string{"nitrite", "silicate"}, true
	if a = tb.Mix(ask(fresh, fluid(50, "oat"), 10, 10*8/92.0)); a.Outcome != compat.Yes {
		t.Errorf("fresh, no nitrite, no silicate: %s of %v", a.Outcome, a.Candidates)
	}
}

// Amine with nitrite: a technical paper on non-amine coolant, common practice.
func TestDeclaredAmineNeverMeetsNitrite(t *testing.T) {
	tb := tables(t)
	for _, share := range []float64{0.1, 1, 8, 30} {
		fill := fluid(50, "iat-phosphate")
		fill.Contains = []string{"amine"}
		a := tb.Mix(ask(fill, fluid(50, "noat"), 10, 10*share/(100-share)))
		if a.Outcome != compat.No || !strings.Contains(says(a), "nitrosamines") {
			t.Errorf("%g %%: %s\n%s", share, a.Outcome, says(a))
		}
	}
	named := fluid(50, "iat-phosphate")
	named.Product = &catalog.Part{Notes: say("contains amines")}
	if a := tb.Mix(ask(named, fluid(50, "iat-heavy-duty"), 10, 0.1)); a.Outcome != compat.No {
		t.Errorf("amine on the label: %s", a.Outcome)
	}
}

// Common practice of the trade.
func TestRedAndGreenAreNeverAYes(t *testing.T) {
	tb := tables(t)
	for _, colours := range [][2]string{{"red", "green"}, {"green", "red"}} {
		for _, a := range []float64{0.01, 0.5, 3} {
			q := ask(coolant.Fluid{ByColour: colours[0]}, coolant.Fluid{ByColour: colours[1]}, 6, a)
			if got := tb.Mix(q).Outcome; got == compat.Yes || got == compat.Caution {
				t.Errorf("%g L of %s onto %s: %s", a, colours[1], colours[0], got)
			}
		}
		q := coolant.Question{Fill: coolant.Fluid{ByColour: colours[0]}, Add: coolant.Fluid{ByColour: colours[1]}}
		if got := tb.Mix(q).Outcome; got == compat.Yes || got == compat.Caution {
			t.Errorf("%s onto %s, no amount: %s", colours[1], colours[0], got)
		}
		universal := coolant.Fluid{Product: &catalog.Part{Type: say("coolant"), MixingClaim: say("mixes with any coolant")}}
		for _, a := range []float64{0.01, 0.5, 3} {
			if got := tb.Mix(ask(coolant.Fluid{ByColour: colours[0]}, universal, 6, a)); got.Outcome != compat.Caution {
				t.Errorf("%g L of a universal coolant onto %s: %s", a, colours[0], got.Outcome)
			} else if f := find(t, got, "mixing"); f.Grade != compat.Label {
				t.Errorf("grade %s, want label", f.Grade)
			}
		}
	}
}

func find(t *testing.T, a coolant.Answer, check string) compat.Finding {
	t.Helper()
	for _, f := range append(a.Findings, a.NotChecked...) {
		if f.Check == check {
			return f
		}
	}
	t.Fatalf("no finding %q in %v", check, says(a))
	return compat.Finding{}
}

func TestALabelsClaimLiftsToCautionAndNoFurther(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		fill, add string
		share     float64
		want      compat.Outcome
	}{
		{"oat", "iat", 30, compat.Caution}, {"oat", "iat", 8, compat.Caution}, {"oat", "si-oat", 8, compat.Yes},
		{"waterless", "iat", 30, compat.No}, {"low-conductivity", "iat", 30, compat.No},
	} {
		q := onto(c.fill, c.add, c.share)
		q.Add.Product = &catalog.Part{MixingClaim: say("mixes with any")}
		if got := tb.Mix(q); got.Outcome != c.want {
			t.Errorf("%s onto %s, %g %%: %s, want %s", c.add, c.fill, c.share, got.Outcome, c.want)
		}
	}
	q := onto("oat", "si-oat", 8)
	q.Add.Product = &catalog.Part{MixingClaim: say("Do not mix with other coolants")}
	if got := tb.Mix(q); got.Outcome != compat.Caution {
		t.Errorf("a label against mixing: %s, want caution", got.Outcome)
	}
}

// A label that forbids mixing in words that hold those of a claim claims nothing.
func TestADeniedClaimIsNone(t *testing.T) {
	tb := tables(t)
	for _, words := range []string{
		"not compatible with all coolants", "Incompatible with any coolant but its own", "cannot be mixed; not for any colour",
		"may not be mixed with any coolant", "does not mix with any other", "not universal", "should never be mixed: any coolant gels",
	} {
		q := onto("oat", "iat", 30)
		if plain := tb.Mix(q).Outcome; plain != compat.No {
			t.Fatalf("without a label: %s", plain)
		}
		q.Add.Product = &catalog.Part{MixingClaim: say(words)}
		if got := tb.Mix(q); got.Outcome != compat.No {
			t.Errorf("%q lifts iat onto oat to %s", words, got.Outcome)
		}
	}
}

func TestCondemnedFillsAreNeverTopped(t *testing.T) {
	tb := tables(t)
	for look, want := range map[string]compat.Outcome{
		"clear": compat.Yes, "hazy": compat.Caution, "rusty": compat.No, "gel": compat.No, "oily": compat.No,
	} {
		for _, a := range []float64{0, 0.5} {
			q := ask(fluid(50, "oat"), fluid(50, "oat"), 6, a)
			q.Condition = look
			got := tb.Mix(q)
			if got.Outcome != want {
				t.Errorf("%s, %g L: %s, want %s", look, a, got.Outcome, want)
			}
			if (got.GetHome != nil) != (look == "rusty" || look == "gel") {
				t.Errorf("%s: way home %v", look, got.GetHome)
			}
		}
	}
	if got := tb.Mix(ask(coolant.Fluid{ByColour: "brown"}, fluid(50, "oat"), 6, 0.5)); got.Outcome != compat.No {
		t.Errorf("brown: %s, want no", got.Outcome)
	}
}

func TestTheSameOnTheSameIsYesWithNoOtherFact(t *testing.T) {
	tb := tables(t)
	for _, id := range tb.Chemistries()[:10] {
		f := coolant.Fluid{Chemistries: []string{id}}
		if a := tb.Mix(coolant.Question{Fill: f, Add: f}); a.Outcome != compat.Yes || a.First != "mixes (same chemistry)" {
			t.Errorf("%s: %s, %q", id, a.Outcome, a.First)
		}
	}
	p := &catalog.Part{Supplier: "Larkfield", Number: "LC-5", Type: say("coolant")}
	if a := tb.Mix(coolant.Question{Fill: coolant.Fluid{Product: p}, Add: coolant.Fluid{Product: p}}); a.Outcome != compat.Yes {
		t.Errorf("same product, chemistry not stated: %s\n%s", a.Outcome, says(a))
	}
}

// An old fault of the fill is told apart from what the bottle does.
func TestTheBottleIsJudgedApartFromTheFill(t *testing.T) {
	tb := tables(t)
	fill := fluid(50)
	fill.Mixed = []coolant.Share{{Chemistry: "oat", Percent: pct(60).Value}, {Chemistry: "iat", Percent: pct(40).Value}}
	a := tb.Mix(ask(fill, fluid(50, "oat"), 6, 0.5))
	if a.Outcome != compat.Yes || a.Before.Outcome != compat.No {
		t.Errorf("more of what is in there: %s, before %s", a.Outcome, a.Before.Outcome)
	}
	if a = tb.Mix(ask(fill, fluid(50, "iat-heavy-duty"), 6, 3)); a.Outcome != compat.No {
		t.Errorf("a third kind: %s", a.Outcome)
	}
	// 3 % of iat is a shortened life already; more of it makes it worse.
	fill.Mixed = []coolant.Share{{Chemistry: "oat", Percent: pct(97).Value}, {Chemistry: "iat", Percent: pct(3).Value}}
	if a = tb.Mix(ask(fill, fluid(50, "iat"), 10, 5)); a.Outcome != compat.No || a.Before.Outcome != compat.Caution {
		t.Errorf("the old pair gets worse: %s, before %s", a.Outcome, a.Before.Outcome)
	}
}

func TestFirstLineIsShortAndInPlainWords(t *testing.T) {
	tb := tables(t)
	q := ask(fluid(40, "oat"), coolant.Fluid{Chemistries: []string{"water"}}, 6, 1)
	q.Coldest = temp(-25)
	if a := tb.Mix(q); !strings.HasPrefix(a.First, "mixes, but too weak for -25 °C") || a.Outcome != compat.Caution {
		t.Errorf("%s: %q", a.Outcome, a.First)
	}
	q = ask(fluid(50, "oat"), fluid(50, "si-oat"), 6, 0.1)
	q.Engine = engine("oat", 7)
	if a := tb.Mix(q); !strings.HasPrefix(a.First, "mixes, but not what this engine asks for") || a.Outcome != compat.Caution {
		t.Errorf("%s: %q", a.Outcome, a.First)
	}
	if a := tb.Mix(onto("oat", "iat", 30)); !strings.HasPrefix(a.First, "do not mix") || utf8.RuneCountInString(a.First) > 60 {
		t.Errorf("%q", a.First)
	}
}

// The least-regret top-off where nothing is known is up to a tenth of the
// volume in water (common practice); without an amount the missing part is
// taken as empty before.
func TestWaterToGetHomeWithoutAnAmount(t *testing.T) {
	full := coolant.Question{
		Engine: engine("si-oat", 8), Fill: coolant.Fluid{Said: "green", ByColour: "green"}, Add: coolant.Fluid{Said: "si-oat", Chemistries: []string{"si-oat"}},
	}
	a := tables(t).Mix(full)
	if a.GetHome == nil {
		t.Fatal("no way home")
	}
	if got := a.GetHome.Water.Litres(); got < 0.72 || got > 0.73 {
		t.Errorf("%.3f L of water on 8 L, want a tenth of what was in it: 0.727 L", got)
	}
}
