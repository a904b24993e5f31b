package fit

import (
	"errors"
	"slices"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Line call-outs of ASTM D2000 / SAE J200.
func TestCallouts(t *testing.T) {
	for _, c := range []struct {
		text          string
		si            bool
		grade         int
		ages          float64
		swells        float64
		hardness      int
		mpa           float64
		suffix, usual string
	}{
		{"M2BG710 EO34", true, 2, 100, 40, 70, 10, "EO34", "NBR"},
		{"2BC510", false, 2, 100, 120, 50, 6.895, "", "CR"}, // 1000 psi
		{"M2BC507", true, 2, 100, 120, 50, 7, "", "CR"},
		{"M3DA710 EA14", true, 3, 150, -1, 70, 10, "EA14", "EPDM"},
		{"M2HK710", true, 2, 250, 10, 70, 10, "", "FKM"},
	} {
		got, err := tables(t).Callout(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if got.SI != c.si || got.Grade != c.grade || got.Ages != units.Celsius(c.ages) || got.Swells != c.swells || got.Hardness != c.hardness {
			t.Errorf("%q: %+v", c.text, got)
		}
		pctClose(t, c.text, got.StrengthMPa, c.mpa, 0.001)
		if c.suffix != "" && !slices.Contains(got.Suffixes, c.suffix) || !slices.Contains(got.Polymers, c.usual) {
			t.Errorf("%q: suffixes %v, usually %v", c.text, got.Suffixes, got.Polymers)
		}
	}
	for _, text := range []string{"", "EPDM", "M2BG7", "M2XG710", "NBR 70", "AS568-222"} {
		if _, err := tables(t).Callout(text); !errors.Is(err, ErrCallout) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// ASTM D2000: the type letters rise in heat, the class letters fall in swell.
func TestLettersOfD2000Rise(t *testing.T) {
	heat, swell := 0.0, 1000.0
	for _, r := range reference(t, "fit_d2000") {
		switch {
		case r.Get("kind") == "type":
			if v := number(t, r, "value"); v <= heat {
				t.Errorf("line %d does not rise", r.Line)
			} else {
				heat = v
			}
		case r.Get("kind") == "class" && r.Get("value") != "":
			if v := number(t, r, "value"); v >= swell {
				t.Errorf("line %d does not fall", r.Line)
			} else {
				swell = v
			}
		case r.Get("kind") == "usual":
			if len(r.Get("letters")) != 2 || r.Get("polymers") == "" {
				t.Errorf("line %d: %q", r.Line, r.Get("letters"))
			}
		}
	}
	l := tables(t).letters
	if l.types["D"] != units.Celsius(150) || l.types["F"] != units.Celsius(200) || l.swells["K"] != 10 || l.swells["F"] != 60 || l.swells["A"] != -1 {
		t.Errorf("letters %+v", l)
	}
}

func TestACalledOutSealIsJudgedByItsRubber(t *testing.T) {
	seal := func(material string) Verdict {
		p := catalog.Part{Supplier: "Varn", Number: "R-1", Material: catalog.Say(material, material, of("Varn", 10))}
		return judgeOne(t, Question{Engine: engine(), Type: Seal, CoolantChemistry: "oat"}, Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}})
	}
	expect(t, seal("M2BG710 EO34"), compat.Caution, "should fit: short life, prefer EPDM")
	expect(t, seal("M3DA710 EA14"), compat.Yes, "")
	expect(t, seal("M2DH710"), compat.No, "") // ACM or HNBR: coolant destroys the one
}

// SAE J20: classes of coolant hoses.
func TestHoseClasses(t *testing.T) {
	for text, want := range map[string]struct {
		low, high float64
		rubber    string
	}{"SAE J20R4 class D-3": {-40, 150, "EPDM"}, "20R1 A": {-55, 175, "silicone"}, "radiator hose 20R4 class B": {-40, 100, "nitrile"}, "SAE J20 D1": {-40, 125, "EPDM"}} {
		_, rubber, low, high, ok := tables(t).HoseClass(text)
		if !ok || low != units.Celsius(want.low) || high != units.Celsius(want.high) || rubber != want.rubber {
			t.Errorf("%q: %s %v to %v, %t", text, rubber, low.Celsius(), high.Celsius(), ok)
		}
	}
	if _, _, _, _, ok := tables(t).HoseClass("radiator hose, upper"); ok {
		t.Error("a hose without a class has one")
	}
	for _, r := range reference(t, "fit_hose_classes") {
		if number(t, r, "min_c") >= number(t, r, "max_c") {
			t.Errorf("line %d", r.Line)
		}
	}
	q := Question{Engine: engine(), Type: Hose}
	q.Engine.OpeningTemp = celsius("88", 88, own("88"))
	p := catalog.Part{Supplier: "Varn", Number: "H-1", Description: catalog.Say("hose, SAE J20R4 class B", "", of("Varn", 10))}
	expect(t, judgeOne(t, q, Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}}), compat.Caution, "should fit: hose class too weak for its heat")
	p.Description = catalog.Say("hose, SAE J20R4 class D-1", "", of("Varn", 10))
	expect(t, judgeOne(t, q, Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}}), compat.Yes, "fits: one list, not measured")
}
