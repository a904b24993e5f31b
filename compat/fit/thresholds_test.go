package fit

import (
	"fmt"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/compat"
)

// found returns what one check found.
func found(t *testing.T, q Question, c Candidate, check string) result {
	t.Helper()
	list := results(t, &q, &c)
	checkRoles(t, list, map[role]bool{})
	for _, r := range list {
		if r.Check == check {
			return r
		}
	}
	t.Fatalf("no finding %q", check)
	return result{}
}

func boolean(v bool, o catalog.Origin) catalog.Stated[bool] { return catalog.Say(v, fmt.Sprint(v), o) }

// Common practice: what a missing bleed and a missing notch do, and what one too
// many does.
func TestBleedAndTabInEveryCombination(t *testing.T) {
	for _, c := range []struct {
		check      string
		need, has  bool
		outcome    compat.Outcome
		says       string
		refuses    bool
		questioned bool
	}{
		{bleedCheck, true, true, compat.Yes, "as the engine needs", false, false},
		{bleedCheck, true, false, compat.Caution, "traps air", false, true},
		{bleedCheck, false, true, compat.Yes, "does without", false, false},
		{bleedCheck, false, false, compat.Yes, "needs none", false, false},
		{"index tab", true, true, compat.Yes, "", false, false},
		{"index tab", true, false, compat.Caution, "can turn", false, true},
		{"index tab", false, true, compat.No, "does not sit down", true, true},
		{"index tab", false, false, compat.Yes, "No index tab", false, false},
	} {
		q, p := thermostatQuestion(), stat("Varn", "1")
		if c.check == bleedCheck {
			q.Engine.AirBleed, p.AirBleed = boolean(c.need, own("")), boolean(c.has, of("Varn", 10))
		} else {
			q.Engine.Indexed, p.Indexed = boolean(c.need, own("")), boolean(c.has, of("Varn", 10))
		}
		r := found(t, q, Candidate{Part: new(p)}, c.check)
		if r.Outcome != c.outcome || !strings.Contains(r.Says, c.says) || r.decides() != c.refuses || (r.ask != "") != c.questioned {
			t.Errorf("%s, needed %v, there %v: %s %q, ask %q", c.check, c.need, c.has, r.Outcome, r.Says, r.ask)
		}
	}
}

func TestWhichWayRoundItGoesIn(t *testing.T) {
	for side, want := range map[string]string{"outlet": "towards the radiator", "Inlet side": "where bypass and radiator water meet", "": "photograph the old one"} {
		q := thermostatQuestion()
		if side != "" {
			q.Engine.ThermostatSide = catalog.Say(side, side, own(side))
		}
		if r := found(t, q, Candidate{Part: new(stat("Varn", "1"))}, Direction); !strings.Contains(r.Says, want) || r.Outcome != compat.Yes || !strings.Contains(r.Says, "twelve o'clock") {
			t.Errorf("%q: %s %q", side, r.Outcome, r.Says)
		}
	}
}

// The limits are those of fit_limits: clearances per side of a flange.
func TestFlangeClearancesAtTheirLimits(t *testing.T) {
	for _, c := range []struct {
		flange string // in a bore of 54.000 mm
		seal   string
		want   role
		says   string
	}{
		{"54.002", "o-ring", fails, "does not enter"},
		{"54.000", "o-ring", doubt, "may bind"},
		{"53.990", "o-ring", agrees, "enters"},
		{"52.780", "o-ring", agrees, "more than usual"},
		{"52.820", "o-ring", agrees, "per side."},
		{"52.002", "o-ring", agrees, "more than usual"},
		{"51.996", "o-ring", doubt, "loose in the bore"},
		{"51.996", "moulded", fails, "no longer centres"},
		{"52.004", "moulded", agrees, "more than usual"},
		{"48.002", "o-ring", doubt, "loose in the bore"},
		{"47.996", "o-ring", fails, "does not reach"},
	} {
		q, p := thermostatQuestion(), stat("Varn", "1")
		q.Engine.HousingBore = length("54.000", 54, own("54.000"))
		q.Engine.SealForm = catalog.Say(c.seal, c.seal, own(c.seal))
		p.FlangeDiameter = length(c.flange, decimal(c.flange), of("Varn", 10))
		r := found(t, q, Candidate{Part: new(p)}, flangeCheck)
		if r.role != c.want || !strings.Contains(r.Says, c.says) || c.flange == "52.820" && strings.Contains(r.Says, "usual") {
			t.Errorf("flange %s, %s: role %d, %q; want role %d, %q", c.flange, c.seal, r.role, r.Says, c.want, c.says)
		}
	}
}

// Without the engine's own word for it the part's seal tells whether it sits
// around the flange.
func TestAnEdgeSealOfThePartAsksForATightFlange(t *testing.T) {
	q, p := thermostatQuestion(), stat("Varn", "1")
	q.Engine.SealForm = catalog.Stated[string]{}
	p.FlangeDiameter = length("51.5", 51.5, of("Varn", 10))
	if r := found(t, q, Candidate{Part: new(p)}, flangeCheck); r.role != doubt {
		t.Errorf("of an unknown seal: role %d, %s", r.role, r.Says)
	}
	p.SealForm = catalog.Say("moulded", "moulded", of("Varn", 10))
	if r := found(t, q, Candidate{Part: new(p)}, flangeCheck); r.role != fails {
		t.Errorf("of a moulded seal: role %d, %s", r.role, r.Says)
	}
}

func TestFlangesInTheirSeats(t *testing.T) {
	for _, c := range []struct {
		seal, thick string // in a seat of 2.00 mm
		want        role
		says        string
	}{
		{"o-ring", "2.02", fails, "does not close on its o-ring"},
		{"moulded", "2.02", fails, "does not close on its moulded"},
		{"flat", "2.02", doubt, "gasket has to swallow it"},
		{"", "2.02", doubt, "gasket has to swallow it"},
		{"o-ring", "2.00", agrees, "flush"},
		{"o-ring", "1.90", agrees, "0.09 to 0.11 mm below"},
	} {
		q, p := thermostatQuestion(), stat("Varn", "1")
		q.Engine.SeatDepth = length("2.00", 2, own("2.00"))
		q.Engine.SealForm = catalog.Stated[string]{}
		if c.seal != "" {
			q.Engine.SealForm = catalog.Say(c.seal, c.seal, own(c.seal))
		}
		p.FlangeThickness = length(c.thick, decimal(c.thick), of("Varn", 10))
		if r := found(t, q, Candidate{Part: new(p)}, seatCheck); r.role != c.want || !strings.Contains(r.Says, c.says) {
			t.Errorf("%s mm, %q: role %d, %q; want role %d, %q", c.thick, c.seal, r.role, r.Says, c.want, c.says)
		}
	}
}

// Limits of fit_limits: 15 to 30 % is right, above 40 % or at nought it is no.
func TestEdgeRingsAtTheirLimits(t *testing.T) {
	for _, c := range []struct {
		free string // mm, in a recess of 4.0000 mm
		want role
	}{
		{"3.9990", fails}, {"4.0000", doubt}, {"4.6950", doubt}, {"4.7200", agrees}, {"5.7100", agrees}, {"5.7200", doubt}, {"6.6600", doubt}, {"6.6800", fails},
	} {
		q := Question{Engine: engine(), Type: Seal}
		q.Engine.SeatDepth = length("4.0000", 4, own("4.0000"))
		q.Engine.SealForm = catalog.Say("moulded", "moulded", own("moulded"))
		p := catalog.Part{Supplier: "Varn", Number: "S", Key: "S", SealForm: catalog.Say("moulded", "moulded", of("Varn", 10)), Thickness: length(c.free, decimal(c.free), of("Varn", 10))}
		if r := found(t, q, Candidate{Part: new(p)}, crushCheck); r.role != c.want {
			t.Errorf("free height %s mm: role %d, %q; want role %d", c.free, r.role, r.Says, c.want)
		}
	}
}

// A clamp holds inside its range, and well inside a quarter to three quarters.
func TestClampsAtTheEndsOfTheirRange(t *testing.T) {
	low, high := tables(t).limits.of(clampLow), tables(t).limits.of(clampHigh)
	for at, want := range map[float64]role{-0.1: fails, low - 0.02: doubt, low + 0.02: agrees, 0.5: agrees, high - 0.02: agrees, high + 0.02: doubt, 1.1: fails} {
		q := Question{Engine: engine(), Type: Clamp}
		text := fmt.Sprintf("%.3f", 20+10*at)
		q.Engine.HoseOutside = length(text, 20+10*at, own(text))
		p := catalog.Part{
			Supplier: "Varn", Number: "C", Key: "C",
			ClampMin: length("20.000", 20, of("Varn", 10)), ClampMax: length("30.000", 30, of("Varn", 10)),
		}
		if r := found(t, q, Candidate{Part: new(p)}, clampCheck); r.role != want {
			t.Errorf("at %.2f of its range: role %d, %q; want role %d", at, r.role, r.Says, want)
		}
		p.ClampMin, p.ClampMax = p.ClampMax, p.ClampMin
		if r := found(t, q, Candidate{Part: new(p)}, clampCheck); !r.NotChecked {
			t.Errorf("30 to 20 mm is no range: %s", r.Says)
		}
		p.ClampMin = p.ClampMax
		if r := found(t, q, Candidate{Part: new(p)}, clampCheck); !r.NotChecked {
			t.Errorf("20 to 20 mm is no range: %s", r.Says)
		}
	}
}

// Another sheet that prints a size which goes in makes a question of what the
// part's own sheet prints.
func TestASecondSheetWithAnotherFlangeIsAQuestion(t *testing.T) {
	q, p := thermostatQuestion(), stat("Varn", "1")
	p.FlangeDiameter = length("55.0", 55, of("Varn", 10))
	other := p
	other.Supplier, other.FlangeDiameter = "Ostrel", length("53.6", 53.6, of("Ostrel", 4))
	c := Candidate{Part: new(p), OtherSizes: []*catalog.Part{&other}, Listings: []catalog.Fitment{listing("Varn", 3)}}
	r := found(t, q, c, flangeCheck)
	if r.role != doubt || !strings.Contains(r.Says, "measure the flange") {
		t.Errorf("role %d, %q", r.role, r.Says)
	}
	for _, sheet := range []string{"varn.csv", "ostrel.csv"} {
		cited := false
		for _, e := range r.Origin {
			cited = cited || e.Sheet == sheet
		}
		if !cited {
			t.Errorf("%s is not cited: %+v", sheet, r.Origin)
		}
	}
	c.OtherSizes[0].FlangeDiameter = length("56.0", 56, of("Ostrel", 4))
	if r := found(t, q, c, flangeCheck); r.role != fails || !r.sure {
		t.Errorf("two sheets, neither goes in: role %d, sure %v", r.role, r.sure)
	}
}
