package coolant_test

import (
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

func label(approvals string) *catalog.Part {
	return &catalog.Part{Supplier: "Larkfield", Number: "LC-9", Type: say("coolant"), Approvals: say(approvals)}
}

func TestApprovalsBeatFamilies(t *testing.T) {
	tb := tables(t)
	e := engine("oat", 7)
	e.Circuits[0].CoolantApproval = say("QX 100-A")
	for _, c := range []struct {
		add, approvals string
		want           compat.Outcome
	}{
		{"si-oat", "approved: QX 100-A", compat.Yes},
		{"si-oat", "QX 100-A approved; QX 90 meets", compat.Yes},
		{"si-oat", "meets QX100A", compat.Caution},
		{"oat", "meets QX 100-A", compat.Caution},
		{"si-oat", "recommended for QX 100-A", compat.Caution},
		{"oat", "recommended for QX 100-A", compat.Yes},
		{"oat", "QX 100-A", compat.Yes}, // unstated standing counts as recommended
		{"si-oat", "QX 100-A", compat.Caution},
		{"oat", "approved: ZZ 7", compat.Caution},
		{"oat", "", compat.Yes},
	} {
		q := onto("oat", c.add, 8)
		q.Engine, q.Add.Product = e, label(c.approvals)
		if c.approvals == "" {
			q.Add.Product = nil
		}
		if got := tb.Mix(q); got.Outcome != c.want {
			t.Errorf("%s, label %q: %s, want %s\n%s", c.add, c.approvals, got.Outcome, c.want, says(got))
		}
	}
	// Approved on both: the families no longer count, not even at 40 %.
	q := onto("oat", "iat", 40)
	q.Engine, q.Add.Product = e, label("approved: QX 100-A")
	q.Fill.Product = &catalog.Part{Supplier: "Larkfield", Number: "LC-1", Approvals: say("approved: QX 100-A")}
	if got := tb.Mix(q); got.Outcome != compat.Yes {
		t.Errorf("approved on both: %s\n%s", got.Outcome, says(got))
	}
	q.Add.Product = label("meets QX 100-A")
	if got := tb.Mix(q); got.Outcome != compat.Caution {
		t.Errorf("one of them only meets it: %s", got.Outcome)
	}
}

func TestTheLoopHasToBeNamed(t *testing.T) {
	tb := tables(t)
	e := engine("oat", 7)
	e.Electrified = say(true)
	e.Circuits = append(e.Circuits, catalog.Circuit{Name: "battery", CoolantChem: say("low-conductivity"), CoolantApproval: say("LB 1")})
	q := onto("oat", "oat", 8)
	q.Engine = e
	a := tb.Mix(q)
	if a.Outcome != compat.CannotSay || !strings.Contains(a.Ask, "engine, battery") || a.GetHome != nil {
		t.Errorf("no loop named: %s, asks %q, home %v", a.Outcome, a.Ask, a.GetHome)
	}
	q.Circuit = "engine"
	if a = tb.Mix(q); a.Outcome != compat.Yes {
		t.Errorf("engine loop: %s\n%s", a.Outcome, says(a))
	}
	q.Circuit = "battery"
	for name, f := range map[string]coolant.Fluid{
		"oat": fluid(50, "oat"), "water": {Chemistries: []string{"water"}}, "another": {Chemistries: []string{"low-conductivity"}},
	} {
		q.Add, q.Fill = f, coolant.Fluid{Chemistries: []string{"low-conductivity"}}
		a = tb.Mix(q)
		if a.Outcome != compat.No || a.GetHome != nil || !strings.Contains(strings.Join(a.Cautions, " "), "trained people") {
			t.Errorf("%s into the battery loop: %s, home %v\n%s", name, a.Outcome, a.GetHome, says(a))
		}
	}
	q.Add = coolant.Fluid{Chemistries: []string{"low-conductivity"}, Product: label("approved: LB 1")}
	if a = tb.Mix(q); a.Outcome != compat.Yes {
		t.Errorf("the named fluid: %s\n%s", a.Outcome, says(a))
	}
}

func TestMissingFactsMoveNothing(t *testing.T) {
	tb := tables(t)
	q := onto("oat", "oat", 8)
	e := engine("", 7)
	q.Engine = e
	a := tb.Mix(q)
	if a.Outcome != compat.Yes {
		t.Errorf("%s\n%s", a.Outcome, says(a))
	}
	for _, check := range []string{"what the engine asks for", "wet liners", "cold", "look of the fill"} {
		if f := find(t, a, check); !f.NotChecked || f.Missing == "" {
			t.Errorf("%s: %+v, want it not checked and the missing fact named", check, f)
		}
	}
}

func TestFirstFillIsPresumedUntilItsColourSaysOtherwise(t *testing.T) {
	tb := tables(t)
	e := engine("oat", 7)
	e.Circuits[0].CoolantColour, e.Circuits[0].Strength = say("orange"), pct(50)
	q := coolant.Question{Engine: e, Fill: coolant.Fluid{Presumed: true}, Add: fluid(49.5, "oat"), AddVolume: vol(0.5)}
	a := tb.Mix(q)
	if a.Outcome != compat.Yes || find(t, a, "mixing").Grade != compat.Presumed || a.Result.Freeze == nil {
		t.Errorf("%s, grade %s", a.Outcome, find(t, a, "mixing").Grade)
	}
	q.Fill.ByColour = "orange"
	if a = tb.Mix(q); len(a.Candidates) != 1 {
		t.Errorf("its own colour: may be %v", a.Candidates)
	}
	q.Fill.ByColour, q.AddVolume = "green", vol(2.5)
	if a = tb.Mix(q); a.Outcome != compat.CannotSay || len(a.Candidates) != 10 {
		t.Errorf("another colour: %s, may be %v", a.Outcome, a.Candidates)
	}
}

func TestExcludedByTheMaker(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		excluded, add, notes string
		want                 compat.Outcome
		checked              bool
	}{
		{"nitrite", "noat", "", compat.Caution, true},
		{"nitrite", "oat", "", compat.Yes, true},
		{"2-EHA", "oat", "", compat.Yes, false},
		{"2-EHA", "oat", "2-EHA free", compat.Yes, true},
		{"no 2-EHA", "oat", "contains 2-EHA", compat.Caution, true},
		{"iat", "oat", "", compat.Yes, true},
		{"silicate; oat", "oat", "", compat.Caution, true},
	} {
		e := engine("", 7)
		e.Circuits[0].Excluded = say(c.excluded)
		q := onto(c.add, c.add, 8)
		q.Engine = e
		q.Add.Product = &catalog.Part{Notes: say(c.notes)}
		a := tb.Mix(q)
		if f := find(t, a, "excluded by the maker"); a.Outcome != c.want || f.NotChecked == c.checked {
			t.Errorf("excluded %q, %s %q: %s, want %s (not checked: %v)", c.excluded, c.add, c.notes, a.Outcome, c.want, f.NotChecked)
		}
	}
}

func TestCopperRadiator(t *testing.T) {
	tb := tables(t)
	e := engine("", 7)
	e.RadiatorMaterial = say("copper-brass")
	for add, want := range map[string]compat.Outcome{"oat": compat.Caution, "iat": compat.Yes} {
		q := onto(add, add, 8)
		q.Engine = e
		if got := tb.Mix(q); got.Outcome != want {
			t.Errorf("%s: %s, want %s", add, got.Outcome, want)
		}
	}
}

// Dilution water limits: an equipment maker's manual and two engine bulletins,
// common practice.
func TestWaterLimits(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		w    coolant.Water
		want compat.Outcome
	}{
		{coolant.Water{Chloride: say(41.0)}, compat.Caution}, {coolant.Water{Chloride: say(40.0)}, compat.Yes},
		{coolant.Water{PH: say(9.1)}, compat.Caution}, {coolant.Water{PH: say(5.4)}, compat.Caution},
		{coolant.Water{PH: say(9.0)}, compat.Yes}, {coolant.Water{Hardness: say(170.0)}, compat.Yes},
		{coolant.Water{Hardness: say(171.0)}, compat.Caution}, {coolant.Water{Solids: say(341.0)}, compat.Caution},
	} {
		worst := compat.Yes
		for _, f := range tb.CheckWater(c.w) {
			worst = compat.Worst(worst, f.Outcome)
		}
		if worst != c.want {
			t.Errorf("%+v: %s, want %s", c.w, worst, c.want)
		}
	}
}

func TestHardWaterMakesSilicateAndPhosphatePairsWorse(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		fill, add string
		share     float64
		hardness  float64
		want      compat.Outcome
	}{
		{"p-hoat", "oat", 8, 170, compat.Yes}, {"p-hoat", "oat", 8, 300, compat.Caution}, // r3
		{"oat", "iat", 8, 300, compat.No},        // r2
		{"oat", "si-oat", 8, 300, compat.Yes},    // neither
		{"oat", "water", 8, 300, compat.Caution}, // r16
		{"oat", "water", 8, 100, compat.Yes},
	} {
		q := onto(c.fill, c.add, c.share)
		if c.add == "water" {
			q.Add = coolant.Fluid{Chemistries: []string{"water"}}
		}
		q.WaterHardness = say(c.hardness)
		if got := tb.Mix(q); got.Outcome != c.want {
			t.Errorf("%s onto %s, %g mg/L: %s, want %s\n%s", c.add, c.fill, c.hardness, got.Outcome, c.want, says(got))
		}
	}
}

func TestHeatUnderTheCap(t *testing.T) {
	tb := tables(t)
	e := engine("oat", 7)
	e.OpeningTemp = temp(88)
	q := onto("oat", "oat", 8)
	q.Engine, q.Altitude = e, units3000
	if f := find(t, tb.Mix(q), "heat"); !f.NotChecked {
		t.Errorf("cap not known: %+v", f)
	}
	q.CapPressure = kPa(0)
	q.Fill.Strength, q.Add.Strength = pct(33), pct(33)
	if f := find(t, tb.Mix(q), "heat"); f.Outcome != compat.Yes {
		t.Errorf("33 %% at 3000 m, open: %+v", f)
	}
	q.Fill, q.Add = coolant.Fluid{Chemistries: []string{"water"}}, coolant.Fluid{Chemistries: []string{"water"}}
	if a := tb.Mix(q); find(t, a, "heat").Outcome != compat.Caution {
		t.Errorf("water at 3000 m, open: %+v", find(t, a, "heat"))
	}
	q.CapPressure = kPa(100)
	if f := find(t, tb.Mix(q), "heat"); f.Outcome != compat.Yes {
		t.Errorf("water at 3000 m under 100 kPa: %+v", f)
	}
}

// A claim about other coolants says nothing of what is in this bottle.
func TestAMixingClaimIsNoContent(t *testing.T) {
	e := engine("p-hoat", 6)
	e.Circuits[0].Excluded = say("silicate")
	blue := &catalog.Part{Type: say("coolant"), Chemistry: say("p-hoat"), MixingClaim: say("do not mix with silicated coolant")}
	q := coolant.Question{Engine: e, Fill: fluid(50, "p-hoat"), Add: coolant.Fluid{Product: blue, Chemistries: []string{"p-hoat"}, Strength: pct(50)}, AddVolume: vol(0.5)}
	if a := tables(t).Mix(q); a.Outcome != compat.Yes {
		t.Errorf("%v: %s", a.Outcome, a.First)
	}
}

func TestSuitsNamesWhatSpeaksAgainstACoolant(t *testing.T) {
	tb := tables(t)
	classic := engine("", 5)
	classic.RadiatorMaterial = say("copper-brass")
	hybrid := engine("p-hoat", 6)
	hybrid.Electrified = say(true)
	hybrid.Circuits = append(hybrid.Circuits, catalog.Circuit{Name: "battery", CoolantChem: say("low-conductivity"), CoolantApproval: say("LB 1")})
	bottle := func(chem, approvals string) *catalog.Part {
		return &catalog.Part{Number: "X-1", Type: say("coolant"), Chemistry: say(chem), Approvals: say(approvals)}
	}
	for _, c := range []struct {
		e             *catalog.EngineFamily
		p             *catalog.Part
		circuit, but  string
		says, missing string
	}{
		{classic, bottle("iat", ""), "", "", "disputed", "asks for"},
		{classic, bottle("oat", ""), "", "mind the copper radiator", "disputed", ""},
		{engine("oat", 7), bottle("iat", ""), "", "not what this engine asks for", "asks for OAT", ""},
		{engine("oat", 7), bottle("oat", ""), "", "", "asks for OAT", ""},
		{hybrid, bottle("p-hoat", ""), "engine", "", "asks for P-HOAT", ""},
		{hybrid, bottle("low-conductivity", "approved: LB 1"), "battery", "", "maker names", ""},
		{hybrid, bottle("low-conductivity", "approved: LB 9"), "engine", "not what this engine asks for", "", ""},
	} {
		findings, circuit, but := tb.Suits(c.e, c.p, "", units.Metric)
		var all string
		for _, f := range findings {
			all += f.Says + f.Missing + "\n"
		}
		if circuit != c.circuit || but != c.but || !strings.Contains(all, c.says) || !strings.Contains(all, c.missing) {
			t.Errorf("%s in %s: %q %q, want %q %q:\n%s", c.p.Chemistry.Value, c.e.Family, circuit, but, c.circuit, c.but, all)
		}
	}
}
