package app

import (
	"context"
	"fmt"
	"strings"
	"testing"
)

// A make may have hundreds of engines on file: the parts of all of them are found.
func TestPartsOfAMakeWithManyEngines(t *testing.T) {
	s, err := Open(t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var sheet strings.Builder
	sheet.WriteString("number,type,description,price,currency,engine,make,model,years\n")
	const engines = 260
	for i := range engines {
		fmt.Fprintf(&sheet, "XQ-%d,thermostat,thermostat 82,9.00,EUR,EN%d,Mak,Mod%d,1996-2004\n", 1000+i, 100+i, i)
	}
	if a, err := s.Import(context.Background(), ImportQuestion{Name: "a.csv", Raw: []byte(sheet.String()), Supplier: "Newby"}); err != nil || a.Status != Imported {
		t.Fatal(a.Status, a.Open, err)
	}
	a, err := s.Find(context.Background(), FindQuestion{Words: "thermostat mak", Limit: 5})
	if err != nil {
		t.Fatal(err)
	}
	if a.Total != engines {
		t.Errorf("%d parts found, %d are listed for engines of that make", a.Total, engines)
	}
}
