package fit

import (
	"testing"

	"fitfill/catalog"
	"fitfill/compat"
)

// A flange that is loose by more than 1.0 mm per side is a question of what
// centres the seal (common practice); by more than flange_lost, our own setting,
// it is another thermostat.
func TestFlangeThatIsTooSmall(t *testing.T) {
	for _, c := range []struct {
		text string
		mm   float64
		want compat.Outcome
		says string
	}{
		{"51.0", 51, compat.Caution, "should fit: check the flange, loose in bore"},
		{"47.0", 47, compat.No, "does not fit: flange 47.0 mm, bore 54.0 mm"},
	} {
		p := stat("Varn", "1")
		p.FlangeDiameter = length(c.text, c.mm, of("Varn", 10))
		one := Candidate{Part: new(p), Listings: []catalog.Fitment{listing("Varn", 3)}}
		expect(t, judgeOne(t, thermostatQuestion(), one), c.want, c.says)
		one.Listings = append(one.Listings, listing("Ostrel", 8))
		if v := judgeOne(t, thermostatQuestion(), one); v.Outcome != compat.Caution {
			t.Errorf("flange %s, two lists: %s", c.text, v.First)
		}
	}
}
