package returns_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/compat/returns"
)

// sold and back build a row of the cases: day, quantity in pieces, and changes.
func sold(t *testing.T, ref int, day string, qty float64, change func(*returns.Sale)) returns.Sale {
	s := returns.Sale{Ref: ref, Supplier: "AA", Part: "P1", PartType: "water pump", Day: date(t, day), Quantity: catalog.CountOf(int64(qty * 1000))}
	if change != nil {
		change(&s)
	}
	return s
}

func back(t *testing.T, ref int, day string, qty float64, class returns.Class, change func(*returns.Return)) returns.Return {
	r := returns.Return{Ref: ref, Supplier: "AA", Part: "P1", Day: date(t, day), Quantity: catalog.CountOf(int64(qty * 1000)), Class: class}
	if change != nil {
		change(&r)
	}
	return r
}

// unitText writes units as "line: weight x exit (entry)", ! for a failure.
func unitText(units []returns.Unit) string {
	var out []string
	for _, u := range units {
		mark := ""
		if u.Event {
			mark = "!"
		}
		entry := ""
		if u.Entry >= 0 {
			entry = fmt.Sprintf(" after %d", u.Entry)
		}
		out = append(out, fmt.Sprintf("S%d %gx%d%s%s", u.Line, u.Weight, u.Exit, mark, entry))
	}
	return strings.Join(out, "; ")
}

func fateText(f returns.ReturnFate) string {
	var out []string
	for _, a := range f.Sales {
		out = append(out, fmt.Sprintf("%d of S%d after %d", a.Pieces, a.Sale+1, a.Days))
	}
	if f.Unmatched > 0 {
		out = append(out, fmt.Sprintf("%d unmatched", f.Unmatched))
	}
	return strings.Join(out, "; ")
}

func total(units []returns.Unit) (events float64) {
	for _, u := range units {
		if u.Event {
			events += u.Weight
		}
	}
	return events
}

// Rows that meet in a parts shop and what must become of them; as-of day
// 2025-12-31 and 365 days of warranty unless a case says otherwise (worked by
// hand from the rules of common practice).
func TestEveryRowEndsWhereItBelongs(t *testing.T) {
	const fault, unknown = returns.QualityFailure, returns.UnknownReason
	jan10 := func(qty float64) returns.Sale { return sold(t, 1, "2025-01-10", qty, nil) }
	mar1 := func(qty float64) returns.Return { return back(t, 1, "2025-03-01", qty, fault, nil) }
	for _, c := range []struct {
		name     string
		sales    []returns.Sale
		returns  []returns.Return
		change   func(*returns.Books)
		fates    string // of the returns
		flags    string // of all rows
		aside    int    // rows set aside
		headline float64
		upper    float64
		units    string
	}{
		{"M01 one of three", []returns.Sale{jan10(3)}, []returns.Return{mar1(1)}, nil,
			"1 of S1 after 50", "", 0, 1, 1, "S1 1x50!; S1 2x355"},
		{"M02 split over lots", []returns.Sale{jan10(1), sold(t, 2, "2025-02-10", 2, nil)}, []returns.Return{mar1(2)}, nil,
			"1 of S1 after 50; 1 of S2 after 19", "split-over-lots", 0, 2, 2, "S1 1x50!; S2 1x19!; S2 1x324"},
		{"M03 the job beats the oldest sale",
			[]returns.Sale{sold(t, 1, "2025-01-10", 1, func(s *returns.Sale) { s.Job = "J7" }), sold(t, 2, "2025-02-10", 1, func(s *returns.Sale) { s.Job = "J9" })},
			[]returns.Return{back(t, 1, "2025-03-01", 1, fault, func(r *returns.Return) { r.Job = "J9" })}, nil,
			"1 of S2 after 19", "", 0, 1, 1, "S1 1x355; S2 1x19!"},
		{"M04 dead on arrival", []returns.Sale{jan10(1)}, []returns.Return{back(t, 1, "2025-01-20", 1, returns.DeadOnArrival, nil)}, nil,
			"1 of S1 after 0", "time-set-to-0", 0, 1, 1, "S1 1x0!"},
		{"M05 two days before its sale", []returns.Sale{jan10(1)}, []returns.Return{back(t, 1, "2025-01-08", 1, fault, nil)}, nil,
			"1 of S1 after 0", "return-before-sale-within-tolerance", 0, 1, 1, "S1 1x0!"},
		{"M06 three weeks before its sale", []returns.Sale{jan10(1)}, []returns.Return{back(t, 1, "2024-12-20", 1, fault, nil)},
			func(b *returns.Books) {
				b.SalesFrom = catalog.Say(date(t, "2023-01-01"), "2023-01-01", catalog.Origin{})
			},
			"1 unmatched", "return-before-sale", 1, 0, 1, "S1 1x355"},
		{"M07 more back than sold", []returns.Sale{jan10(2)}, []returns.Return{back(t, 1, "2025-02-01", 3, fault, nil)}, nil,
			"2 of S1 after 22; 1 unmatched", "more-returns-than-sales", 0, 2, 3, "S1 2x22!"},
		{"M08 another supplier sold it", []returns.Sale{jan10(1)},
			[]returns.Return{back(t, 1, "2025-02-01", 1, fault, func(r *returns.Return) { r.Supplier = "BB" })}, nil,
			"1 unmatched", "sold-by-other-supplier", 1, 0, 1, "S1 1x355"},
		{"M09 sold before the data start", []returns.Sale{sold(t, 1, "2025-06-01", 1, nil)}, []returns.Return{back(t, 1, "2025-01-15", 1, fault, nil)},
			func(b *returns.Books) {
				b.SalesFrom = catalog.Say(date(t, "2025-01-01"), "2025-01-01", catalog.Origin{})
			},
			"1 unmatched", "sale-before-data-start", 1, 0, 0, "S1 1x213"},
		{"M10 changed mind", []returns.Sale{jan10(1)}, []returns.Return{back(t, 1, "2025-02-01", 1, returns.Neutral, nil)}, nil,
			"1 of S1 after 22", "neutral", 0, 0, 0, "S1 1x22"},
		{"M11 wrong part supplied", []returns.Sale{jan10(1)}, []returns.Return{back(t, 1, "2025-01-12", 1, returns.SupplyError, nil)}, nil,
			"1 of S1 after 2", "supply-error", 0, 0, 0, "S1 1x2"},
		{"M12 core", []returns.Sale{jan10(1), sold(t, 2, "2025-01-10", 1, func(s *returns.Sale) { s.Part, s.PartType = "CORE-P1", "core deposit" })},
			[]returns.Return{back(t, 1, "2025-01-11", 1, returns.Core, nil)}, nil,
			"", "core", 2, 0, 0, "S1 1x355"},
		{"M13 blank reason", []returns.Sale{jan10(1)}, []returns.Return{back(t, 1, "2025-02-01", 1, unknown, nil)}, nil,
			"1 of S1 after 22", "reason-unknown", 0, 0, 1, "S1 1x22"},
		{"M14 after the warranty", []returns.Sale{jan10(1)}, []returns.Return{back(t, 1, "2025-11-01", 1, fault, nil)},
			func(b *returns.Books) { b.Warranties[0].Days = 180 },
			"1 of S1 after 295", "out-of-warranty", 0, 0, 0, "S1 1x180"},
		{"M15 sold after the as-of day", []returns.Sale{sold(t, 1, "2026-02-01", 1, nil)}, nil, nil,
			"", "future-date", 1, 0, 0, ""},
		{"M16 credit note", []returns.Sale{jan10(2), sold(t, 2, "2025-01-12", -1, nil)}, nil, nil,
			"", "credit-note-netted", 0, 0, 0, "S1 1x355"},
		{"M17 credit note of a return", []returns.Sale{jan10(2), sold(t, 2, "2025-03-02", -1, nil)}, []returns.Return{mar1(1)}, nil,
			"1 of S1 after 50", "credit-note-of-return", 0, 1, 1, "S1 1x50!; S1 1x355"},
		{"M18 credit note of nothing", []returns.Sale{jan10(-1)}, nil, nil,
			"", "orphan-credit", 1, 0, 0, ""},
		{"M19 return taken back", []returns.Sale{jan10(2)}, []returns.Return{mar1(1), back(t, 2, "2025-03-05", -1, fault, nil)}, nil,
			"", "return-reversed", 2, 0, 0, "S1 2x355"},
		{"M20 imported twice", []returns.Sale{
			sold(t, 1, "2025-01-10", 2, func(s *returns.Sale) { s.Document, s.DocumentLine, s.Import = "D1", "1", 1 }),
			sold(t, 2, "2025-01-10", 2, func(s *returns.Sale) { s.Document, s.DocumentLine, s.Import = "D1", "1", 2 })}, nil, nil,
			"", "duplicate", 1, 0, 0, "S1 2x355"},
		{"M21 identical without a document", []returns.Sale{jan10(2), sold(t, 2, "2025-01-10", 2, nil)}, nil, nil,
			"", "possible-duplicate", 0, 0, 0, "S1 2x355; S2 2x355"},
		{"M22 zero quantity", []returns.Sale{jan10(0)}, []returns.Return{mar1(0)}, nil,
			"", "zero-quantity", 2, 0, 0, ""},
		{"M23 returns recorded from February", []returns.Sale{jan10(1)}, []returns.Return{mar1(1)},
			func(b *returns.Books) {
				b.ReturnsFrom = catalog.Say(date(t, "2025-02-01"), "2025-02-01", catalog.Origin{})
			},
			"1 of S1 after 50", "delayed-entry", 0, 1, 1, "S1 1x50! after 22"},
		{"M24 spelled otherwise", []returns.Sale{jan10(1)},
			[]returns.Return{back(t, 1, "2025-03-01", 1, fault, func(r *returns.Return) { r.Supplier, r.Part = "aa ", "p-1" })}, nil,
			"1 of S1 after 50", "key-folded", 0, 1, 1, "S1 1x50!"},
		{"M25 sold by measure", []returns.Sale{jan10(12.5)}, []returns.Return{mar1(5)}, nil,
			"1 of S1 after 50", "fractional-quantity", 0, 1, 1, "S1 1x50!"},
		{"M26 back after the as-of day", []returns.Sale{sold(t, 1, "2025-12-20", 1, nil)}, []returns.Return{back(t, 1, "2026-01-05", 1, fault, nil)}, nil,
			"", "after-as-of", 1, 0, 0, "S1 1x11"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := returns.Books{Sales: c.sales, Returns: c.returns, AsOf: date(t, "2025-12-31"), Warranties: []returns.Warranty{{Supplier: "AA", Days: 365}}}
			if c.change != nil {
				c.change(&b)
			}
			l := returns.Match(b, settings(t))
			var fates, flags []string
			aside := 0
			all := slices.Clone(l.Sales)
			for _, f := range l.Returns {
				if s := fateText(f); s != "" {
					fates = append(fates, s)
				}
				all = append(all, f.Fate)
			}
			for _, f := range all {
				for _, code := range f.Codes.List() {
					flags = append(flags, code.String())
					if code.Says() == "" {
						t.Errorf("%s has no sentence", code)
					}
				}
				if f.Status == returns.SetAside {
					aside++
				}
				if (f.Status == returns.Used) != (f.Codes == 0) {
					t.Errorf("status %s with codes %v", f.Status, f.Codes.List())
				}
			}
			slices.Sort(flags)
			check := func(what string, got, want any) {
				if got != want {
					t.Errorf("%s: got %v, want %v", what, got, want)
				}
			}
			check("allocation", strings.Join(fates, " | "), c.fates)
			check("flags", strings.Join(slices.Compact(flags), " "), c.flags)
			check("set aside", aside, c.aside)
			check("headline failures", total(l.Units), c.headline)
			check("upper bound", total(l.UpperUnits()), c.upper)
			check("units", unitText(l.Units), c.units)
		})
	}
}

func TestTalliesKeepReasonsApart(t *testing.T) {
	b := returns.Books{AsOf: date(t, "2025-12-31"), Sales: []returns.Sale{sold(t, 1, "2025-01-10", 10, nil)}, Returns: []returns.Return{
		back(t, 1, "2025-01-12", 1, returns.DeadOnArrival, nil), back(t, 2, "2025-02-12", 1, returns.QualityFailure, nil),
		back(t, 3, "2025-02-13", 2, returns.SupplyError, nil), back(t, 4, "2025-02-14", 1, returns.Neutral, nil),
		back(t, 5, "2025-02-15", 1, returns.Core, nil), back(t, 6, "2025-02-16", 1, returns.UnknownReason, nil),
		back(t, 7, "2025-02-17", 6, returns.QualityFailure, nil),
	}}
	got := returns.Match(b, settings(t)).Total(0)
	want := returns.Tally{PartType: -1, Sold: 10, Faulty: 6, DeadOnArrival: 1, SupplyErrors: 2, Neutral: 1, Core: 1, Unknown: 1, Unmatched: 2, UnmatchedFaulty: 2}
	if got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if !got.Provisional(0.1) || got.Provisional(0.5) {
		t.Error("2 of 8 quality returns without a sale must be provisional at 10 %, not at 50 %")
	}
}

func TestALinkToSomebodyElsesSaleIsNotFollowed(t *testing.T) {
	b := returns.Books{AsOf: date(t, "2025-12-31"),
		Sales: []returns.Sale{
			sold(t, 1, "2025-01-10", 1, func(s *returns.Sale) { s.ID = "7" }),
			sold(t, 2, "2025-01-20", 1, func(s *returns.Sale) { s.Supplier, s.ID = "BB", "8" })},
		Returns: []returns.Return{back(t, 1, "2025-03-01", 1, returns.QualityFailure, func(r *returns.Return) { r.SaleID = "8" })}}
	f := returns.Match(b, settings(t)).Returns[0]
	if !f.Has(returns.LinkDisagrees) || len(f.Sales) != 1 || f.Sales[0].Sale != 0 || f.Sales[0].Rule != returns.ByOldestSale {
		t.Errorf("%+v", f)
	}
}

func TestAsOfIsTheEarlierOfTheTwoEnds(t *testing.T) {
	sales := []returns.Sale{sold(t, 1, "2025-03-01", 1, nil), sold(t, 2, "2025-01-10", 1, nil)}
	got, ok := returns.AsOf(sales, []returns.Return{back(t, 1, "2025-02-01", 1, returns.Neutral, nil)})
	if !ok || got != date(t, "2025-02-01") {
		t.Errorf("%v %v", got, ok)
	}
	if _, ok := returns.AsOf(sales, nil); ok {
		t.Error("without a return the day cannot be told")
	}
}
