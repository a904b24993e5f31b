package importers

import (
	"fmt"
	"strings"
	"testing"

	"fitfill/catalog"
)

// What stands under a heading that part numbers have as well is asked about where
// it counts the lines or names the goods.
func TestNoPartNumbersUnderTheirHeading(t *testing.T) {
	sheet := func(head string, row func(i int) string) string {
		rows := []string{head}
		for i := range 9 {
			rows = append(rows, row(i))
		}
		return strings.Join(rows, "\n") + "\n"
	}
	names := []string{"Radiator cap", "Upper hose with bend", "Thermostat for diesel", "Water pump with gasket", "Heater hose 16 mm", "Lower hose", "Expansion tank cap", "Coolant green 5 l", "Filter long thread"}
	for _, tc := range []struct {
		raw, about, says string
	}{
		{sheet("No.;Maker's ref;Price EUR", func(i int) string { return fmt.Sprintf("%d;TH-%d;%d,50", i+1, 100+7*i, i+1) }), "No.", "count the lines"},
		{sheet("Nr.;Bezeichnung;Preis EUR", func(i int) string { return fmt.Sprintf("%d.;Deckel %d;%d,50", i+1, i, i+1) }), "Nr.", "count the lines"},
		{sheet("Product;EAN;Price EUR", func(i int) string { return fmt.Sprintf("%s;;%d,50", names[i], i+1) }), "Product", "none of ours"},
		{sheet("No.;Maker's ref;Price EUR", func(i int) string { return fmt.Sprintf("%d;TH-%d;%d,50", 3*i+2, 100+7*i, i+1) }), "Maker's ref", "none of ours"}, // numbers, if small ones
		{sheet("Product;EAN;Price EUR", func(i int) string { return fmt.Sprintf("CLG %d;;%d,50", i*i, i+1) }), "", ""},
		{sheet("Product;EAN;Price EUR", func(i int) string { return fmt.Sprintf("LONG%cLIFE;;%d,50", 'A'+i, i+1) }), "", ""},
	} {
		_, _, questions := propose(t, catalog.SupplierSheet, tc.raw, Options{})
		found := tc.about == "" && len(questions) == 0
		for _, q := range questions {
			if q.Code == "column" && strings.Contains(q.Question, fmt.Sprintf("Column %q", tc.about)) {
				found = strings.Contains(q.Question, tc.says) && (tc.says != "count the lines" || strings.HasPrefix(q.Command, "--ignore"))
			}
		}
		if !found {
			t.Errorf("%q asks %+v", tc.raw, questions)
		}
	}
}

// An amount is money in one shop's books and pieces in another's.
func TestAmountIsAsked(t *testing.T) {
	for kind, raw := range map[catalog.SheetKind]string{
		catalog.PurchasesSheet: "Date;Supplier;Part;Amount\n2026-01-05;Ostrel;A-1;120\n2026-01-06;Ostrel;A-2;240\n",
		catalog.ReturnsSheet:   "Date;Supplier;Part;Reason;Amount\n2026-01-05;Ostrel;A-1;leaks;120\n",
	} {
		_, m, questions := propose(t, kind, raw, Options{})
		if len(questions) == 0 || column(m, "quantity").Heading != "" {
			t.Errorf("%s: %+v, asks %+v", kind, m.Columns, questions)
		}
	}
}

// A share of which the heading says nothing may be a discount.
func TestADiscountIsNoStrength(t *testing.T) {
	_, _, questions := propose(t, catalog.SupplierSheet, "Part no;Price EUR;Discount\nA-1;2.50;10 %\nA-2;3.50;5 %\nA-3;3.50;10 %\n", Options{})
	if len(questions) != 1 || !strings.HasPrefix(questions[0].Command, "--ignore") || strings.Contains(questions[0].Question, "strength") {
		t.Errorf("%+v", questions)
	}
}

func TestANumberCutAtItsThousandsIsSaidToBeOne(t *testing.T) {
	for row, want := range map[string]string{
		"A-1,Stat,1,234.00,4\n": "between thousands", "A-1,Stat,12,50,4\n": "decimal comma", "A-1,Stat, upper,9.50,4\n": "put cells that contain",
	} {
		s, err := openSheet(testVocabulary(t), "list.csv", []byte("Part,Description,Price,Stock\nA-0,Stat,9.50,4\n"+row+"A-2,Stat,9.50,4\n"), Settings{"separator": "comma"})
		if err != nil {
			t.Fatal(err)
		}
		if p := s.structure(2); p == nil || !strings.Contains(p.why, want) {
			t.Errorf("%q: %+v", row, p)
		}
	}
}
