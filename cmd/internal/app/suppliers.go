package app

import (
	"context"
	"fmt"

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
	for _, d := range q.Days {
		if d < 1 {
			return a, &UsageError{Problem: fmt.Sprintf("--days %d is no stretch of days", d), Hint: "it is at least 1, such as --days 30"}
		}
	}
	settings, reasons, err := s.returnTables(q)
	if err != nil {
		return a, err
	}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		if q.Type, err = s.partType(ctx, v, q.Type); err != nil {
			return err
		}
		a.Type = q.Type
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
		if len(books.Sales) == 0 && len(bought) > 0 {
			return &UsageError{Problem: "nothing was bought from " + q.Since + " on", Hint: "the last purchase on file is of " + bought[len(bought)-1].Date.String()}
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
