package app

import (
	"fmt"
	"slices"
	"testing"

	"fitfill/catalog/sqlite"
)

// Purchases are read in the order of their days, each once however many sheets
// state it, and as they are written.
func TestPurchasesAreReadOnceAndInOrder(t *testing.T) {
	s := garage(t)
	const head = "date,supplier,number,type,quantity,unit_price,document,vehicle\n"
	take := func(name, rows string) {
		t.Helper()
		s.mustImport(t, ImportQuestion{Name: name, As: "purchases", Raw: []byte(head + rows)}, Imported)
	}
	read := func() (list []string) {
		t.Helper()
		err := s.store.View(t.Context(), func(v *sqlite.View) error {
			b, err := v.BoughtLines(t.Context())
			if err != nil {
				return err
			}
			all, err := v.Purchases(t.Context())
			if err != nil || len(all) != b.Len() {
				t.Fatalf("%d and %d purchases: %v", len(all), b.Len(), err)
			}
			for i, p := range all {
				price, priced := b.Price(i)
				if b.Day(i) != p.Date || b.Quantity(i) != p.Quantity || b.Number(i) != p.Number || priced != p.UnitPrice.Known || priced && price != p.UnitPrice.Value {
					t.Errorf("line %d is another one: %+v", i, p)
				}
				list = append(list, fmt.Sprint(p.Date, " ", p.Supplier, " ", p.Number, " ", p.Type, " ", p.Quantity.Float(), " ", p.UnitPrice.Text, " ", p.Document, " ", p.Vehicle, " ", p.Origin.Sheet, ":", p.Origin.Line))
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		return list
	}
	if got := read(); len(got) != 0 {
		t.Errorf("nothing was bought, and yet: %v", got)
	}
	take("one.csv", "2026-02-03,Ostrel,T-1,cap,2,4.50 EUR,D2,W 7\n2026-01-02,Ostrel,T-2,,1,,D1,\n2026-01-02,Ostrel,T-2,,1,,D1,\n")
	first := []string{"2026-01-02 Ostrel T-2  1  D1  one.csv:3", "2026-01-02 Ostrel T-2  1  D1  one.csv:4", "2026-02-03 Ostrel T-1 cap 2 4.50 EUR D2 W 7 one.csv:2"}
	if got := read(); !slices.Equal(got, first) {
		t.Errorf("one sheet: %q", got)
	}
	take("two.csv", "2026-01-02,Ostrel,T-2,,1,,D1,\n2026-02-03,Ostrel,T-1,cap,2,4.60 EUR,D2,W 7\n")
	if got := read(); !slices.Equal(got, append(first, "2026-02-03 Ostrel T-1 cap 2 4.60 EUR D2 W 7 two.csv:3")) {
		t.Errorf("two sheets: %q", got)
	}
}
