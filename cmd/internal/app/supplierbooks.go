package app

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat/returns"
)

// sorting says what a return comes to: by its reason, by what a test of the part
// found, and by the supplier's warranty.
type sorting struct {
	returns.Reasons
	tests      returns.Tests
	warranties []returns.Warranty
}

func (s *Shop) returnTables(q SuppliersQuestion) (returns.Settings, sorting, error) {
	rows, err := s.ref.Table("returns_settings")
	if err != nil {
		return returns.Settings{}, sorting{}, err
	}
	settings, err := returns.SettingsFrom(func(name string) (float64, bool) {
		for _, r := range rows {
			if r.Get("setting") == name {
				v, err := r.Float("value")
				return v, err == nil
			}
		}
		return 0, false
	})
	if err != nil {
		return settings, sorting{}, err
	}
	if len(q.Days) > 0 {
		settings.Horizons = slices.Compact(slices.Sorted(slices.Values(append(q.Days, RateDays))))
	}
	reasonRows, err := s.ref.Table("returns_reasons")
	if err != nil {
		return settings, sorting{}, err
	}
	var out sorting
	if out.Reasons, err = returns.NewReasons(reasonRows); err != nil {
		return settings, out, err
	}
	testRows, err := s.ref.Table("returns_tests")
	if err != nil {
		return settings, out, err
	}
	if out.tests, err = returns.NewTests(testRows); err != nil {
		return settings, out, err
	}
	warrantyRows, err := s.ref.Table("returns_warranties")
	if err != nil {
		return settings, out, err
	}
	out.warranties, err = returns.NewWarranties(warrantyRows)
	return settings, out, err
}

// books turns the catalogue's events into rows to be matched. Names of one
// supplier become one; a purchase without a part type gets the one that the
// supplier's own list states.
func (s *Shop) books(ctx context.Context, v *sqlite.View, st *supplierStudy, reasons sorting) (returns.Books, error) {
	var b returns.Books
	q := st.q
	known := map[string]string{} // as written → as on file: the same few are written over and over
	name := func(text string) string {
		n, ok := known[text]
		if !ok {
			n = canonical(st.names, text)
			known[text] = n
		}
		return n
	}
	types, err := v.TypesByNumber(ctx)
	if err != nil {
		return b, err
	}
	since := catalog.Date(math.MinInt32)
	if q.From != "" {
		if since, err = catalog.ParseDate(q.From); err != nil {
			return b, &UsageError{Problem: "--bought-from: " + err.Error(), Hint: "such as --bought-from 2025-01-01"}
		}
	}
	b.Sales = make([]returns.Sale, 0, st.bought.Len())
	for i := range st.bought.Len() {
		p := st.bought.At(i)
		if p.Date < since {
			continue
		}
		supplier := name(p.Supplier)
		partType := p.Type
		if partType == "" {
			partType = types[[2]string{supplier, catalog.Key(p.Number)}]
		}
		b.Sales = append(b.Sales, returns.Sale{
			Ref: i, Supplier: supplier, Part: p.Number, PartType: partType, Day: p.Date, Quantity: p.Quantity,
			Document: p.Document, Job: p.Vehicle,
		})
	}
	if q.From != "" {
		b.SalesFrom = catalog.Say(since, q.From, catalog.Origin{})
	}
	st.unsorted = map[string]catalog.Date{}
	b.Returns = make([]returns.Return, 0, len(st.back))
	for i, r := range st.back {
		if _, _, ok := reasons.Class(r.Reason); !ok && catalog.Fold(r.Reason) != "" {
			if first, seen := st.unsorted[r.Reason]; !seen || r.Date < first {
				st.unsorted[r.Reason] = r.Date
			}
		}
		b.Returns = append(b.Returns, returns.Return{
			Ref: i, Supplier: name(r.Supplier), Part: r.Number, Day: r.Date, Quantity: r.Quantity, Class: returnClass(reasons, r),
			Document: r.Document, Job: r.Vehicle, Bought: r.PurchaseDate,
		})
	}
	for _, w := range reasons.warranties {
		if w.Supplier != "" {
			w.Supplier = name(w.Supplier)
		}
		b.Warranties = append(b.Warranties, w)
	}
	return b, nil
}

// asOf sets the day up to which the books count. What is logged by hand does not
// move it: the sheets are what is known to be whole up to a day.
func asOf(q SuppliersQuestion, b *returns.Books, back []catalog.Return) error {
	if q.AsOf != "" {
		day, err := catalog.ParseDate(q.AsOf)
		if err != nil {
			return &UsageError{Problem: "--as-of: " + err.Error(), Hint: "such as --as-of 2026-06-30"}
		}
		if last := lastDay(b); day > last {
			return &UsageError{
				Problem: fmt.Sprintf("nothing is known of the time up to %s: the last row on file is of %s", day, last),
				Hint:    "parts that nobody has heard of would count as sound: leave --as-of out, or import newer purchases and returns",
			}
		}
		b.AsOf = day
		if first := firstSale(b); day < first {
			return &UsageError{
				Problem: fmt.Sprintf("nothing was bought up to %s: the first purchase on file is of %s", day, first),
				Hint:    "say a later day with --as-of, or import the purchases of the time before",
			}
		}
		return nil
	}
	sheets := slices.DeleteFunc(slices.Clone(b.Returns), func(r returns.Return) bool { return back[r.Ref].Origin.ByHand() })
	if len(sheets) == 0 {
		sheets = b.Returns
	}
	day, ok := returns.AsOf(b.Sales, sheets)
	if !ok {
		return &UsageError{Problem: "no returns are on file, so nobody can tell up to which day they are known", Hint: "import them (fitfill import FILE --as returns), or state the day: --as-of YYYY-MM-DD"}
	}
	b.AsOf = day
	if first := firstSale(b); day < first {
		return &UsageError{
			Problem: fmt.Sprintf("the returns on file end on %s, before the first purchase of %s", day, first),
			Hint:    "import the returns of the time since, or the purchases of the time before: only what both know can be counted",
		}
	}
	return nil
}

// firstSale returns the day of the first purchase that counts.
func firstSale(b *returns.Books) catalog.Date {
	first := b.Sales[0].Day
	for _, s := range b.Sales {
		first = min(first, s.Day)
	}
	return first
}

// unmappedUpTo lists the reasons that nobody has sorted of what came back up to a
// day.
func (st *supplierStudy) unmappedUpTo(day catalog.Date) []string {
	list := []string{}
	for reason, first := range st.unsorted {
		if first <= day {
			list = append(list, reason)
		}
	}
	slices.Sort(list)
	return list
}

// lastDay returns the day of the last purchase or return.
func lastDay(b *returns.Books) catalog.Date {
	last := b.Sales[0].Day
	for _, s := range b.Sales {
		last = max(last, s.Day)
	}
	for _, r := range b.Returns {
		last = max(last, r.Day)
	}
	return last
}

// strayWarranties names those that are stated of somebody from whom nothing was
// bought.
func (st *supplierStudy) strayWarranties() string {
	var stray []string
	for _, w := range st.books.Warranties {
		known := func(name string) bool { return catalog.Fold(name) == catalog.Fold(w.Supplier) }
		if w.Supplier != "" && !slices.ContainsFunc(st.ledger.Suppliers, known) {
			stray = append(stray, fmt.Sprintf("%s (%s line %d)", w.Supplier, w.Row.Own.Sheet, w.Row.Line))
		}
	}
	if len(stray) == 0 {
		return ""
	}
	return "Nothing was bought from these suppliers of your warranties: " + strings.Join(stray, ", ") + ". Check their names."
}
