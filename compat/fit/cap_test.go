package fit

import (
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
			expect(t, judgeOne(t, q, Candidate{Part: part, Listings: []catalog.Fitment{listing("Varn", 3)}}), tc.want, tc.first)
		})
	}
}

func TestACapWithoutItsRatingIsJudgedByTheList(t *testing.T) {
	q := Question{Engine: catalog.EngineFamily{Family: "KR6"}, Type: Cap}
	expect(t, judgeOne(t, q, Candidate{Part: catalog.Part{Supplier: "Varn", Number: "C1"}, Listings: []catalog.Fitment{listing("Varn", 3)}}),
		compat.Yes, "fits: one list, not measured")
}

func TestAScrewCapDoesNotGoOnABayonetNeck(t *testing.T) {
	q := Question{Engine: catalog.EngineFamily{Family: "KR6"}, Type: Cap}
	q.Engine.CapForm = catalog.Say("bayonet", "bayonet", own("form"))
	part := catalog.Part{Supplier: "Varn", Number: "C1"}
	part.CapForm = catalog.Say("thread", "screw", own("c1"))
	expect(t, judgeOne(t, q, Candidate{Part: part, Listings: []catalog.Fitment{listing("Varn", 3)}}), compat.No, "does not fit: thread cap, bayonet neck")
}
