package app

import (
	"context"

	"fitfill/catalog/sqlite"
	"fitfill/compat"
)

// SuppliersQuestion asks whose parts come back.
type SuppliersQuestion struct {
	Type  string
	AsOf  string // YYYY-MM-DD; empty: the last day that purchases and returns both cover
	Since string // also what changed from that day on
	From  string // count only purchases from that day on
	Days  []int  // horizons; empty: those of the settings

	Explain string    // a supplier: also the rows behind its figures
	Curves  bool      // also the share returned by day
	Compare [2]string // two suppliers: also their parts in money

	// WithoutRows leaves the rows' own text out of the evidence: a screen of text
	// names the lines alone.
	WithoutRows bool
}

// SuppliersAnswer is the comparison of all suppliers.
type SuppliersAnswer struct {
	AsOf      string          `json:"as_of"`
	Type      string          `json:"type"`
	Suppliers []SupplierScore `json:"suppliers"`
	Ranked    bool            `json:"ranked"`
	Notes     []string        `json:"notes"`
	Unmapped  []string        `json:"reasons_not_known"`

	Gaps        []string `json:"gaps"`
	SortReasons string   `json:"how_to_sort_reasons,omitempty"`
	Worsening   []string `json:"getting_worse"` // in words, most certain first

	Since   string   `json:"since,omitempty"`
	Then    string   `json:"then_as_of,omitempty"`
	Changed []string `json:"changed,omitempty"`

	Comeback *Comeback     `json:"comeback,omitempty"` // what one comeback of the type costs
	NoCost   string        `json:"no_cost,omitempty"`  // why no cost is told
	Explain  *SupplierRows `json:"explain,omitempty"`
	Compare  *Rivals       `json:"compare,omitempty"`
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
	CostPerJob    *JobCost         `json:"cost_per_job"` // of the type asked for
	TooNew        bool             `json:"too_new"`      // too few pieces followed long enough to call it better
	Needs         *Needs           `json:"needs"`        // what it takes to tell it apart
	Spread        *OtherSpread     `json:"depends_on_spread"`
	Trend         *SupplierTrend   `json:"trend"`
	Then          *ThenScore       `json:"then,omitempty"` // what was known the day before Since
	NotTheirFault int              `json:"not_their_fault"`
	NotConfirmed  int              `json:"not_confirmed"`
	With          *WithScore       `json:"with_not_confirmed,omitempty"`
	Upper         *WithScore       `json:"upper_bound,omitempty"` // if all that is unknown or without a purchase were faulty
	SupplyErrors  int              `json:"supply_errors"`
	SupplyPct     *Estimate        `json:"supply_errors_pct"`
	Unknown       int              `json:"reason_unknown"`
	Unmatched     int              `json:"unmatched"`
	Provisional   bool             `json:"provisional"`
	WarrantyDays  *int             `json:"warranty_days,omitempty"` // longest of its part types; nothing later is counted
	AfterWarranty int              `json:"faulty_after_warranty,omitempty"`
	Curve         []CurvePoint     `json:"curve,omitempty"`
	CurveEnd      int              `json:"curve_ends_on_day,omitempty"` // nobody is watched longer
	Findings      []compat.Finding `json:"findings"`
}

// Needs is how many pieces it takes to call a supplier that fails so many times
// as often.
type Needs struct {
	RateRatio float64 `json:"rate_ratio"`
	Usual     float64 `json:"expected_failures"`
	Pieces    int     `json:"pieces"`
}

// OtherSpread is the word under a narrower and a wider assumption on how far
// suppliers differ, where either changes it.
type OtherSpread struct {
	Narrow string `json:"narrow"`
	Wide   string `json:"wide"`
}

// WithScore is a supplier's score if more were faulty than is counted.
type WithScore struct {
	Observed      int       `json:"observed_failures"`
	Expected      float64   `json:"expected_failures"`
	Relative      *Estimate `json:"relative"`
	WorseThanRest float64   `json:"p_worse_than_rest"`
	Words         string    `json:"words"`
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
	a := SuppliersAnswer{Suppliers: []SupplierScore{}, Notes: []string{}, Worsening: []string{}, Gaps: []string{}}
	err := s.store.View(ctx, func(v *sqlite.View) error {
		st, err := s.study(ctx, v, q)
		if err != nil {
			return err
		}
		a.Type, a.Unmapped = st.q.Type, st.unmappedUpTo(st.books.AsOf)
		money, err := s.pricing(st)
		if err != nil {
			return err
		}
		a.fill(st)
		if stray := st.strayWarranties(); stray != "" {
			a.Notes = append(a.Notes, stray)
		}
		if n := s.ownNote("returns_"); n != nil {
			a.Notes = append(a.Notes, n.Says())
		}
		a.fillCosts(st, money)
		if err := s.fillDoubts(&a, st); err != nil {
			return err
		}
		table, err := s.thresholds()
		if err != nil {
			return err
		}
		if err := a.fillTrends(st, table); err != nil {
			return err
		}
		if q.Curves {
			a.fillCurves(st)
		}
		if q.Compare != [2]string{} {
			if a.Compare, err = st.rivals(q.Compare, money); err != nil {
				return err
			}
		}
		if q.Explain != "" {
			if a.Explain, err = st.explain(q.Explain, money); err != nil {
				return err
			}
		}
		if q.WithoutRows {
			return nil
		}
		for _, sup := range a.Suppliers {
			if err := fillTexts(ctx, v, sup.Findings); err != nil {
				return err
			}
		}
		return nil
	})
	return a, err
}
