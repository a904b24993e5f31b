package coolant_test

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// By hand: the share limits 2, 10 and 25 % of equal strengths in an engine of
// 8 L that is topped up to full.
func TestLadderOfADepositPair(t *testing.T) {
	q := coolant.Question{Engine: engine("", 8), Fill: fluid(50, "oat"), Add: fluid(50, "iat")}
	a := tables(t).Mix(q)
	for i, want := range []struct {
		upTo    float64
		outcome compat.Outcome
	}{{0.16, compat.Yes}, {0.8, compat.Caution}, {2, compat.Caution}, {6, compat.No}} {
		if math.Abs(a.Ladder[i].UpTo.Litres()-want.upTo) > 1e-6 || a.Ladder[i].Outcome != want.outcome {
			t.Errorf("step %d: %v, want %v", i, a.Ladder[i], want)
		}
	}
	if a.Outcome != compat.No || !strings.Contains(a.First, "do not mix, above 2.0 L") {
		t.Errorf("%s: %q", a.Outcome, a.First)
	}
}

// 8 L at 50 %: water until what is left needs more than -25 °C and 5 K, which
// by the ASHRAE table is where it freezes at -30.
func TestLadderOfWaterEndsAtTheCold(t *testing.T) {
	tb := tables(t)
	q := coolant.Question{Fill: fluid(50, "oat"), Add: coolant.Fluid{Chemistries: []string{"water"}}, FillVolume: vol(8), Coldest: temp(-25)}
	a := tb.Mix(q)
	q.AddVolume = say(a.Ladder[0].UpTo)
	near(t, "freezes at the end of the first step, °C", tb.Mix(q).Result.Freeze.Value.Celsius(), -30, 0.001)
	if a.Ladder[1].Why != "too weak for -25 °C" {
		t.Errorf("%v", a.Ladder)
	}
}

// Where nobody knows how strong the fill is, water is too much at the latest when
// the strongest usual fill (57 %) would be too weak: the same amount as if it
// were known to be that. Below it nothing is proved, and the strength is asked
// for. Without a coldest day, and of a fill that is known, nothing changes.
func TestWaterOnAFillOfUnknownStrengthEndsAtTheColdToo(t *testing.T) {
	tb := tables(t)
	water := coolant.Fluid{Chemistries: []string{"water"}}
	q := coolant.Question{Fill: coolant.Fluid{Chemistries: []string{"oat"}}, Add: water, FillVolume: vol(8), Coldest: temp(-12)}
	a := tb.Mix(q)
	strong := q
	strong.Fill = fluid(57, "oat")
	if want := tb.Mix(strong).Ladder[0].UpTo; a.Outcome != compat.Caution || a.Ladder[0].UpTo != want || a.Ladder[1].Why != "too weak for -12 °C" ||
		!strings.Contains(a.Ladder[0].Why, "nobody knows how cold it then holds") || !strings.HasPrefix(a.First, "mixes, but surely too weak for -12 °C, above ") {
		t.Errorf("%s, ends at %v, want %v", a.First, a.Ladder, want)
	}
	q.AddVolume = say(a.Ladder[0].UpTo)
	if less := tb.Mix(q); less.Outcome != compat.Yes || !slices.ContainsFunc(less.NotChecked, func(f compat.Finding) bool { return strings.Contains(f.Missing, "strength of what is in the engine") }) ||
		!strings.Contains(less.First, "its strength is not known") {
		t.Errorf("%s, not checked %v", less.First, less.NotChecked)
	}
	q.AddVolume, q.Coldest = catalog.Stated[units.Volume]{}, catalog.Stated[units.Temperature]{}
	if any := tb.Mix(q); any.Outcome != compat.Yes || len(any.Ladder) != 1 {
		t.Errorf("no cold day was named: %s, %v", any.First, any.Ladder)
	}
}

func TestUnknownStrengthIsJudgedByTheWorstOfTheUsual(t *testing.T) {
	tb := tables(t)
	share := func(f coolant.Fluid) float64 {
		return tb.Mix(coolant.Question{Fill: f, Add: fluid(50, "iat"), FillVolume: vol(8)}).Ladder[0].UpTo.Litres()
	}
	unknown := coolant.Fluid{Chemistries: []string{"oat"}}
	near(t, "first step, L", share(unknown), share(fluid(33, "oat")), 1e-6)
}

func TestFindingOut(t *testing.T) {
	tb := tables(t)
	q := ask(coolant.Fluid{ByColour: "green", Strength: pct(50)}, fluid(50, "oat"), 5, 3)
	tests := func(a coolant.Answer) (names []string) {
		for _, s := range a.Settle {
			names = append(names, s.Test)
		}
		return names
	}
	if got := strings.Join(tests(tb.Mix(q)), ", "); got != "label, jar test, change it" {
		t.Errorf("what every garage has: %s", got)
	}
	q.TestsAtHand = []string{"Alkalinity kit", "jar test"}
	q.Fill.InDate = true
	a := tb.Mix(q)
	if got := strings.Join(tests(a), ", "); got != "alkalinity kit, jar test, change it" {
		t.Errorf("kit and jar: %s", got)
	}
	if !strings.Contains(a.Settle[0].Tells, "reads low: it may go in") {
		t.Errorf("%q", a.Settle[0].Tells)
	}
	q.TestsAtHand = []string{}
	if a = tb.Mix(q); len(a.Settle) != 1 || !strings.HasPrefix(a.Settle[0].Tells, "nothing at hand can tell") {
		t.Errorf("nothing at hand: %v", a.Settle)
	}
	// The kit settles it alone where only two families are left.
	q.Fill.Chemistries, q.Fill.ByColour, q.TestsAtHand = []string{"iat", "si-oat"}, "", []string{"alkalinity kit", "laboratory"}
	if got := strings.Join(tests(tb.Mix(q)), ", "); got != "alkalinity kit, change it" {
		t.Errorf("two families, in date: %s", got)
	}
	q.Fill.InDate = false
	if got := strings.Join(tests(tb.Mix(q)), ", "); got != "laboratory, alkalinity kit, change it" {
		t.Errorf("two families, age not known: %s", got)
	}
	if a = tb.Mix(onto("oat", "iat", 40)); len(a.Settle) != 0 {
		t.Errorf("nothing to find out, but %v", a.Settle)
	}
}

// Green that is in date, 2.5 L of Si-OAT for it: neither the kit nor the strip
// lets it go in alone, the two together do.
func TestTwoStripsTellWhatOneDoesNot(t *testing.T) {
	tb := tables(t)
	green := coolant.Fluid{ByColour: "green", InDate: true}
	q := coolant.Question{Engine: engine("si-oat", 8), Fill: green, Add: fluid(49.5, "si-oat"), AddVolume: vol(2.5), TestsAtHand: []string{"alkalinity kit", "nitrite strip", "jar test"}}
	a := tb.Mix(q)
	var two *coolant.Settle
	for i := range a.Settle {
		if strings.Contains(a.Settle[i].Test, " and ") {
			two = &a.Settle[i]
		}
	}
	if two == nil || !strings.Contains(two.Tells, "nitrite strip shows none and alkalinity kit reads low: it may go in") {
		t.Fatalf("%+v", a.Settle)
	}
	// What it says comes true.
	q.Fill.Readings = []coolant.Reading{{Of: "nitrite", Shows: coolant.None}, {Of: "reserve", Shows: coolant.None}}
	if a = tb.Mix(q); a.Outcome != compat.Caution && a.Outcome != compat.Yes {
		t.Errorf("both tests made: %s", a.First)
	}
	q.Fill = coolant.Fluid{ByColour: "green"}
	for _, x := range tb.Mix(q).Settle {
		if strings.Contains(x.Test, " and ") {
			t.Errorf("its age is not known, so a strip that shows nothing tells nothing: %+v", x)
		}
	}
}

func TestTheWayHome(t *testing.T) {
	tb := tables(t)
	q := ask(fluid(50, "oat"), fluid(50, "iat"), 6, 4)
	q.Coldest = temp(-12)
	a := tb.Mix(q)
	if a.GetHome == nil || a.GetHome.Water.Litres() != 4 || a.GetHome.Freeze.Celsius() > -12 {
		t.Fatalf("plenty of protection: %+v", a.GetHome)
	}
	q.Coldest = temp(-30)
	a = tb.Mix(q)
	near(t, "freezes one kelvin below the night, °C", a.GetHome.Freeze.Celsius(), -31, 0.01)
	q.Coldest.Known = false
	near(t, "a tenth of 6 L", tb.Mix(q).GetHome.Water.Litres(), 0.6, 1e-9)
	q.Coldest = temp(-45)
	if a = tb.Mix(q); a.GetHome.Water.Litres() != 0 {
		t.Errorf("no water where it freezes as it is: %+v", a.GetHome)
	}
	if a = tb.Mix(onto("waterless", "oat", 10)); a.GetHome != nil {
		t.Errorf("water into waterless: %+v", a.GetHome)
	}
	if a = tb.Mix(onto("oat", "oat", 10)); a.GetHome != nil {
		t.Errorf("nothing wrong, but %+v", a.GetHome)
	}
}

func TestJSONKeysAndNulls(t *testing.T) {
	tb := tables(t)
	q := ask(fluid(50, "oat"), fluid(50, "iat"), 8, 1)
	raw, err := json.Marshal(tb.Mix(q))
	if err != nil {
		t.Fatal(err)
	}
	var m map[string]any
	if err := json.Unmarshal(raw, &m); err != nil {
		t.Fatal(err)
	}
	for _, k := range []string{"outcome", "findings", "settle", "result", "ladder", "before", "not_checked", "get_home", "candidates", "cautions"} {
		if _, ok := m[k]; !ok {
			t.Errorf("no key %q", k)
		}
	}
	r := m["result"].(map[string]any)
	if r["glycol"] != "ethylene" || r["boil_capped_c"] != nil || r["service_months"] != 24.0 {
		t.Errorf("result %v", r)
	}
	near(t, "foreign_share_pct", r["foreign_share_pct"].(float64), 100/9.0, 1e-4)
	step := m["ladder"].([]any)[0].(map[string]any)
	if step["up_to_l"] == nil || step["outcome"] != "yes" || step["why"] != "mixes" {
		t.Errorf("step %v", step)
	}
	raw, err = json.Marshal(tb.Mix(coolant.Question{}))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(raw), `"freeze_c":null`) || !strings.Contains(string(raw), `"outcome":"cannot-say"`) {
		t.Errorf("nothing known: %s", raw)
	}
}

func TestCleanShareIsWhatTheJudgementTakes(t *testing.T) {
	tb := tables(t)
	for _, a := range tb.Chemistries() {
		for _, b := range tb.Chemistries() {
			if a == "water" || b == "water" {
				continue
			}
			clean := tb.CleanShare(a, b).Percents()
			if clean > 0 && clean < 50 {
				if got := tb.Mix(onto(a, b, clean-1e-4)).Outcome; got != compat.Yes {
					t.Errorf("%s with %g %% of %s: %s, want yes", a, clean, b, got)
				}
			}
		}
	}
}

func TestBadTablesAreRefused(t *testing.T) {
	for name, spoil := range map[string]func(catalog.Reference){
		"missing table":    func(r catalog.Reference) { delete(r, "coolant_pairs") },
		"unknown class":    func(r catalog.Reference) { r["coolant_pairs"][0].Cells["class"] = "Z" },
		"pair left out":    func(r catalog.Reference) { r["coolant_pairs"] = r["coolant_pairs"][1:] },
		"limit left out":   func(r catalog.Reference) { r["coolant_limits"] = r["coolant_limits"][1:] },
		"freezing rises":   func(r catalog.Reference) { r["coolant_freezing"][5].Cells["freeze_c"] = "3" },
		"not a number":     func(r catalog.Reference) { r["coolant_properties"][1].Cells["molar_mass_g_mol"] = "heavy" },
		"bands fall":       func(r catalog.Reference) { r["coolant_classes"][3].Cells["outcome"] = "yes" },
		"unknown reason":   func(r catalog.Reference) { r["coolant_pairs"][3].Cells["reasons"] = "r99" },
		"unknown sign":     func(r catalog.Reference) { r["coolant_families"][0].Cells["nitrite"] = "maybe" },
		"unknown look":     func(r catalog.Reference) { r["coolant_colours"][10].Cells["condition"] = "odd" },
		"short saturation": func(r catalog.Reference) { r["coolant_if97"] = r["coolant_if97"][:9] },
	} {
		ref := copied(t)
		if _, err := coolant.NewTables(ref); err != nil {
			t.Fatal(err)
		}
		spoil(ref)
		if _, err := coolant.NewTables(ref); err == nil {
			t.Errorf("%s: taken", name)
		} else if !strings.Contains(err.Error(), "coolant_") {
			t.Errorf("%s: %v does not name the table", name, err)
		}
	}
}

// One judgement of a fill known by its colour, with the ladder and the search
// for a test. Target: under a millisecond.
func BenchmarkMixByColour(b *testing.B) {
	tb := tables(b)
	q := coolant.Question{Engine: engine("oat", 7), Fill: coolant.Fluid{ByColour: "green"}, Add: coolant.Fluid{ByColour: "red"}, AddVolume: vol(2.5), Coldest: temp(-12)}
	b.ReportAllocs()
	for b.Loop() {
		tb.Mix(q)
	}
}

// Where it is not known either how much is in there, the same holds for every
// litre of it: half water is too weak for -12 °C however strong the fill is.
func TestWaterOnALitreOfUnknownStrength(t *testing.T) {
	tb := tables(t)
	q := coolant.Question{Fill: coolant.Fluid{Chemistries: []string{"oat"}}, Add: coolant.Fluid{Chemistries: []string{"water"}}, Coldest: temp(-12)}
	a := tb.Mix(q)
	litre := q
	litre.FillVolume = vol(1)
	if want := tb.Mix(litre); !a.PerLitre || a.Outcome != compat.Caution || len(a.Ladder) != 2 || a.Ladder[0].UpTo != want.Ladder[0].UpTo || a.Ladder[1].Why != "too weak for -12 °C" {
		t.Errorf("%s: %v, of one litre %v", a.First, a.Ladder, want.Ladder)
	}
}
