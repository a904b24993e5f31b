package sqlite

import (
	"context"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fitfill/catalog"
)

// What was bought of whom up to a day is what adding up every purchase gives: of
// one sheet, whose sums are kept, and of two that state the same purchases.
func TestBoughtUntilADayIsTheSumOfThePurchases(t *testing.T) {
	ctx := context.Background()
	s := newStore(t)
	random := rand.New(rand.NewPCG(1, 2))
	rows := make([]catalog.Purchase, 300)
	for i := range rows {
		rows[i] = catalog.Purchase{Date: catalog.Date(random.IntN(400) - 100), Supplier: []string{"Ostrel", "Quern", "Varn"}[random.IntN(3)],
			Number: "T-100", Quantity: catalog.CountOf(1000 * int64(1+random.IntN(5)))}
	}
	load := func(name string, list []catalog.Purchase) {
		sh := sheet{info: SheetInfo{Kind: catalog.PurchasesSheet, Name: name, SHA256: name, File: strings.NewReader(name), Mapping: "{}",
			Fields: []string{"date", "supplier", "number", "quantity"}, ImportedAt: "2026-01-02T03:04:05Z"}}
		for i := range list {
			sh.rows = append(sh.rows, catalog.SheetRow{Line: i + 2, Purchase: &list[i]})
		}
		sh.load(t, s)
	}
	check := func(of string) {
		t.Helper()
		err := s.View(ctx, func(v *View) error {
			all, err := v.Purchases(ctx)
			if err != nil {
				return err
			}
			for day := catalog.Date(-120); day < 320; day += 7 {
				want := map[string]Bought{}
				for _, p := range all {
					b, known := want[p.Supplier]
					if !known {
						b = Bought{Supplier: p.Supplier, First: p.Date, Last: p.Date}
					}
					b.First, b.Last = min(b.First, p.Date), max(b.Last, p.Date)
					if p.Date <= day {
						b.Until = catalog.CountOf(b.Until.Thousandths() + p.Quantity.Thousandths())
					}
					want[p.Supplier] = b
				}
				list, err := v.BoughtUntil(ctx, day)
				if err != nil {
					return err
				}
				got := map[string]Bought{}
				for _, b := range list {
					got[b.Supplier] = b
				}
				if diff := cmp.Diff(want, got, cmp.Comparer(func(a, b catalog.Count) bool { return a == b })); diff != "" {
					t.Fatalf("%s, up to %s:\n%s", of, day, diff)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	check("nothing")
	load("first", rows[:200])
	check("one sheet")
	load("second", rows[150:])
	check("two sheets")
}
