package coolant_test

import (
	"testing"

	"fitfill/catalog"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// What a mechanic asks with a bottle in his hand, and what a careful tradesman
// would say (common practice). At most a quarter may stay open.
func TestBayQuestions(t *testing.T) {
	const yes, caution, cannotSay, no = compat.Yes, compat.Caution, compat.CannotSay, compat.No
	type question = coolant.Question
	type liquid = coolant.Fluid
	premix := func(id string) liquid { return fluid(49.5, id) }
	concentrate := func(id string) liquid { return fluid(99, id) }
	water := liquid{Chemistries: []string{"water"}}
	colour := func(c string) liquid { return liquid{ByColour: c} }
	car := func(asks string) *catalog.EngineFamily {
		e := engine(asks, 7)
		e.Circuits[0].Strength = pct(50)
		return e
	}
	classic := car("iat")
	classic.RadiatorMaterial = say("copper/brass")
	truck := engine("", 30)
	truck.WetLiner = say(true)
	hybrid := car("oat")
	hybrid.Electrified = say(true)
	hybrid.Circuits = append(hybrid.Circuits, catalog.Circuit{Name: "battery", CoolantChem: say("low-conductivity"), CoolantApproval: say("LB 1")})
	approvedCar := car("oat")
	approvedCar.Circuits[0].CoolantApproval = say("QX 100")
	universal := liquid{Product: &catalog.Part{Type: say("coolant"), Form: say("premix"), MixingClaim: say("Mixes with any coolant")}}
	drum := &catalog.Part{Supplier: "Larkfield", Number: "HD-20", Type: say("coolant")}
	factory := liquid{Presumed: true}
	named := liquid{Chemistries: []string{"low-conductivity"}, Product: label("approved: LB 1")}

	open := 0
	questions := []struct {
		asks string
		q    question
		want compat.Outcome
	}{
		{"OAT in it, house OAT, half a litre", question{Engine: car("oat"), Fill: fluid(50, "oat"), Add: premix("oat"), AddVolume: vol(0.5)}, yes},
		{"something green, house OAT, half a litre", question{Engine: car("oat"), Fill: colour("green"), Add: premix("oat"), AddVolume: vol(0.5)}, caution},
		{"something green, low by two and a half", question{Engine: car("oat"), Fill: colour("green"), Add: premix("oat"), AddVolume: vol(2.5)}, cannotSay},
		{"never been opened, low by two and a half", question{Engine: car("oat"), Fill: factory, Add: premix("oat"), AddVolume: vol(2.5)}, yes},
		{"never been opened, house P-HOAT, two", question{Engine: car("oat"), Fill: factory, Add: premix("p-hoat"), AddVolume: vol(2)}, caution},
		{"red in it, a green jug without a label", question{Fill: colour("red"), Add: colour("green"), FillVolume: vol(6), AddVolume: vol(0.5)}, cannotSay},
		{"rusty, house OAT", question{Engine: car("oat"), Fill: fluid(50, "oat"), Add: premix("oat"), AddVolume: vol(0.5), Condition: "rusty"}, no},
		{"oil on top", question{Engine: car("oat"), Fill: factory, Add: premix("oat"), AddVolume: vol(0.5), Condition: "oily"}, no},
		{"brown soup, nothing known", question{Fill: colour("brown"), Add: premix("oat")}, no},
		{"pink and untouched, P-HOAT, a litre", question{Engine: car("p-hoat"), Fill: liquid{Presumed: true, ByColour: "pink"}, Add: premix("p-hoat"), AddVolume: vol(1)}, yes},
		{"classic with a copper radiator, OAT", question{Engine: classic, Fill: fluid(50, "iat"), Add: premix("oat"), AddVolume: vol(0.5)}, caution},
		{"classic with a copper radiator, IAT", question{Engine: classic, Fill: fluid(50, "iat"), Add: premix("iat"), AddVolume: vol(0.5)}, yes},
		{"half a litre of water in summer", question{Engine: car("oat"), Fill: fluid(50, "oat"), Add: water, AddVolume: vol(0.5), Coldest: temp(5)}, yes},
		{"two litres of water, -25 to come", question{Engine: car("oat"), Fill: fluid(50, "oat"), Add: water, AddVolume: vol(2), Coldest: temp(-25)}, caution},
		{"hard tap water", question{Engine: car("oat"), Fill: fluid(50, "oat"), Add: water, AddVolume: vol(0.5), WaterHardness: say(320.0)}, caution},
		{"weak at 33, a litre of concentrate, -20 to come", question{Fill: fluid(33, "oat"), Add: concentrate("oat"), FillVolume: vol(6), AddVolume: vol(1), Coldest: temp(-20)}, yes},
		{"strong already, three litres of concentrate", question{Fill: fluid(55, "oat"), Add: concentrate("oat"), FillVolume: vol(4), AddVolume: vol(3)}, caution},
		{"reads 33, premix, -12 tonight", question{Fill: fluid(33, "oat"), Add: premix("oat"), FillVolume: vol(6), AddVolume: vol(0.5), Coldest: temp(-12)}, yes},
		{"universal onto something red", question{Fill: colour("red"), Add: universal, FillVolume: vol(6), AddVolume: vol(1)}, caution},
		{"universal onto waterless", question{Fill: liquid{Chemistries: []string{"waterless"}}, Add: universal, FillVolume: vol(6), AddVolume: vol(1)}, no},
		{"truck, something red, a litre of nitrite-free heavy-duty", question{Engine: truck, Fill: colour("red"), Add: premix("hd-oat"), AddVolume: vol(1)}, caution},
		{"truck, NOAT on NOAT", question{Engine: truck, Fill: fluid(50, "noat"), Add: premix("noat"), AddVolume: vol(2)}, yes},
		{"truck, NOAT in it, the car's OAT", question{Engine: truck, Fill: fluid(50, "noat"), Add: premix("oat"), AddVolume: vol(1)}, caution},
		{"truck, half conventional heavy-duty, half NOAT", question{Engine: truck, Fill: fluid(50, "iat-heavy-duty"), Add: premix("noat"), AddVolume: vol(12)}, caution},
		{"truck, the same drum again", question{Engine: engine("", 30), Fill: liquid{Product: drum}, Add: liquid{Product: drum}}, yes},
		{"OAT in it, three litres of IAT", question{Engine: car("oat"), Fill: fluid(50, "oat"), Add: premix("iat"), AddVolume: vol(3)}, no},
		{"OAT in it, three litres of IAT, the car wants neither", question{Engine: car("p-hoat"), Fill: fluid(50, "oat"), Add: premix("iat"), AddVolume: vol(3)}, no},
		{"the heating man's fluid", question{Fill: fluid(50, "oat"), Add: liquid{Chemistries: []string{"not-engine"}}, FillVolume: vol(6), AddVolume: vol(0.2)}, no},
		{"waterless, a drop of water", question{Fill: liquid{Chemistries: []string{"waterless"}}, Add: water, FillVolume: vol(6), AddVolume: vol(0.2)}, no},
		{"hybrid, did not say which loop", question{Engine: hybrid, Fill: factory, Add: premix("oat"), AddVolume: vol(0.5)}, cannotSay},
		{"hybrid, engine loop", question{Engine: hybrid, Circuit: "engine", Fill: factory, Add: premix("oat"), AddVolume: vol(0.5)}, yes},
		{"hybrid, battery loop, its own fluid", question{Engine: hybrid, Circuit: "battery", Fill: factory, Add: named, AddVolume: vol(0.5)}, yes},
		{"hybrid, battery loop, deionised water", question{Engine: hybrid, Circuit: "battery", Fill: factory, Add: water, AddVolume: vol(0.2)}, no},
		{"another chemistry with the maker's approval", question{Engine: approvedCar, Fill: factory, Add: liquid{Chemistries: []string{"si-oat"}, Product: label("approved: QX 100")}, AddVolume: vol(3)}, yes},
		{"its label only meets the approval", question{Engine: approvedCar, Fill: factory, Add: liquid{Chemistries: []string{"oat"}, Product: label("meets QX 100")}, AddVolume: vol(3)}, caution},
		{"nothing known, a jug without a label", question{Fill: liquid{}, Add: liquid{}}, cannotSay},
		{"nothing known, house OAT, a cup", question{Engine: car("oat"), Fill: liquid{}, Add: premix("oat"), AddVolume: vol(0.25)}, caution},
		{"label says OAT or Si-OAT, house OAT, two litres", question{Engine: car(""), Fill: liquid{Chemistries: []string{"oat", "si-oat"}}, Add: premix("oat"), AddVolume: vol(2)}, caution},
		{"propylene in it, ethylene on top, same chemistry", question{Fill: liquid{Chemistries: []string{"oat"}, Glycol: "propylene", Strength: pct(50)}, Add: premix("oat"), FillVolume: vol(6), AddVolume: vol(1)}, yes},
		{"hazy, same on same", question{Fill: fluid(50, "oat"), Add: premix("oat"), FillVolume: vol(6), AddVolume: vol(1), Condition: "hazy"}, caution},
	}
	tb := tables(t)
	for _, c := range questions {
		a := tb.Mix(c.q)
		if a.Outcome != c.want {
			t.Errorf("%s: %s, want %s\n%s", c.asks, a.Outcome, c.want, says(a))
		}
		if a.Outcome == cannotSay {
			open++
			if a.Ask == "" && len(a.Settle) == 0 {
				t.Errorf("%s: nobody is told how to find out", c.asks)
			}
		}
		t.Logf("%-55s %s", c.asks, a.First)
	}
	if len(questions) < 40 {
		t.Errorf("%d questions", len(questions))
	}
	if open*4 > len(questions) {
		t.Errorf("%d of %d stay open, more than a quarter", open, len(questions))
	}
}
