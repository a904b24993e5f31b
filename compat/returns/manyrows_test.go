package returns_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"runtime"
	"testing"

	"fitfill/compat/returns"
)

// Enough rows for two workers: neither their number nor the order of rows nor
// whether equal words lie at one address may change what comes out.
func TestOrderOfManyRowsAndNumberOfProcessorsChangeNothing(t *testing.T) {
	set := coarse(t)
	books := bigBooks(40_000, 4_000)
	first := returns.Match(books, set)
	want, err := returns.Judge(first, set)
	if err != nil {
		t.Fatal(err)
	}
	check := func(what string) {
		t.Helper()
		l := returns.Match(books, set)
		got, err := returns.Judge(l, set)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(l.Units, first.Units) || !reflect.DeepEqual(l.Unplaced, first.Unplaced) || !reflect.DeepEqual(l.Tallies, first.Tallies) {
			t.Errorf("%s: the units are not the same", what)
		}
		if !reflect.DeepEqual(l.Counts(), first.Counts()) || l.OldestShare != first.OldestShare {
			t.Errorf("%s: what was noted on the rows is not the same", what)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: the report is not the same", what)
		}
		for i, f := range l.Sales {
			if f.Ref != books.Sales[i].Ref {
				t.Fatalf("%s: row %d has the mark %d, not its own %d", what, i, f.Ref, books.Sales[i].Ref)
			}
		}
	}
	before := runtime.GOMAXPROCS(1)
	check("one processor")
	runtime.GOMAXPROCS(before)

	r := rand.New(rand.NewPCG(3, 20261130))
	r.Shuffle(len(books.Sales), func(i, j int) { books.Sales[i], books.Sales[j] = books.Sales[j], books.Sales[i] })
	r.Shuffle(len(books.Returns), func(i, j int) { books.Returns[i], books.Returns[j] = books.Returns[j], books.Returns[i] })
	check("rows in another order")

	for i := range books.Sales {
		s := &books.Sales[i]
		s.Supplier, s.Part, s.PartType = again(s.Supplier), again(s.Part), again(s.PartType)
	}
	check("every word at an address of its own")
}

// again returns the same word at another address.
func again(word string) string { return string([]byte(word)) }

// Many returns of one part that name documents are linked as few are.
func TestLinksOfManyReturnsOfOnePart(t *testing.T) {
	b := returns.Books{AsOf: date(t, "2025-12-31")}
	for i := range 400 {
		b.Sales = append(b.Sales, sold(t, i, "2025-01-02", 1, func(s *returns.Sale) { s.Document, s.Job = fmt.Sprint("D-", i), fmt.Sprint("J-", i) }))
	}
	for i := range 130 {
		b.Returns = append(b.Returns, back(t, i, "2025-03-02", 1, returns.QualityFailure, func(r *returns.Return) {
			if r.Document = fmt.Sprint(" d-", 3*i); i%2 == 0 {
				r.Document, r.Job = "", fmt.Sprint("j-", 3*i)
			}
		}))
	}
	for i, f := range returns.Match(b, settings(t)).Returns {
		if len(f.Sales) != 1 || f.Sales[0].Sale != 3*i || f.Sales[0].Rule != returns.ByDocument {
			t.Fatalf("return %d: %+v", i, f)
		}
	}
}

// Of whom nothing was bought, nobody knows a warranty.
func TestAWarrantyTakesAPurchase(t *testing.T) {
	b := returns.Books{AsOf: date(t, "2025-12-31"), Sales: []returns.Sale{sold(t, 1, "2025-01-02", 1, nil)}, Warranties: []returns.Warranty{{Days: 180}},
		Returns: []returns.Return{back(t, 1, "2025-03-02", 1, returns.QualityFailure, func(r *returns.Return) { r.Supplier = "ZZ" })}}
	if l := returns.Match(b, settings(t)); len(l.Warranty) != 2 || l.Warranty[0] != 180 || l.Warranty[1] != -1 {
		t.Errorf("warranties %v of %v", l.Warranty, l.Suppliers)
	}
}

// A sale that a credit note of the same day takes off in full is no credit note
// itself: it leaves the rows around it alone.
func TestASaleTakenOffInFullTakesNothingOff(t *testing.T) {
	l := returns.Match(returns.Books{AsOf: date(t, "2025-12-31"), Sales: []returns.Sale{
		sold(t, 1, "2025-01-02", 3, nil), sold(t, 2, "2025-01-10", -2, nil), sold(t, 3, "2025-01-10", 2, nil)}}, settings(t))
	if l.Sales[0].Codes != 0 || !l.Sales[1].Has(returns.CreditNetted) || !l.Sales[2].Has(returns.CreditNetted) {
		t.Errorf("%v %v %v", l.Sales[0].Codes.List(), l.Sales[1].Codes.List(), l.Sales[2].Codes.List())
	}
	if got := l.Total(0).Sold; got != 3 {
		t.Errorf("%d pieces sold, not 3", got)
	}
}
