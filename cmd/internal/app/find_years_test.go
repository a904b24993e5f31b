package app

import (
	"context"
	"slices"
	"strings"
	"testing"
)

// Four digits that no sheet has are offered as a year where a list or the garage
// knows that year, and not otherwise.
func TestFourDigitsAreOfferedAsAYearOnFile(t *testing.T) {
	s, err := Open(t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	const sheet = "number,type,description,price,currency,engine,make,years\nX-1,thermostat,thermostat 82,9.00,EUR,E1,Mak,1996-2004\nX-2,seal,o-ring,1.00,EUR,E1,Mak,2001-\n"
	if a, err := s.Import(context.Background(), ImportQuestion{Name: "a.csv", Raw: []byte(sheet), Supplier: "Newby"}); err != nil || a.Status != Imported {
		t.Fatal(a.Status, a.Open, err)
	}
	for words, want := range map[string]bool{"5450": false, "1995": false, "1996": true, "2004": true, "2005": false, "1899": false} {
		a, err := s.Find(context.Background(), FindQuestion{Words: words, Limit: 5})
		if err != nil {
			t.Fatal(err)
		}
		offered := slices.ContainsFunc(a.Ways, func(w Way) bool { return strings.Contains(w.Command, `"year `+words+`"`) })
		if offered != want {
			t.Errorf("%s is offered as a year: %v, want %v", words, offered, want)
		}
	}
}
