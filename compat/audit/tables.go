package audit

import (
	"fmt"

	"fitfill/catalog"
)

// Tables holds the limits of the checks, read from the tables audit_limits and
// fit_limits: what two facts may differ by is one figure for both.
type Tables struct {
	others, columnLeast  int
	columnShare          float64 // per cent
	columnSlack          float64 // K
	ratingApart          float64 // K
	flangeApart          float64 // mm
	pressureApart        float64 // kPa
	yearsApart           int32   // half years
	fullOpenLow, fullTop float64 // K above the rating
}

// NewTables reads the tables of a reference; errors name table and row.
func NewTables(ref catalog.Tables) (*Tables, error) {
	var t Tables
	var others, least, years float64
	for table, want := range map[string]map[string]*float64{
		"audit_limits": {"others": &others, "column_least": &least, "column_share": &t.columnShare, "column_slack": &t.columnSlack},
		"fit_limits": {
			"rating_conflict": &t.ratingApart, "poison_flange": &t.flangeApart, "cap_step": &t.pressureApart,
			"year_edge": &years, "full_open_low": &t.fullOpenLow, "full_open_high": &t.fullTop,
		},
	} {
		rows, err := ref.Table(table)
		if err != nil {
			return nil, err
		}
		for _, r := range rows {
			if into := want[r.Get("key")]; into != nil {
				if *into, err = r.Float("value"); err != nil {
					return nil, err
				}
				delete(want, r.Get("key"))
			}
		}
		for key := range want {
			return nil, fmt.Errorf("table %s: the row %q is missing; put it back or import it", table, key)
		}
	}
	t.others, t.columnLeast, t.yearsApart = int(others), int(least), int32(2*years)
	return &t, nil
}
