package importers

import (
	"slices"
	"testing"

	"fitfill/catalog"
)

// Pieces below zero in a sheet of returns are what a person says they are, and
// held where nobody did.
func TestReturnedPiecesBelowZero(t *testing.T) {
	const raw = "Date;Supplier;Part;Reason;Pieces\n2026-01-05;Ostrel;A-1;leaks;3\n2026-01-06;Ostrel;A-1;leaks;-1\n2026-01-07;Ostrel;A-2;leaks;2-\n2026-01-08;Ostrel;A-3;leaks;−4\n"
	for said, want := range map[string][]int64{"back": {3, 1, 2, 4}, "undo": {3, -1, -2, -4}, "hold": {3}} {
		s, m, questions := propose(t, catalog.ReturnsSheet, raw, Options{Settings: Settings{"minus": said}})
		if len(questions) > 0 {
			t.Fatalf("%s asks %+v", said, questions)
		}
		rows, report := readAll(t, s, m)
		var got []int64
		for _, r := range rows {
			got = append(got, r.Return.Quantity.Thousandths()/1000)
		}
		if !slices.Equal(got, want) || report.RowsHeld != 4-len(want) {
			t.Errorf("%s: %v, held %+v", said, got, report.Held)
		}
	}
}

// Bookkeeping programs print the minus of a credit note behind its number.
func TestMinusBehindPiecesBought(t *testing.T) {
	rows, held, _ := readText(t, catalog.PurchasesSheet, "Date;Supplier;Part;Pieces;Unit price EUR\n2026-01-05;Ostrel;A-1;3;9.50\n2026-01-06;Ostrel;A-1;1-;9.50\n2026-01-06;Ostrel;A-2;−2;9.50\n", Options{})
	want := []string{"bought 2026-01-05 Ostrel A-1 3 at 9.5 EUR", "bought 2026-01-06 Ostrel A-1 -1 at 9.5 EUR", "bought 2026-01-06 Ostrel A-2 -2 at 9.5 EUR"}
	if !slices.Equal(rows, want) || len(held) > 0 {
		t.Errorf("%q, held %v", rows, held)
	}
}

// A return of which nobody wrote down why is a return; a column of reasons must be
// there all the same.
func TestAReturnWithoutAReasonIsTaken(t *testing.T) {
	rows, held, _ := readText(t, catalog.ReturnsSheet, "Date;Supplier;Part;Reason\n2026-01-05;Ostrel;A-1;leaks\n2026-01-06;Ostrel;A-2;\n2026-01-07;Ostrel;;leaks\n", Options{})
	if len(rows) != 2 || !slices.Equal(held, []string{"4 required"}) {
		t.Errorf("%q, held %v", rows, held)
	}
	_, _, questions := propose(t, catalog.ReturnsSheet, "Date;Supplier;Part\n2026-01-05;Ostrel;A-1\n", Options{})
	if len(questions) != 1 || questions[0].Code != "required" {
		t.Errorf("%+v", questions)
	}
}
