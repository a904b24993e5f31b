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

// What is read in short of returns is what all that is known of them says.
func TestReturnsInShortAreThoseOfAll(t *testing.T) {
	ctx := context.Background()
	s := newStore(t)
	sh := sheet{info: SheetInfo{Kind: catalog.ReturnsSheet, Name: "back", SHA256: "back", File: strings.NewReader("back"), Mapping: "{}",
		Fields: []string{"date", "supplier", "number", "quantity", "reason"}, ImportedAt: "2026-01-02T03:04:05Z"}}
	for i, reason := range []string{"wrong part", "leaks", "wrong part", "not as listed", "", "wrong part"} {
		sh.rows = append(sh.rows, catalog.SheetRow{Line: i + 2, Return: &catalog.Return{Date: catalog.Date(9 - i), Supplier: []string{"Ostrel", "Quern"}[i%2],
			Number: "T-100", Quantity: catalog.CountOf(int64(i+1) * 1000), Reason: reason}})
	}
	sh.load(t, s)
	err := s.View(ctx, func(v *View) error {
		for _, wanted := range []string{"wrong part", "leaks", "", "none"} {
			back, last, ok, err := v.ReturnsFor(ctx, func(reason string) bool { return reason == wanted })
			if err != nil || !ok || last != 9 {
				t.Errorf("up to %s, %v, %v", last, ok, err)
			}
			all, err := v.Returns(ctx)
			if err != nil {
				return err
			}
			want := []catalog.Return{}
			for _, r := range all {
				if r.Reason == wanted {
					want = append(want, catalog.Return{Date: r.Date, Supplier: r.Supplier, Quantity: r.Quantity, Reason: r.Reason, Origin: r.Origin})
				}
			}
			if diff := cmp.Diff(want, back, cmp.Comparer(func(a, b catalog.Count) bool { return a == b })); diff != "" {
				t.Errorf("%q:\n%s", wanted, diff)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
