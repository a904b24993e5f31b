package fit

import (
	"testing"

	"fitfill/catalog"
	"fitfill/compat"
)

// A calliper says 37.7 x 3.5 mm: AS568-222 (SAE AS568) and P38 (JIS B 2401) are
// both that ring, AS568-221 is not.
func TestARingLikeTheOldOne(t *testing.T) {
	q := Question{Engine: catalog.EngineFamily{Family: "CV34"}, Type: Seal}
	as := catalog.Origin{Sheet: "as told", Text: "ring 37.7 x 3.5 mm"}
	q.Old.InnerDiameter, q.Old.Section = length("37.7", 37.7, as), length("3.5", 3.5, as)
	for size, want := range map[string]compat.Outcome{"AS568-222": compat.Yes, "P38": compat.Yes, "AS568-221": compat.Caution, "37.7x2.62": compat.Caution} {
		p := catalog.Part{Supplier: "Varn", Number: "R-1", ORingSize: catalog.Say(size, size, of("Varn", 10))}
		c := Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}}
		if v := judgeOne(t, q, c); v.Outcome != want {
			t.Errorf("%s: %s, %q\n%s", size, v.Outcome, v.First, told(v))
		}
		onFile := q
		onFile.Engine.SealSection, onFile.Engine.SealInnerDiameter = length("3.53", 3.53, own("3.53")), length("36.09", 36.09, own("36.09"))
		if v := judgeOne(t, onFile, c); size == "AS568-221" && v.Outcome != compat.Yes {
			t.Errorf("the size on file does not decide: %s", v.First)
		}
	}
}
