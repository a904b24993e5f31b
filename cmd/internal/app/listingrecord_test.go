package app

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"fitfill/catalog"
	"fitfill/compat"
)

// A shop that stays open reads its books once for all answers that rest on one
// list, and again as soon as they change: by a sheet, by the log, by a name.
func TestRecordsOfListsAreReadAgainOnlyWhenTheBooksChange(t *testing.T) {
	s := garage(t)
	list := "number;type;price;currency;make;model;engine;years\n" +
		"A-1;thermostat;5,00;EUR;Tarvok;R 1;TKV38;1995-2006\n"
	s.mustImport(t, ImportQuestion{Name: "list.csv", Raw: []byte(list), Supplier: "Ostrel"}, Imported)
	books := func(name, as string, lines ...string) {
		t.Helper()
		s.mustImport(t, ImportQuestion{Name: name, As: as, Raw: []byte(strings.Join(lines, "\n") + "\n")}, Imported)
	}
	const bought, back = "date,supplier,number,type,quantity", "date,supplier,number,quantity,reason"
	books("bought.csv", "purchases", bought, "2026-01-02,Ostrel,A-1,thermostat,40", "2026-05-01,Ostrel,A-1,thermostat,1")
	books("back.csv", "returns", back, "2026-02-03,Ostrel,A-1,1,wrong part supplied", "2026-05-02,Ostrel,A-1,1,leaked")

	says := func() (f compat.Finding) {
		t.Helper()
		a, err := s.Fit(t.Context(), FitQuestion{Engine: "TKV38", Part: "A-1"})
		if err != nil || len(a.Answers) != 1 {
			t.Fatalf("%v: %+v", err, a)
		}
		for _, f := range a.Answers[0].Findings {
			if f.Check == "listing-record" {
				return f
			}
		}
		t.Fatalf("no record: %+v", a.Answers[0].Findings)
		return f
	}
	want := func(after string, wrong, sold int) {
		t.Helper()
		if f := says(); !strings.Contains(f.Says, fmt.Sprintf("wrong %d of %d pieces", wrong, sold)) || len(f.Origin) != wrong {
			t.Errorf("after %s: %s %+v", after, f.Says, f.Origin)
		}
	}
	want("the first sheets", 1, 41)
	if f := says(); f.Origin[0].Text != "2026-02-03,Ostrel,A-1,1,wrong part supplied" {
		t.Errorf("the line reads %q", f.Origin[0].Text)
	}

	// What is asked and logged of vehicles leaves the books as they are.
	read := fmt.Sprintf("%p", s.records.read)
	if _, err := s.AddVehicle(t.Context(), VehicleSaid{Mark: "W 7", Engine: "TKV38"}); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Fit(t.Context(), FitQuestion{Vehicle: "W 7", Part: "A-1"}); err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() { want("a vehicle was asked for", 1, 41) })
	}
	all.Wait()
	if now := fmt.Sprintf("%p", s.records.read); now != read {
		t.Error("the books were read again though nothing in them changed")
	}

	back2, err := s.AddComeback(t.Context(), ComebackSaid{Number: "A-1", Supplier: "Ostrel", Reason: "wrong part supplied", Date: "2026-04-01"})
	if err != nil {
		t.Fatal(err)
	}
	want("a comeback was logged", 2, 41)
	if _, err := s.TakeBack(t.Context(), catalog.LogReturn, back2.Entry); err != nil {
		t.Fatal(err)
	}
	want("it was taken back", 1, 41)
	if err := s.AddSupplierName(t.Context(), "Ostrel", "Ostrel Trade"); err != nil {
		t.Fatal(err)
	}
	books("more.csv", "purchases", bought, "2026-03-01,Ostrel Trade,A-1,thermostat,9", "2026-05-01,Ostrel,A-1,thermostat,1")
	want("another sheet, one line of it known", 1, 50)
}
