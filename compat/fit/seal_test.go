package fit

import (
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

func ringPart(size, material string) catalog.Part {
	o := of("Varn", 20)
	p := catalog.Part{Supplier: "Varn", Number: "R-1", Key: "R1", SealForm: catalog.Say("o-ring", "o-ring", o), ORingSize: catalog.Say(size, size, o)}
	if material != "" {
		p.Material = catalog.Say(material, material, o)
	}
	return p
}

func sealQuestion() Question {
	e := engine()
	e.SealInnerDiameter, e.SealSection = length("37.7", 37.7, own("37.7")), length("3.5", 3.5, own("3.5"))
	return Question{Engine: e, Type: Seal}
}

func TestRingAgainstTheEnginesSeal(t *testing.T) {
	for size, want := range map[string]compat.Outcome{
		"AS568-222": compat.Yes, "P38": compat.Yes, "37.5x3.55": compat.Yes,
		"37.7x3.1":  compat.No,                         // 0.4 mm too thin
		"AS568-128": compat.No, "AS568-325": compat.No, // another section
		"AS568-223": compat.No,      // too large
		"AS568-221": compat.Caution, // stretched by 4 to 5 %
		"AS568-219": compat.No,      // stretched by more than a ring stands
	} {
		v := judgeOne(t, sealQuestion(), Candidate{Part: new(ringPart(size, "EPDM")), Listings: []catalog.Fitment{listing("Varn", 3)}})
		if v.Outcome != want {
			t.Errorf("%s: %s, want %s (%s)\n%s", size, v.Outcome, want, v.First, told(v))
		}
	}
}

func grooved(width string) Question {
	q := sealQuestion()
	q.Engine.GrooveDepth = length("2.70 ±0.05", 2.70, own("2.70"))
	if width != "" {
		q.Engine.GrooveWidth = length(width, 4.8, own(width))
	}
	return q
}

// A ring of the wrong section in a 3.53 groove (common practice): 3.00 leaks,
// 4.00 overfills.
func TestRingInItsGroove(t *testing.T) {
	for size, want := range map[string]compat.Outcome{"AS568-222": compat.Yes, "37.7x3.50": compat.Yes, "37.5x3.55": compat.Yes, "37.7x3.00": compat.No, "37.7x4.00": compat.No} {
		v := judgeOne(t, grooved("4.80"), Candidate{Part: new(ringPart(size, "EPDM")), Listings: []catalog.Fitment{listing("Varn", 3)}})
		if v.Outcome != want {
			t.Errorf("%s: %s, want %s (%s)\n%s", size, v.Outcome, want, v.First, told(v))
		}
	}
}

func TestGrooveWidthMissingIsNamed(t *testing.T) {
	v := judgeOne(t, grooved(""), Candidate{Part: new(ringPart("AS568-222", "EPDM"))})
	if !missing(v, "groove width of the engine") {
		t.Errorf("does not name the width\n%s", told(v))
	}
	for _, f := range v.Findings {
		if f.Check == glandCheck && f.NotChecked && len(f.Steps) > 0 {
			t.Error("a fill was computed without a width")
		}
	}
}

// Section "3.1" in a depth of "2.7", both to half a digit: the least squeeze lies
// between 7.1 and 13.4 %, so the print alone does not prove that it leaks.
func TestCoarseDigitsDoNotProveALeak(t *testing.T) {
	q := grooved("4.80")
	q.Engine.GrooveDepth = length("2.7", 2.7, own("2.7"))
	p := ringPart("", "EPDM")
	p.ORingSize = catalog.Stated[string]{}
	p.InnerDiameter, p.Section = length("37.7", 37.7, of("Varn", 20)), length("3.1", 3.1, of("Varn", 20))
	v := judgeOne(t, q, Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}})
	expect(t, v, compat.Caution, "should fit: check the ring's section")
}

func TestSqueezeWithoutAGrooveWidthProvesNothing(t *testing.T) {
	q := grooved("")
	q.Engine.SealInnerDiameter, q.Engine.SealSection = catalog.Stated[units.Length]{}, catalog.Stated[units.Length]{}
	c := Candidate{Part: new(ringPart("AS568-222", "EPDM"))}
	expect(t, judgeOne(t, q, c), compat.CannotSay, "")
	c.Listings = []catalog.Fitment{listing("Varn", 3)}
	expect(t, judgeOne(t, q, c), compat.Yes, "fits: one list, not measured")
	c.Part = new(ringPart("37.7x3.00", "EPDM"))
	expect(t, judgeOne(t, q, c), compat.No, "")
}

func TestRingAcrossTheGroove(t *testing.T) {
	q := grooved("4.80")
	q.Engine.GrooveOuterDiameter = length("44.8", 44.8, own("44.8"))
	for size, want := range map[string]compat.Outcome{"AS568-222": compat.Yes, "AS568-224": compat.No, "AS568-218": compat.No, "AS568-223": compat.Caution} {
		v := judgeOne(t, q, Candidate{Part: new(ringPart(size, "EPDM")), Listings: []catalog.Fitment{listing("Varn", 3)}})
		if v.Outcome != want {
			t.Errorf("%s: %s, want %s (%s)\n%s", size, v.Outcome, want, v.First, told(v))
		}
	}
}

// The table of elastomers gives NBR 80 °C in hot water; in an engine that is a
// shorter life and not a misfit, so a listed seal of it is a caution and only a
// rubber that coolant destroys is no.
func TestMaterials(t *testing.T) {
	for material, want := range map[string]compat.Outcome{
		"EPDM": compat.Yes, "EPDM peroxide": compat.Yes, "HNBR": compat.Yes, "NBR": compat.Caution, "nitrile": compat.Caution,
		"FPM": compat.Caution, "silicone": compat.Caution, "CR": compat.Caution, "polyacrylate": compat.No, "AU": compat.No, "vulcanite": compat.Yes,
	} {
		q := sealQuestion()
		q.CoolantChemistry = "oat"
		v := judgeOne(t, q, Candidate{Part: new(ringPart("AS568-222", material)), Listings: []catalog.Fitment{listing("Varn", 3)}})
		if v.Outcome != want {
			t.Errorf("%s: %s, want %s\n%s", material, v.Outcome, want, told(v))
		}
		if material == "NBR" && v.First != "should fit: short life, prefer EPDM" {
			t.Errorf("NBR: %q", v.First)
		}
	}
}

func TestSiliconeByCoolantAndTemperature(t *testing.T) {
	q := sealQuestion()
	q.CoolantChemistry = "iat"
	c := Candidate{Part: new(ringPart("AS568-222", "VMQ")), Listings: []catalog.Fitment{listing("Varn", 3)}}
	expect(t, judgeOne(t, q, c), compat.Yes, "") // 97 °C at the seal, good to 100 °C
	q.Engine.OpeningTemp = catalog.Say(units.Fahrenheit(195), "195", own("195"))
	expect(t, judgeOne(t, q, c), compat.Caution, "should fit: short life, prefer EPDM")
	q.Engine.OpeningTemp = celsius("82", 82, own("82"))
	q.CoolantChemistry = ""
	q.Engine.Circuits = []catalog.Circuit{{Name: catalog.DefaultCircuit, CoolantChem: catalog.Say("oat", "oat", own("oat"))}}
	expect(t, judgeOne(t, q, c), compat.Caution, "should fit: short life, prefer EPDM")
}

func TestSealOfAnotherKind(t *testing.T) {
	p := ringPart("AS568-222", "EPDM")
	p.SealForm = catalog.Say("flat", "flat", of("Varn", 20))
	v := judgeOne(t, sealQuestion(), Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}})
	expect(t, v, compat.No, "does not fit: flat seal, housing takes o-ring")
}

// Free height 5.20 in a recess of 4.10: crushed by 21 % (common practice).
func TestEdgeRing(t *testing.T) {
	q := sealQuestion()
	q.Engine.SealForm = catalog.Say("moulded", "moulded", own("moulded"))
	q.Engine.SeatDepth = length("4.10", 4.10, own("4.10"))
	for text, want := range map[string]compat.Outcome{"5.20": compat.Yes, "4.00": compat.No, "4.40": compat.Caution, "7.20": compat.No} {
		p := catalog.Part{Supplier: "Varn", Number: "E-1", SealForm: catalog.Say("moulded", "moulded", of("Varn", 20)), Thickness: length(text, decimal(text), of("Varn", 20))}
		v := judgeOne(t, q, Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}})
		if v.Outcome != want {
			t.Errorf("%s: %s, want %s\n%s", text, v.Outcome, want, told(v))
		}
	}
}

func TestStepsCanBeFollowed(t *testing.T) {
	v := judgeOne(t, grooved("4.80"), Candidate{Part: new(ringPart("AS568-222", "EPDM")), Listings: []catalog.Fitment{listing("Varn", 3)}})
	var steps string
	for _, f := range v.Findings {
		steps += strings.Join(f.Steps, "\n") + "\n"
	}
	for _, want := range []string{
		"(3.530 - 2.700)/3.530 = 23.5 %",
		"least: (3.430 - 2.750)/3.430 = 19.8 %",
		"most: (3.630 - 2.650)/3.630 = 27.0 %",
		"0.7854 x 3.530 x 3.530/(4.800 x 2.700) = 75.5 %",
	} {
		if !strings.Contains(steps, want) {
			t.Errorf("no step %q in\n%s", want, steps)
		}
	}
}
