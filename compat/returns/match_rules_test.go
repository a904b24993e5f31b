package returns_test

import (
	"slices"
	"testing"

	"fitfill/catalog"
	"fitfill/compat/returns"
)

func TestTheLastDayOfTheWarrantyCounts(t *testing.T) {
	for _, c := range []struct {
		days int
		code bool
	}{{50, false}, {49, true}} {
		b := returns.Books{AsOf: date(t, "2025-12-31"), Sales: []returns.Sale{sold(t, 1, "2025-01-10", 1, nil)},
			Returns:    []returns.Return{back(t, 1, "2025-03-01", 1, returns.QualityFailure, nil)}, // day 50
			Warranties: []returns.Warranty{{Supplier: "aa", Days: 400}, {Supplier: "AA", PartType: "Water-Pump", Days: c.days}, {Supplier: "BB", Days: 1}}}
		l := returns.Match(b, settings(t))
		if got := l.Returns[0].Has(returns.OutOfWarranty); got != c.code {
			t.Errorf("warranty %d: out of warranty is %v", c.days, got)
		}
		if l.Warranty[0] != c.days {
			t.Errorf("longest warranty %d, want %d", l.Warranty[0], c.days)
		}
	}
}

func TestWhichSaleAReturnIsTakenFrom(t *testing.T) {
	bought := func(day string) func(*returns.Return) {
		return func(r *returns.Return) { r.Bought = catalog.Say(date(t, day), day, catalog.Origin{}) }
	}
	for _, c := range []struct {
		name   string
		change func(*returns.Return)
		young  bool
		sale   int
		rule   returns.Rule
	}{
		{"oldest", nil, false, 0, returns.ByOldestSale},
		{"youngest when asked", nil, true, 2, returns.ByOldestSale},
		{"stated day", bought("2025-01-20"), false, 1, returns.ByBoughtDay},
		{"stated day without a sale", bought("2025-01-21"), false, 0, returns.ByOldestSale},
		{"document", func(r *returns.Return) { r.Document = " inv-3" }, false, 2, returns.ByDocument},
		{"document line", func(r *returns.Return) { r.Document, r.DocumentLine = "INV-2", "4" }, false, 1, returns.BySaleID},
		{"sale id before a job", func(r *returns.Return) { r.SaleID, r.Job = "s3", "J1" }, false, 2, returns.BySaleID},
	} {
		b := returns.Books{AsOf: date(t, "2025-12-31"), LastInFirstOut: c.young}
		for i, day := range []string{"2025-01-10", "2025-01-20", "2025-01-30"} {
			n := string(rune('1' + i))
			b.Sales = append(b.Sales, sold(t, i+1, day, 1, func(s *returns.Sale) {
				s.ID, s.Document, s.DocumentLine, s.Job = "S"+n, "INV-"+n, "4", "J"+n
			}))
		}
		b.Returns = []returns.Return{back(t, 1, "2025-03-01", 1, returns.QualityFailure, c.change)}
		f := returns.Match(b, settings(t)).Returns[0]
		if len(f.Sales) != 1 || f.Sales[0].Sale != c.sale || f.Sales[0].Rule != c.rule {
			t.Errorf("%s: %+v", c.name, f.Sales)
		}
	}
}

func TestTheSameDocumentInTwoSheetsCountsOnce(t *testing.T) {
	inv := func(ref, sheet int) returns.Sale {
		return sold(t, ref, "2025-01-10", 1, func(s *returns.Sale) { s.Document, s.Import = "INV-1", sheet })
	}
	b := returns.Books{AsOf: date(t, "2025-12-31"), Sales: []returns.Sale{inv(1, 1), inv(2, 1), inv(3, 2), inv(4, 2), inv(5, 2)}}
	l := returns.Match(b, settings(t))
	if got := l.Total(0).Sold; got != 3 {
		t.Errorf("two lines in one sheet and three in the other make %d pieces, want 3", got)
	}
	for i, want := range []bool{false, false, true, true, false} {
		if l.Sales[i].Has(returns.Duplicate) != want {
			t.Errorf("line %d: %v", i+1, l.Sales[i].Codes.List())
		}
	}
}

func TestTypesOfOneSupplierAreListed(t *testing.T) {
	l := returns.Match(returns.Books{AsOf: date(t, "2025-12-31"), Sales: []returns.Sale{
		sold(t, 1, "2025-01-10", 1, nil), sold(t, 2, "2025-01-10", 1, func(s *returns.Sale) { s.Supplier = "BB" }),
		sold(t, 3, "2025-01-10", 1, func(s *returns.Sale) { s.Part, s.PartType = "H1", "hose" }),
		sold(t, 4, "2025-01-10", 1, func(s *returns.Sale) { s.Part, s.PartType = "X1", "" }),
	}}, settings(t))
	if got := l.Exclusive(); !slices.Equal(got, []string{"hose", returns.Unclassified}) {
		t.Errorf("%v", got)
	}
	if only := l.Only("Water Pump"); len(only.Units) != 2 || only.Total(0).Sold != 1 {
		t.Errorf("%+v", only)
	}
	if !l.Sales[3].Has(returns.PartTypeMissing) {
		t.Errorf("%v", l.Sales[3].Codes.List())
	}
}

func TestWithoutAnyEarlierSaleOnFile(t *testing.T) {
	b := returns.Books{AsOf: date(t, "2025-12-31"), Warranties: []returns.Warranty{{Supplier: "AA", Days: 100}},
		Sales: []returns.Sale{sold(t, 1, "2025-01-01", 1, nil)},
		Returns: []returns.Return{back(t, 1, "2025-12-01", 1, returns.QualityFailure, func(r *returns.Return) { r.Part = "P9" }),
			back(t, 2, "2025-02-01", 1, returns.QualityFailure, func(r *returns.Return) { r.Part = "P9" })}}
	l := returns.Match(b, settings(t))
	if !l.Returns[0].Has(returns.NeverSold) || !l.Returns[1].Has(returns.SaleBeforeDataStart) {
		t.Errorf("%v and %v", l.Returns[0].Codes.List(), l.Returns[1].Codes.List())
	}
	if got := l.Total(0); got.UnmatchedFaulty != 1 || got.BeforeDataStart != 1 {
		t.Errorf("%+v", got)
	}
}

// One odd quantity must not turn the pieces of every other line into lines; a
// part whose lines are mostly odd is sold by measure.
func TestOneOddQuantityLeavesTheOtherLinesAlone(t *testing.T) {
	books := func(quantities ...float64) returns.Books {
		b := returns.Books{AsOf: date(t, "2025-12-31")}
		for i, q := range quantities {
			b.Sales = append(b.Sales, sold(t, i+1, "2025-01-10", q, nil))
		}
		return b
	}
	for _, c := range []struct {
		quantities []float64
		want       int
	}{
		{[]float64{10, 20, 1.5, 30}, 61}, {[]float64{4.5, 5, 3.2}, 3}, {[]float64{2, 3}, 5}, {[]float64{0.5}, 1},
	} {
		l := returns.Match(books(c.quantities...), settings(t))
		if got := l.Total(0).Sold; got != c.want {
			t.Errorf("%v: %d pieces, want %d", c.quantities, got, c.want)
		}
	}
}
