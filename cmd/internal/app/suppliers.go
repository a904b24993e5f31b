package app

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
	"fitfill/compat/returns"
)

// SuppliersQuestion asks whose parts come back.
type SuppliersQuestion struct {
	Type  string
	AsOf  string // YYYY-MM-DD; empty: the last day that purchases and returns both cover
	Since string // count only purchases from that day on
	Days  []int  // horizons; empty: those of the settings
}

// SuppliersAnswer is the comparison of all suppliers.
type SuppliersAnswer struct {
	AsOf      string          `json:"as_of"`
	Type      string          `json:"type"`
	Suppliers []SupplierScore `json:"suppliers"`
	Ranked    bool            `json:"ranked"`
	Notes     []string        `json:"notes"`
	Unmapped  []string        `json:"reasons_not_known"`
}

// Estimate is a figure with its 95 % limits.
type Estimate struct {
	Est  float64 `json:"est"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// SupplierScore is one supplier's line.
type SupplierScore struct {
	Supplier      string           `json:"supplier"`
	Sold          int              `json:"sold"`
	Faulty        int              `json:"faulty"`
	RatePct       *Estimate        `json:"rate_pct"`
	Within        []Within         `json:"within_days"`
	Relative      *Estimate        `json:"relative"`
	Observed      int              `json:"observed_failures"` // faulty within RateDays
	Expected      float64          `json:"expected_failures"` // of those, had its parts failed like everybody's
	WorseThanRest *float64         `json:"p_worse_than_rest"`
	ExpectedRank  *float64         `json:"expected_rank"`
	Group         string           `json:"group"`
	Words         string           `json:"words"`
	NotTheirFault int              `json:"not_their_fault"`
	SupplyErrors  int              `json:"supply_errors"`
	Unknown       int              `json:"reason_unknown"`
	Unmatched     int              `json:"unmatched"`
	Provisional   bool             `json:"provisional"`
	Findings      []compat.Finding `json:"findings"`
}

// Within is the share that came back faulty within so many days. Watched is
// how many pieces were followed longer than that.
type Within struct {
	Days    int      `json:"days"`
	Est     *float64 `json:"est"`
	Low     *float64 `json:"low"`
	High    *float64 `json:"high"`
	Watched int      `json:"still_watched"`
	Note    string   `json:"note,omitempty"`
}

// RateDays is the horizon, in days, of the headline rate.
const RateDays = 365

// Suppliers compares the suppliers by what came back of what was bought.
func (s *Shop) Suppliers(ctx context.Context, q SuppliersQuestion) (SuppliersAnswer, error) {
	a := SuppliersAnswer{Type: q.Type, Suppliers: []SupplierScore{}, Notes: []string{}, Unmapped: []string{}}
	settings, reasons, err := s.returnTables(q)
	if err != nil {
		return a, err
	}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		bought, err := v.Purchases(ctx)
		if err != nil {
			return err
		}
		back, err := v.Returns(ctx)
		if err != nil {
			return err
		}
		books, err := s.books(ctx, v, q, bought, back, reasons, &a)
		if err != nil {
			return err
		}
		if len(books.Sales) == 0 {
			return &UsageError{Problem: "no purchases are on file", Hint: "import them: fitfill import FILE --as purchases (columns: date, supplier, number, quantity)"}
		}
		if err := asOf(q, &books); err != nil {
			return err
		}
		ledger := returns.Match(books, settings)
		scored := ledger
		if q.Type != "" {
			scored = ledger.Only(q.Type)
		}
		report, err := returns.Judge(scored, settings)
		if err != nil {
			return err
		}
		a.fill(q, report, ledger, books, back)
		for _, sup := range a.Suppliers {
			if err := fillTexts(ctx, v, sup.Findings); err != nil {
				return err
			}
		}
		return nil
	})
	return a, err
}

func (s *Shop) returnTables(q SuppliersQuestion) (returns.Settings, returns.Reasons, error) {
	rows, err := s.ref.Table("returns_settings")
	if err != nil {
		return returns.Settings{}, returns.Reasons{}, err
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
		return settings, returns.Reasons{}, err
	}
	if len(q.Days) > 0 {
		settings.Horizons = slices.Compact(slices.Sorted(slices.Values(append(q.Days, RateDays))))
	}
	reasonRows, err := s.ref.Table("returns_reasons")
	if err != nil {
		return settings, returns.Reasons{}, err
	}
	reasons, err := returns.NewReasons(reasonRows)
	return settings, reasons, err
}

// books turns the catalogue's events into rows to be matched. Names of one
// supplier become one; a purchase without a part type gets the one that the
// supplier's own list states.
func (s *Shop) books(ctx context.Context, v *sqlite.View, q SuppliersQuestion, bought []catalog.Purchase, back []catalog.Return, reasons returns.Reasons, a *SuppliersAnswer) (returns.Books, error) {
	var b returns.Books
	suppliers, err := v.Suppliers(ctx)
	if err != nil {
		return b, err
	}
	canonical := map[string]string{}
	for _, sup := range suppliers {
		for _, n := range append([]string{sup.Name}, sup.OtherNames...) {
			canonical[catalog.Fold(n)] = sup.Name
		}
	}
	name := func(text string) string {
		if n, ok := canonical[catalog.Fold(text)]; ok {
			return n
		}
		return text
	}
	types, err := v.TypesByNumber(ctx)
	if err != nil {
		return b, err
	}
	since := catalog.Date(math.MinInt32)
	if q.Since != "" {
		if since, err = catalog.ParseDate(q.Since); err != nil {
			return b, &UsageError{Problem: "--since: " + err.Error(), Hint: "such as --since 2025-01-01"}
		}
	}
	for i, p := range bought {
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
	if q.Since != "" {
		b.SalesFrom = catalog.Say(since, q.Since, catalog.Origin{})
	}
	unmapped := map[string]bool{}
	for i, r := range back {
		class, _, ok := reasons.Class(r.Reason)
		if !ok && !unmapped[r.Reason] {
			unmapped[r.Reason] = true
			a.Unmapped = append(a.Unmapped, r.Reason)
		}
		b.Returns = append(b.Returns, returns.Return{
			Ref: i, Supplier: name(r.Supplier), Part: r.Number, Day: r.Date, Quantity: r.Quantity, Class: class,
			Document: r.Document, Bought: r.PurchaseDate,
		})
	}
	slices.Sort(a.Unmapped)
	return b, nil
}

func asOf(q SuppliersQuestion, b *returns.Books) error {
	if q.AsOf != "" {
		day, err := catalog.ParseDate(q.AsOf)
		if err != nil {
			return &UsageError{Problem: "--as-of: " + err.Error(), Hint: "such as --as-of 2026-06-30"}
		}
		b.AsOf = day
		return nil
	}
	day, ok := returns.AsOf(b.Sales, b.Returns)
	if !ok {
		return &UsageError{Problem: "no returns are on file, so nobody can tell up to which day they are known", Hint: "import them (fitfill import FILE --as returns), or state the day: --as-of YYYY-MM-DD"}
	}
	b.AsOf = day
	return nil
}

func (a *SuppliersAnswer) fill(q SuppliersQuestion, r returns.Report, l returns.Ledger, b returns.Books, back []catalog.Return) {
	a.AsOf, a.Ranked = r.AsOf.String(), r.Headline.Ranked
	a.Notes = append(a.Notes, "The clock starts on the day of purchase: time on the shelf counts as time in service.")
	if r.Headline.Why != "" {
		a.Notes = append(a.Notes, capitalised(r.Headline.Why)+".")
	}
	if r.Headline.Divided {
		a.Notes = append(a.Notes, fmt.Sprintf("Pieces of one delivery fail together: all counts were divided by %.1f.", r.Headline.DesignEffect))
	}
	if len(r.Exclusive) > 0 && q.Type == "" {
		a.Notes = append(a.Notes, "Bought from one supplier only, so no help in comparing: "+strings.Join(r.Exclusive, ", ")+".")
	}
	lines := faultyLines(l, b, back, q.Type)
	for _, s := range r.Suppliers {
		if s.Tally.Sold == 0 && s.Tally.Unmatched == 0 {
			continue
		}
		a.Suppliers = append(a.Suppliers, score(s, r.Headline.Ranked, lines[s.Name]))
	}
	slices.SortStableFunc(a.Suppliers, func(x, y SupplierScore) int {
		switch {
		case x.ExpectedRank == nil && y.ExpectedRank == nil:
			return strings.Compare(x.Supplier, y.Supplier)
		case x.ExpectedRank == nil:
			return 1
		case y.ExpectedRank == nil:
			return -1
		case *x.ExpectedRank < *y.ExpectedRank:
			return -1
		case *x.ExpectedRank > *y.ExpectedRank:
			return 1
		}
		return strings.Compare(x.Supplier, y.Supplier)
	})
}

func score(s returns.Supplier, ranked bool, lines []compat.Evidence) SupplierScore {
	t := s.Tally
	out := SupplierScore{
		Supplier: s.Name, Sold: t.Sold, Faulty: t.Faulty, Observed: int(math.Round(s.Standing.Observed)), Expected: round(s.Standing.Expected, 2), Group: s.Standing.Group,
		Words: string(s.Standing.Word), NotTheirFault: t.Neutral + t.Core, SupplyErrors: t.SupplyErrors, Unknown: t.Unknown,
		Unmatched: t.Unmatched, Provisional: s.Provisional, Within: []Within{},
	}
	for _, sh := range s.Shares {
		w := Within{Days: sh.Day, Watched: int(sh.Watched)}
		switch {
		case !sh.Observable:
			w.Note = "not observable: the supplier's warranty is shorter"
		case !math.IsNaN(sh.MidP.Est):
			w.Est, w.Low, w.High = pct(sh.MidP.Est), pct(sh.MidP.Low), pct(sh.MidP.High)
			if sh.Thin {
				w.Note = "few pieces were followed that long"
			}
			if sh.Day == RateDays {
				out.RatePct = &Estimate{*w.Est, *w.Low, *w.High}
			}
		}
		out.Within = append(out.Within, w)
	}
	if r := s.Standing.Relative; r != nil && s.Standing.Compared {
		out.Relative = &Estimate{round(r.Est, 3), round(r.Low, 3), round(r.High, 3)}
		p := round(s.Standing.WorseThanRest, 4)
		out.WorseThanRest = &p
	}
	if ranked && s.Standing.ExpectedRank > 0 {
		rank := round(s.Standing.ExpectedRank, 2)
		out.ExpectedRank = &rank
	}
	says := fmt.Sprintf("%d of %d pieces came back faulty, %d of them within %d days; %.1f would be usual for the same part types at the same age",
		t.Faulty, t.Sold, out.Observed, RateDays, s.Standing.Expected)
	out.Findings = []compat.Finding{{Check: "faulty-returns", Outcome: wordOutcome(s.Standing.Word), Grade: compat.Measured, Says: says, Origin: lines}}
	return out
}

// wordOutcome shows a word as an outcome for the mark beside it; a supplier
// that cannot be told apart is not thereby a good one.
func wordOutcome(w returns.Word) compat.Outcome {
	switch w {
	case returns.Worse:
		return compat.No
	case returns.LeaningWorse:
		return compat.Caution
	case returns.Better, returns.LeaningBetter:
		return compat.Yes
	}
	return compat.CannotSay
}

// faultyLines collects the lines of the returns that count as faulty, by
// supplier.
func faultyLines(l returns.Ledger, b returns.Books, back []catalog.Return, partType string) map[string][]compat.Evidence {
	lines := map[string][]compat.Evidence{}
	for i, fate := range l.Returns {
		r := b.Returns[i]
		if fate.Status == returns.SetAside || r.Class != returns.QualityFailure && r.Class != returns.DeadOnArrival || len(fate.Sales) == 0 {
			continue
		}
		if partType != "" && catalog.Fold(b.Sales[fate.Sales[0].Sale].PartType) != catalog.Fold(partType) {
			continue
		}
		o := back[r.Ref].Origin
		lines[r.Supplier] = append(lines[r.Supplier], compat.From(o))
	}
	return lines
}

func pct(share float64) *float64 {
	v := round(share*100, 3)
	return &v
}

func round(v float64, digits int) float64 {
	scale := math.Pow10(digits)
	return math.Round(v*scale) / scale
}

func capitalised(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
