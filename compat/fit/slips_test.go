package fit

import (
	"slices"
	"testing"

	"fitfill/catalog"
	"fitfill/compat"
)

func modelled(supplier string, line int, model string) Listing {
	f := listing(supplier, line)
	f.Make, f.Model = "Corvin", model
	return Listing{supplier, &f}
}

func TestASlipThatTwoListsShareMakesThemOne(t *testing.T) {
	for name, tc := range map[string]struct {
		models map[string]string // of each supplier
		want   []string          // the suppliers that copy each other
	}{
		"a doubled letter":          {map[string]string{"Varn": "Norrrind", "Kemmel": "Norrrind", "Ostrel": "Norrind", "Pell": "Norrind", "Dunt": "Norrind"}, []string{"Kemmel", "Varn"}},
		"two letters swapped":       {map[string]string{"Varn": "Norirnd", "Kemmel": "Norirnd", "Ostrel": "Norrind", "Pell": "Norrind", "Dunt": "Norrind"}, []string{"Kemmel", "Varn"}},
		"as many write it so":       {map[string]string{"Varn": "Norrind", "Kemmel": "Norrind", "Ostrel": "Norrrind"}, nil},
		"one list alone":            {map[string]string{"Varn": "Norrrind", "Ostrel": "Norrind", "Pell": "Norrind"}, nil},
		"digits tell models apart":  {map[string]string{"Varn": "Haulm 88", "Kemmel": "Haulm 88", "Ostrel": "Haulm 8", "Pell": "Haulm 8"}, nil},
		"another letter is no slip": {map[string]string{"Varn": "Stunter", "Kemmel": "Stunter", "Ostrel": "Stenter", "Pell": "Stenter"}, nil},
		"short names":               {map[string]string{"Varn": "Hass", "Kemmel": "Hass", "Ostrel": "Has", "Pell": "Has"}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			var list []Listing
			for s, m := range tc.models {
				list = append(list, modelled(s, 3, m))
			}
			var got []string
			for _, s := range Slips(list) {
				got = append(got, s.Suppliers...)
			}
			if !slices.Equal(got, tc.want) {
				t.Errorf("copies are %v, want %v", got, tc.want)
			}
		})
	}
}

// Two copies of one list are one witness: a size that both print is not firm,
// and a rating that both give is one list's.
func TestCopiesOfAListAreOneWitness(t *testing.T) {
	cand := func(supplier, model string, others ...*catalog.Part) Candidate {
		p := stat(supplier, "1")
		p.FlangeDiameter = length("55.0", 55, of(supplier, 10))
		return Candidate{Part: new(p), Listings: []catalog.Fitment{*modelled(supplier, 3, model).Fitment}, OtherSizes: others}
	}
	twin := stat("Kemmel", "2")
	twin.FlangeDiameter = length("55.0", 55, of("Kemmel", 10))
	// Another supplier's cross-reference speaks for the part, so that only a size
	// printed twice refuses it.
	speak := Link{Via: new(stat("Pell", "P")), Relation: catalog.Same, Hops: 1, Origin: of("Pell", 9)}
	for name, tc := range map[string]struct {
		models [2]string // of the part's own supplier and of its twin's
		want   compat.Outcome
	}{
		"two lists": {[2]string{"Norrind", "Norrind"}, compat.No},
		"copies":    {[2]string{"Norrrind", "Norrrind"}, compat.Caution},
	} {
		t.Run(name, func(t *testing.T) {
			c := cand("Varn", tc.models[0], &twin)
			c.Links = []Link{speak}
			all := []Candidate{c, cand("Kemmel", tc.models[1]), cand("Ostrel", "Norrind"), cand("Pell", "Norrind"), cand("Dunt", "Norrind")}
			for _, v := range tables(t).Judge(thermostatQuestion(), all) {
				if v.Part.Supplier != "Varn" {
					continue
				}
				if v.Outcome != tc.want || says(v, "is a copy of") != (tc.want == compat.Caution) {
					t.Errorf("%s %q, want %s\n%s", v.Outcome, v.First, tc.want, told(v))
				}
			}
		})
	}
}
