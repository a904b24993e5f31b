package returns_test

import (
	"testing"

	"fitfill/catalog"
	"fitfill/compat/returns"
)

func TestANoteOfATestThatFoundThePartSound(t *testing.T) {
	var rows []catalog.RefRow
	for i, r := range readTable(t, "data", "returns_tests.csv") {
		rows = append(rows, catalog.RefRow{Table: "returns_tests", Line: i + 2, Cells: r.cells})
	}
	tests, err := returns.NewTests(rows)
	if err != nil {
		t.Fatal(err)
	}
	for note, want := range map[string]bool{
		"bath test: opened at 87 and closed cold: good": true,
		"Tested, no fault found":                        true,
		"pressure test passed":                          true,
		"bath test: stuck open":                         false,
		"bath test: did not close cold":                 false,
		"bath test: opened at 79":                       false, // nobody says that it is good
		"bath test good, but leaks at the flange":       false,
		"bath test: not good":                           false,
		"good":                                          false, // no test
		"road tested: good now":                         false,
		"":                                              false,
	} {
		if got := tests.FoundSound(note); got != want {
			t.Errorf("%q: %v", note, got)
		}
	}
	if _, err := returns.NewTests([]catalog.RefRow{{Table: "x", Line: 3, Cells: map[string]string{"phrase": "a", "role": "maybe"}}}); err == nil {
		t.Error("an unknown role was taken")
	}
}

// A part that a test found sound leaves the count on the day it came back, and
// counts as a failure only in the score "with".
func TestWhatATestDidNotConfirmIsCountedApart(t *testing.T) {
	set := settings(t)
	b := shop(t)
	moved, pieces := 0, 0.0
	for i := range b.Returns {
		if r := &b.Returns[i]; r.Class == returns.QualityFailure && r.Supplier == "Dunmore Direct" && moved < 4 {
			r.Class = returns.NotConfirmed
			moved, pieces = moved+1, pieces+r.Quantity.Float()
		}
	}
	with, without := returns.Match(shop(t), set), returns.Match(b, set)
	before, err := returns.Judge(with, set)
	if err != nil {
		t.Fatal(err)
	}
	after, err := returns.Judge(without, set)
	if err != nil {
		t.Fatal(err)
	}
	s := after.Suppliers[3]
	if s.Name != "Dunmore Direct" || s.Tally.NotConfirmed != int(pieces) || s.Tally.Faulty != before.Suppliers[3].Tally.Faulty-int(pieces) {
		t.Fatalf("%+v", s.Tally)
	}
	near(t, "with what was not confirmed", s.Claimed.WorseThanRest, before.Suppliers[3].Standing.WorseThanRest, 1e-12)
	if s.Standing.WorseThanRest >= s.Claimed.WorseThanRest || s.Standing.Observed != s.Claimed.Observed-pieces {
		t.Errorf("without %.3f, with %.3f", s.Standing.WorseThanRest, s.Claimed.WorseThanRest)
	}
	if before.Suppliers[3].Claimed.WorseThanRest != before.Suppliers[3].Standing.WorseThanRest {
		t.Error("nothing was tested, and the two scores differ")
	}
}
