package fit

import (
	"testing"
	"unicode/utf8"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

func TestListedAndMeasuredFits(t *testing.T) {
	c := Candidate{Part: new(stat("Varn", "TX-4711")), Listings: []catalog.Fitment{listing("Varn", 3)}}
	expect(t, judgeOne(t, thermostatQuestion(), c), compat.Yes, "fits: one list and measured")
	c.Listings = append(c.Listings, listing("Ostrel", 8))
	expect(t, judgeOne(t, thermostatQuestion(), c), compat.Yes, "fits: two lists and measured")
}

func TestListingsAloneFitWithoutEngineFacts(t *testing.T) {
	q := Question{Engine: catalog.EngineFamily{Family: "3.4 V6"}, Type: Thermostat}
	for _, typ := range []string{Thermostat, Seal, "hose"} {
		q.Type = typ
		v := judgeOne(t, q, Candidate{Part: new(catalog.Part{Supplier: "Varn", Number: "1"}), Listings: []catalog.Fitment{listing("Varn", 3)}})
		expect(t, v, compat.Yes, "fits: one list, not measured")
	}
}

func TestNothingKnownCannotSay(t *testing.T) {
	v := judgeOne(t, thermostatQuestion(), Candidate{Part: new(catalog.Part{Supplier: "Varn", Number: "1"})})
	expect(t, v, compat.CannotSay, "cannot say: not listed, no size to compare")
	for _, fact := range []string{"flange diameter of the part", "opening temperature of the part", "seat depth of the engine"} {
		if !missing(v, fact) {
			t.Errorf("does not name the missing %s\n%s", fact, told(v))
		}
	}
}

func TestSizesAloneCouldFit(t *testing.T) {
	v := judgeOne(t, thermostatQuestion(), Candidate{Part: new(stat("Varn", "1"))})
	expect(t, v, compat.Caution, "could fit, not listed: the sizes agree")
}

// A flange of 55.0 mm cannot enter a bore of 54.0 mm (common practice).
func TestFlangeThatCannotEnter(t *testing.T) {
	p := stat("Varn", "1")
	p.FlangeDiameter = length("55.0", 55, of("Varn", 10))
	alone := Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}}
	expect(t, judgeOne(t, thermostatQuestion(), alone), compat.No, "does not fit: flange 55.0 mm, bore 54.0 mm")
	q := thermostatQuestion()
	q.Show = units.US
	expect(t, judgeOne(t, q, alone), compat.No, "does not fit: flange 2.165 in, bore 2.126 in")

	opposed := alone
	opposed.Listings = []catalog.Fitment{listing("Varn", 3), listing("Ostrel", 8)}
	v := judgeOne(t, thermostatQuestion(), opposed)
	expect(t, v, compat.Caution, "should fit: check the flange")
	if len(v.Ask) == 0 {
		t.Error("asks nothing")
	}

	printed := opposed // a second sheet prints the same size
	printed.OtherSizes = []*catalog.Part{{Supplier: "Ostrel", Number: "1", FlangeDiameter: length("55", 55, of("Ostrel", 9))}}
	expect(t, judgeOne(t, thermostatQuestion(), printed), compat.No, "")

	copied := opposed // the second sheet is a copy of the first
	copied.OtherSizes = []*catalog.Part{{Supplier: "Ostrel", Number: "1", FlangeDiameter: length("55.0", 55, catalog.Origin{Sheet: "o.csv", Line: 9, Supplier: "Ostrel", Text: of("Varn", 10).Text})}}
	expect(t, judgeOne(t, thermostatQuestion(), copied), compat.Caution, "should fit: check the flange")

	measured := opposed // the garage has measured the part
	measured.OtherSizes = []*catalog.Part{{Number: "1", FlangeDiameter: length("55.1", 55.1, own("55.1"))}}
	expect(t, judgeOne(t, thermostatQuestion(), measured), compat.No, "")
	measured.OtherSizes = []*catalog.Part{{Number: "1", FlangeDiameter: length("53.6", 53.6, own("53.6"))}}
	expect(t, judgeOne(t, thermostatQuestion(), measured), compat.Yes, "fits: two lists and measured")

	contradicted := alone // another sheet prints a size that goes in
	contradicted.OtherSizes = []*catalog.Part{{Supplier: "Ostrel", Number: "1", FlangeDiameter: length("53.6", 53.6, of("Ostrel", 9))}}
	expect(t, judgeOne(t, thermostatQuestion(), contradicted), compat.Caution, "should fit: check the flange")

	foreign := alone // the bore is some supplier's figure, not the garage's
	q = thermostatQuestion()
	q.Engine.HousingBore = length("54.0", 54, of("Varn", 11))
	expect(t, judgeOne(t, q, foreign), compat.Caution, "should fit: check the flange")

	over := alone
	over.Part = new(*alone.Part)
	over.Part.FlangeDiameter = length("55.0 over seal", 55, of("Varn", 10))
	expect(t, judgeOne(t, thermostatQuestion(), over), compat.Caution, "should fit: check the bare flange")
}

// 54 printed means 53.5 to 54.5: not proof that it cannot enter 54.0.
func TestPrintedDigitsLeaveRoom(t *testing.T) {
	p := stat("Varn", "1")
	p.FlangeDiameter = length("54", 54, of("Varn", 10))
	c := Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}}
	expect(t, judgeOne(t, thermostatQuestion(), c), compat.Caution, "should fit: check the flange")
	q := thermostatQuestion()
	q.Engine.HousingBore = length("54", 54, own("54"))
	c.Part.FlangeDiameter = length("54.2", 54.2, of("Varn", 10)) // a bore of "54" may be 54.5
	expect(t, judgeOne(t, q, c), compat.Caution, "should fit: check the flange")
	c.Part.FlangeDiameter = length("54.3", 54.3, of("Varn", 10))
	expect(t, judgeOne(t, thermostatQuestion(), c), compat.No, "")
	c.Part.FlangeDiameter = length("2-1/8", 53.975, of("Varn", 10))
	expect(t, judgeOne(t, thermostatQuestion(), c), compat.Caution, "should fit: check the flange")
}

// Ratings: within 2 K one rating, up to 5 K a question, hotter than that no,
// colder no where the warm-up monitor exists (13 CCR 1968.2), else a caution.
func TestRatings(t *testing.T) {
	for _, c := range []struct {
		engine, part units.Temperature
		monitor      bool
		want         compat.Outcome
		first        string
	}{
		{units.Fahrenheit(195), units.Celsius(90), true, compat.Yes, ""},
		{units.Fahrenheit(195), units.Celsius(91), true, compat.Yes, ""},
		{units.Celsius(82), units.Celsius(85), true, compat.Caution, "should fit: check the stamp"},
		{units.Celsius(82), units.Celsius(88), true, compat.No, "does not fit: opens at 88 °C, engine 82 °C"},
		{units.Fahrenheit(195), units.Fahrenheit(180), true, compat.No, "does not fit: opens at 82.2 °C, engine 90.6 °C"},
		{units.Fahrenheit(195), units.Fahrenheit(180), false, compat.Caution, "should fit: goes in, runs cool"},
		{units.Fahrenheit(195), units.Fahrenheit(160), true, compat.No, ""},
		{units.Celsius(82), units.Celsius(95), false, compat.No, ""},
	} {
		q := thermostatQuestion()
		q.Engine.OpeningTemp = catalog.Say(c.engine, "", own("r"))
		q.Engine.WarmUpMonitor = catalog.Say(c.monitor, "", own("m"))
		p := stat("Varn", "1")
		p.OpeningTemp = catalog.Say(c.part, "", of("Varn", 10))
		v := judgeOne(t, q, Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}})
		expect(t, v, c.want, c.first)
		if c.part == units.Fahrenheit(160) && !says(v, "P0128 by itself") {
			t.Errorf("160 °F where 195 °F belongs explains the code\n%s", told(v))
		}
		if c.part == units.Celsius(95) && !says(v, "fully open") {
			t.Errorf("95 °C may be the full-open temperature\n%s", told(v))
		}
	}
}

func TestRatingDifferencesInBothUnits(t *testing.T) {
	pctClose(t, "195 F and 90 C", units.Fahrenheit(195).Sub(units.Celsius(90)).Kelvins(), 0.56, 0.01)
	pctClose(t, "195 F and 91 C", units.Celsius(91).Sub(units.Fahrenheit(195)).Kelvins(), 0.44, 0.01)
	pctClose(t, "180 F and 195 F", units.Fahrenheit(195).Sub(units.Fahrenheit(180)).Kelvins(), 8.3, 0.05)
}

func TestTwoTemperaturesInOneCell(t *testing.T) {
	for _, value := range []float64{82, 95} {
		p := stat("Varn", "1")
		p.OpeningTemp = celsius("82/95", value, of("Varn", 10))
		v := judgeOne(t, thermostatQuestion(), Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}})
		expect(t, v, compat.Yes, "fits: one list and measured")
		if !says(v, "full-open 95") {
			t.Errorf("does not say how the cell was read\n%s", told(v))
		}
	}
}

func TestRatingsOfListsWithoutEngineRating(t *testing.T) {
	q := thermostatQuestion()
	q.Engine.OpeningTemp = catalog.Stated[units.Temperature]{}
	cands := []Candidate{
		{Part: new(stat("Varn", "A1")), Listings: []catalog.Fitment{listing("Varn", 3)}},
		{Part: new(stat("Ostrel", "B1")), Listings: []catalog.Fitment{listing("Ostrel", 3)}},
		{Part: new(stat("Kemmel", "C1")), Listings: []catalog.Fitment{listing("Kemmel", 3)}},
	}
	cands[2].Part.OpeningTemp = celsius("71", 71, of("Kemmel", 10))
	v := tables(t).Judge(q, cands)
	expect(t, v[0], compat.Yes, "fits: one list and measured")
	expect(t, v[1], compat.Yes, "fits: one list and measured")
	expect(t, v[2], compat.Caution, "should fit: lists disagree on the rating")
	if v[2].Part.Supplier != "Kemmel" {
		t.Errorf("%s is last", v[2].Part.Supplier)
	}
}

func TestOneListAgainstOneDecidesNoRating(t *testing.T) {
	q := thermostatQuestion()
	q.Engine.OpeningTemp = catalog.Stated[units.Temperature]{}
	cands := []Candidate{
		{Part: new(stat("Varn", "A1")), Listings: []catalog.Fitment{listing("Varn", 3)}},
		{Part: new(stat("Kemmel", "C1")), Listings: []catalog.Fitment{listing("Kemmel", 3)}},
	}
	cands[1].Part.OpeningTemp = celsius("71", 71, of("Kemmel", 10))
	for _, v := range tables(t).Judge(q, cands) {
		expect(t, v, compat.Caution, "should fit: lists disagree on the rating")
	}
}

func TestTwoSheetsPrintDifferentRatings(t *testing.T) {
	c := Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{listing("Varn", 3)}}
	c.OtherSizes = []*catalog.Part{{Supplier: "Ostrel", Number: "1", OpeningTemp: celsius("71", 71, of("Ostrel", 4))}}
	expect(t, judgeOne(t, thermostatQuestion(), c), compat.Caution, "should fit: check the stamp")
}

func TestAirBleedAndIndex(t *testing.T) {
	c := Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{listing("Varn", 3)}}
	c.Part.AirBleed = catalog.Say(false, "no", of("Varn", 10))
	expect(t, judgeOne(t, thermostatQuestion(), c), compat.Caution, "should fit: traps air, no air bleed")
	c.Part = new(stat("Varn", "1"))
	q := thermostatQuestion()
	q.Engine.Indexed = catalog.Say(true, "yes", own("yes"))
	expect(t, judgeOne(t, q, c), compat.Caution, "should fit: check the index tab")
	c.Part.Indexed = catalog.Say(true, "yes", of("Varn", 10))
	expect(t, judgeOne(t, q, c), compat.Yes, "")
	expect(t, judgeOne(t, thermostatQuestion(), c), compat.No, "does not fit: index tab, housing without notch")
}

func TestFlangeThickness(t *testing.T) {
	c := Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{listing("Varn", 3)}}
	c.Part.FlangeThickness = length("2.0", 2, of("Varn", 10))
	q := thermostatQuestion()
	q.Engine.SeatDepth = length("1.6", 1.6, own("1.6"))
	expect(t, judgeOne(t, q, c), compat.No, "does not fit: flange 2.0 mm, seat 1.6 mm deep")
	q.Engine.SealForm = catalog.Say("flat", "flat", own("flat"))
	expect(t, judgeOne(t, q, c), compat.Caution, "should fit: check the flange thickness")
	q.Engine.SeatDepth = length("2.0", 2, own("2.0"))
	expect(t, judgeOne(t, q, c), compat.Yes, "")
}

func TestCrossReferenceOnlyIsACaution(t *testing.T) {
	c := Candidate{Part: new(catalog.Part{Supplier: "Varn", Number: "1"}), Links: []Link{{Via: new(stat("Ostrel", "B1")), Relation: catalog.Same, Hops: 1, Origin: of("Varn", 5)}}}
	v := judgeOne(t, thermostatQuestion(), c)
	expect(t, v, compat.Caution, "should fit: cross-reference only")
	c.Part = new(stat("Varn", "1"))
	c.Part.FlangeDiameter = length("52.8", 52.8, of("Varn", 10))
	v = judgeOne(t, thermostatQuestion(), c)
	expect(t, v, compat.Caution, "should fit: cross-reference is doubtful")
	if !says(v, "not one part") {
		t.Errorf("does not say that the link is poisoned\n%s", told(v))
	}
}

func TestCopiesOfOneListCountOnce(t *testing.T) {
	a, b := listing("Varn", 3), listing("Ostrel", 3)
	a.Origin.Text = "TX-4711;Thermostat 82;12,50;3.4 V6;1992-2004"
	b.Origin.Text = "TX-4711;Thermostat 82;13,90;3.4 V6;1992-2004"
	v := judgeOne(t, thermostatQuestion(), Candidate{Part: new(stat("Varn", "TX-4711")), Listings: []catalog.Fitment{a, b}})
	expect(t, v, compat.Yes, "fits: one list and measured")
	if !says(v, "count once") {
		t.Errorf("does not say that the lists are copies\n%s", told(v))
	}
}

func TestFirstLineIsReadAtAGlance(t *testing.T) {
	long := noted(listing("Varn", 3), "only with the optional heavy duty trailer towing package and rear heater of the export model")
	v := judgeOne(t, thermostatQuestion(), Candidate{Part: new(stat("Varn", "1")), Listings: []catalog.Fitment{long}})
	if n := utf8.RuneCountInString(v.First); n > 60 || n < 20 {
		t.Errorf("%d characters: %q", n, v.First)
	}
}

func TestEveryFindingRestsOnALineOrASource(t *testing.T) {
	q := thermostatQuestion()
	q.Engine.SeatDepth = length("2.0", 2, own("2.0"))
	p := stat("Varn", "1")
	p.FlangeThickness = length("2.0", 2, of("Varn", 10))
	p.SealIncluded = catalog.Say(true, "yes", of("Varn", 10))
	p.Material = catalog.Say("NBR", "NBR", of("Varn", 10))
	v := judgeOne(t, q, Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3), listing("Ostrel", 3)}, Links: []Link{{Via: new(stat("Kemmel", "K")), Relation: catalog.Same, Hops: 1, Origin: of("Kemmel", 5)}}})
	expect(t, v, compat.Caution, "should fit: short life, prefer EPDM")
	for _, f := range v.Findings {
		if !f.NotChecked && (len(f.Origin) == 0 || f.Says == "" || f.Grade == "") {
			t.Errorf("%s: %q rests on nothing", f.Check, f.Says)
		}
		if f.NotChecked && (f.Says == "" || f.Missing == "") {
			t.Errorf("%s does not say what is missing", f.Check)
		}
	}
}

func TestBestFirst(t *testing.T) {
	bad := stat("Alm", "1")
	bad.FlangeDiameter = length("55.0", 55, of("Alm", 10))
	cands := []Candidate{
		{Part: new(bad), Listings: []catalog.Fitment{listing("Alm", 3)}},
		{Part: new(catalog.Part{Supplier: "Bex", Number: "2"})},
		{Part: new(stat("Cort", "3"))},
		{Part: new(stat("Dorn", "4")), Listings: []catalog.Fitment{listing("Dorn", 3)}},
		{Part: new(stat("Eld", "5")), Listings: []catalog.Fitment{listing("Eld", 3), listing("Fenn", 3)}},
	}
	want := []string{"Eld", "Dorn", "Cort", "Bex", "Alm"}
	for i, v := range tables(t).Judge(thermostatQuestion(), cands) {
		if v.Part.Supplier != want[i] {
			t.Errorf("place %d: %s, want %s", i+1, v.Part.Supplier, want[i])
		}
	}
}
