package fit

import (
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

func plugQuestion(groove, bore, plug string) Question {
	e := catalog.EngineFamily{Family: "CV34", SealForm: catalog.Say("o-ring", "o-ring", own("o-ring"))}
	for _, s := range []struct {
		text string
		to   *catalog.Stated[units.Length]
	}{{groove, &e.PlugGroove}, {bore, &e.PlugBore}, {plug, &e.PlugDiameter}} {
		if s.text != "" {
			size, _, _ := strings.Cut(s.text, " ")
			*s.to = length(s.text, decimal(size), own(s.text))
		}
	}
	return Question{Engine: e, Type: Seal}
}

// A worked stack, recomputed with a pocket calculator (common practice): an
// AS568-222 on a plug with groove 38.40 -0.05/0 in a bore 44.00 +0.06/0. A
// stretch of 6 % is past what a seal maker's published rules allow (5 %).
func TestARingOnAPlug(t *testing.T) {
	for name, tc := range map[string]struct {
		ring, groove, bore, plug string
		want                     compat.Outcome
		says                     string
	}{
		"as it should be":   {"AS568-222", "38.40 +0/-0.05", "44.00 +0.06/0", "", compat.Yes, "squeezed by 14."},
		"off centre":        {"AS568-222", "38.40 +0/-0.05", "44.00 +0.06/0", "43.84 ±0.04", compat.Yes, "Off centre it is squeezed by 11.0 to 24.0 %"},
		"far off centre":    {"AS568-222", "38.40 +0/-0.05", "44.00 +0.06/0", "43.50 ±0.04", compat.Caution, "Off centre"},
		"too thin":          {"37.69x2.62", "38.40 +0/-0.05", "44.00 +0.06/0", "", compat.No, "it leaks"},
		"too thick":         {"37.69x5.33", "38.40 +0/-0.05", "44.00 +0.06/0", "", compat.No, "too much"},
		"stretched by 6 %":  {"36.2x3.53", "38.40 +0/-0.05", "44.00 +0.06/0", "", compat.Caution, "not the size"},
		"stretched by 14 %": {"33.6x3.53", "38.40 +0/-0.05", "44.00 +0.06/0", "", compat.No, ""},
	} {
		p := catalog.Part{Supplier: "Varn", Number: "R-1", ORingSize: catalog.Say(tc.ring, tc.ring, of("Varn", 10))}
		v := judgeOne(t, plugQuestion(tc.groove, tc.bore, tc.plug), Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}})
		if v.Outcome != tc.want || !says(v, tc.says) {
			t.Errorf("%s: %s, %q; want %s, %q\n%s", name, v.Outcome, v.First, tc.want, tc.says, told(v))
		}
		for _, f := range v.Findings {
			if f.Check == plugCheck && checkSums(t, f.Steps) < 6 {
				t.Errorf("%s: not enough sums in %q", name, f.Steps)
			}
		}
	}
	v := judgeOne(t, plugQuestion("38.40", "", ""), Candidate{Part: new(catalog.Part{Supplier: "Varn", Number: "R-1"}), Listings: []catalog.Fitment{listing("Varn", 3)}})
	if !missing(v, "bore for the plug") {
		t.Errorf("the bore is missing, and it is not named\n%s", told(v))
	}
}
