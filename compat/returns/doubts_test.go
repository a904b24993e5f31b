package returns_test

import (
	"fmt"
	"math"
	"testing"

	"fitfill/catalog"
	"fitfill/compat/returns"
)

// A month without a row is named where many are usual, and nothing is said
// where rows are few or the month is not over.
func TestMonthsThatAreMissing(t *testing.T) {
	b := returns.Books{AsOf: date(t, "2025-09-20")}
	ref := 0
	for month := 1; month <= 9; month++ {
		for day := 1; day <= 20; day++ {
			ref++
			on := fmt.Sprintf("2025-%02d-%02d", month, day)
			if month != 4 && month != 9 {
				b.Sales = append(b.Sales, sold(t, ref, on, 1, nil))
			}
			if day == 5 && month > 2 && month != 7 { // one a month: an empty month is chance
				b.Returns = append(b.Returns, back(t, ref, on, 1, returns.QualityFailure, nil))
			}
		}
	}
	g := returns.MissingMonths(b, 0.001)
	if len(g.Sales) != 1 || g.Sales[0] != date(t, "2025-04-01") || len(g.Returns) != 0 {
		t.Errorf("%v", g)
	}
	b.AsOf = date(t, "2025-09-30")
	if g = returns.MissingMonths(b, 0.001); len(g.Sales) != 2 || g.Sales[1] != date(t, "2025-09-01") {
		t.Errorf("the last month is over: %v", g)
	}
	for i := range 40 {
		b.Returns = append(b.Returns, back(t, 1000+i, "2025-03-10", 1, returns.QualityFailure, nil), back(t, 2000+i, "2025-09-10", 1, returns.QualityFailure, nil))
	}
	if g = returns.MissingMonths(b, 0.001); len(g.Returns) != 1 || g.Returns[0] != date(t, "2025-07-01") {
		t.Errorf("returns: %v", g.Returns)
	}
	if g := returns.MissingMonths(returns.Books{}, 0.001); g.Sales != nil || g.Returns != nil {
		t.Errorf("nothing on file: %v", g)
	}
}

// 78 failures in 400 pieces from each of five suppliers, one of them tripled,
// were called in 85 of 100 simulated shops (R 4.2.2): 11 are then usual for each
// of the others.
func TestHowManyPiecesItTakesToTell(t *testing.T) {
	var rows []catalog.RefRow
	for i, r := range readTable(t, "data", "returns_power.csv") {
		rows = append(rows, catalog.RefRow{Table: "returns_power", Line: i + 2, Cells: r.cells})
	}
	table, err := returns.NewPowers(rows)
	if err != nil {
		t.Fatal(err)
	}
	n, ok := returns.PiecesNeeded(table, 6, 3, 0.8, 3.1, 156)
	if !ok || math.Abs(n.Usual-77.85/7) > 1e-9 || n.Pieces != 560 {
		t.Errorf("%+v, %v", n, ok)
	}
	if twelve, ok := returns.PiecesNeeded(table, 20, 3, 0.8, 3.1, 156); !ok || math.Abs(twelve.Usual-156.3/14) > 1e-9 {
		t.Errorf("%+v, %v", twelve, ok)
	}
	if _, ok := returns.PiecesNeeded(table, 5, 2, 0.95, 3.1, 156); ok {
		t.Error("the table has no row that calls so many")
	}
	if _, ok := returns.PiecesNeeded(table, 5, 3, 0.8, 0, 0); ok {
		t.Error("nothing was sold")
	}
}
