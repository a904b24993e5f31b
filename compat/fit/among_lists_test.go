package fit

import (
	"testing"

	"fitfill/catalog"
	"fitfill/compat"
)

// What no fact of the engine's own judges is compared among the lists, for one
// place and some of the same years.
func TestFactsAreComparedAmongTheLists(t *testing.T) {
	hose := func(supplier, description string, bore float64, first, last int) Candidate {
		o := of(supplier, 3)
		p := catalog.Part{Supplier: supplier, Number: supplier, Key: supplier, HoseBore: length("", bore, o), Description: catalog.Say(description, description, o)}
		return Candidate{Part: new(p), Listings: []catalog.Fitment{yearsOf(listing(supplier, 3), first, last)}}
	}
	for name, tc := range map[string]struct {
		others []Candidate
		want   compat.Outcome
	}{
		"nobody else":       {nil, compat.Yes},
		"others agree":      {[]Candidate{hose("Varn", "hose, upper", 38.1, 1992, 2004), hose("Ostrel", "hose, upper", 32, 1992, 2004)}, compat.Yes},
		"every other list":  {[]Candidate{hose("Varn", "hose, upper", 32, 1992, 2004), hose("Ostrel", "hose, upper", 32, 1992, 2004)}, compat.Caution},
		"of another end":    {[]Candidate{hose("Varn", "hose, lower", 32, 1992, 2004)}, compat.Yes},
		"of other years":    {[]Candidate{hose("Varn", "hose, upper", 32, 2010, 2014)}, compat.Yes},
		"its own list's":    {[]Candidate{hose("Kemmel", "hose, upper", 32, 1992, 2004)}, compat.Yes},
		"half a millimetre": {[]Candidate{hose("Varn", "hose, upper", 38.5, 1992, 2004)}, compat.Yes},
	} {
		q := thermostatQuestion()
		q.Type, q.Year = "hose", 1999
		for _, v := range tables(t).Judge(q, append([]Candidate{hose("Kemmel", "hose, upper", 38.1, 1992, 2004)}, tc.others...)) {
			if v.Part.Supplier == "Kemmel" && v.Part.HoseBore.Value.Millimetres() == 38.1 && v.Outcome != tc.want {
				t.Errorf("%s: %s %q, want %s\n%s", name, v.Outcome, v.First, tc.want, told(v))
			}
		}
	}
}
