package fit

import (
	"math"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// A cap one step (about 2 psi) off is common practice to accept; the stamps
// 15 psi, 1.03 bar, 103 kPa and 108 (kPa) are one family.
func TestCapRatings(t *testing.T) {
	for name, tc := range map[string]struct {
		engine, part units.Pressure
		want         compat.Outcome
		first        string
	}{
		"same, other unit":  {units.PSI(15), units.Bars(1.03), compat.Yes, ""},
		"one step stronger": {units.Kilopascals(108), units.Kilopascals(122), compat.Yes, ""},
		"two steps up":      {units.PSI(7), units.PSI(15), compat.No, "does not fit: cap 103 kPa, engine 48 kPa"},
		"two steps down":    {units.PSI(15), units.PSI(10), compat.Caution, ""},
	} {
		t.Run(name, func(t *testing.T) {
			q := Question{Engine: catalog.EngineFamily{Family: "KR6"}, Type: Cap}
			q.Engine.CapPressure = catalog.Say(tc.engine, "", own("cap"))
			part := catalog.Part{Supplier: "Varn", Number: "C1"}
			part.CapPressure = catalog.Say(tc.part, "", own("c1"))
			expect(t, judgeOne(t, q, Candidate{Part: new(part), Listings: []catalog.Fitment{listing("Varn", 3)}}), tc.want, tc.first)
		})
	}
}

func TestACapWithoutItsRatingIsJudgedByTheList(t *testing.T) {
	q := Question{Engine: catalog.EngineFamily{Family: "KR6"}, Type: Cap}
	expect(t, judgeOne(t, q, Candidate{Part: new(catalog.Part{Supplier: "Varn", Number: "C1"}), Listings: []catalog.Fitment{listing("Varn", 3)}}),
		compat.Yes, "fits: one list, not measured")
}

func TestAScrewCapDoesNotGoOnABayonetNeck(t *testing.T) {
	q := Question{Engine: catalog.EngineFamily{Family: "KR6"}, Type: Cap}
	q.Engine.CapForm = catalog.Say("bayonet", "bayonet", own("form"))
	part := catalog.Part{Supplier: "Varn", Number: "C1"}
	part.CapForm = catalog.Say("thread", "screw", own("c1"))
	expect(t, judgeOne(t, q, Candidate{Part: new(part), Listings: []catalog.Fitment{listing("Varn", 3)}}), compat.No, "does not fit: thread cap, bayonet neck")
}

// Stamps of caps as the trade reads them: psi, bar or kPa by the size of the
// bare figure.
func TestCapStamps(t *testing.T) {
	for text, kPa := range map[string]float64{"15 lb": 103.4, "15": 103.4, "7 psi": 48.3, "1.1": 110, "1,1": 110, "0.9 bar": 90, "108": 108, "108 kPa": 108, "16": 110.3} {
		p, err := tables(t).CapStamp(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
		}
		pctClose(t, text, p.Kilopascals(), kPa, 0.1)
	}
	for _, text := range []string{"3", "26", "500", "what"} {
		if p, err := tables(t).CapStamp(text); err == nil {
			t.Errorf("%q is read as %g kPa", text, p.Kilopascals())
		}
	}
}

// IAPWS-IF97, region 4: water boils at 100 °C under 101.3 kPa, at 120.2 °C under
// 200 kPa; the backward equation with its own coefficients gives every row.
func TestSaturationTableFollowsIF97(t *testing.T) {
	n := map[string]float64{}
	for _, r := range reference(t, "coolant_if97") {
		n["n"+r.Get("n")] = number(t, r, "value")
	}
	for _, r := range reference(t, "fit_saturation") {
		beta := math.Pow(number(t, r, "abs_kpa")/1000, 0.25)
		e := beta*beta + n["n3"]*beta + n["n6"]
		f := n["n1"]*beta*beta + n["n4"]*beta + n["n7"]
		g := n["n2"]*beta*beta + n["n5"]*beta + n["n8"]
		d := 2 * g / (-f - math.Sqrt(f*f-4*e*g))
		k := (n["n10"] + d - math.Sqrt((n["n10"]+d)*(n["n10"]+d)-4*(n["n9"]+n["n10"]*d))) / 2
		pctClose(t, r.Get("abs_kpa"), number(t, r, "boils_c"), k-273.15, 0.01)
	}
	c, ok := tables(t).boils(units.PSI(15))
	if !ok {
		t.Fatal("15 psi is off the table")
	}
	pctClose(t, "15 psi", c, 121, 0.3)
}

func TestAWeakerCapSaysWhatItLoses(t *testing.T) {
	q := Question{Engine: catalog.EngineFamily{Family: "KR6", CapPressure: catalog.Say(units.PSI(15), "15 psi", own("cap"))}, Type: Cap}
	p := catalog.Part{Supplier: "Varn", Number: "C1", CapPressure: catalog.Say(units.PSI(7), "7", of("Varn", 10))}
	v := judgeOne(t, q, Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}})
	expect(t, v, compat.Caution, "should fit: weaker cap, boils earlier")
	if !says(v, "boils earlier by about 9.") {
		t.Errorf("does not say what is lost\n%s", told(v))
	}
}

func TestSeatAndVacuumValveOfACap(t *testing.T) {
	q := Question{Engine: catalog.EngineFamily{Family: "KR6", CapSeatDepth: length("25", 25, own("25")), Expansion: catalog.Say("overflow bottle", "overflow bottle", own("o"))}, Type: Cap}
	for _, c := range []struct {
		deep  string
		valve bool
		want  compat.Outcome
		first string
	}{
		{"25.4", true, compat.Yes, "fits: one list and measured"},
		{"19.0", true, compat.No, "does not fit: cap 19.0 mm deep, neck 25.0 mm"},
		{"25.4", false, compat.Caution, "should fit: no vacuum valve for the bottle"},
	} {
		p := catalog.Part{Supplier: "Varn", Number: "C1", CapSeatDepth: length(c.deep, decimal(c.deep), of("Varn", 10)), VacuumValve: catalog.Say(c.valve, "", of("Varn", 10))}
		expect(t, judgeOne(t, q, Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}}), c.want, c.first)
	}
}

func TestTheOldCapsStampTells(t *testing.T) {
	q := Question{Engine: catalog.EngineFamily{Family: "KR6"}, Type: Cap}
	q.Old.CapPressure = catalog.Say(units.Kilopascals(108), "108", own("stamp"))
	part := func(p units.Pressure) Candidate {
		return Candidate{Part: new(catalog.Part{Supplier: "Varn", Number: "C1", CapPressure: catalog.Say(p, "", of("Varn", 10))}), Listings: []catalog.Fitment{listing("Varn", 3)}}
	}
	expect(t, judgeOne(t, q, part(units.PSI(15))), compat.Yes, "fits: one list, not measured")
	expect(t, judgeOne(t, q, part(units.PSI(7))), compat.Caution, "should fit: cap 48 kPa, old one 108 kPa")
}
