package importers

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fitfill/catalog"
)

// limits are the figures of the table import_limits by name; a figure may be a
// list.
type limits map[string][]float64

const limitsTable = "import_limits"

var limitNames = []string{
	"suggest_name_weight", "suggest_value_weight", "suggest_synonym", "suggest_floor", "suggest_margin", "suggest_near",
	"suggest_neutral", "suggest_bare_number", "suggest_code_weight", "point_zero_share", "number_length_share",
	"number_serial_share", "number_exponent_alike", "serial_first", "serial_last", "drift_known_before",
	"drift_known_after", "drift_price_factor", "drift_rows", "mixed_marks_share", "cut_length", "cut_repeats", "candidates_shown",
	"barcode_share", "lost_zeros_share", "shift_rows", "shift_strange", "shift_typed", "shift_usual", "shift_signs",
}

func readLimits(ref catalog.Reference) (limits, error) {
	rows, err := ref.Table(limitsTable)
	if err != nil {
		return nil, err
	}
	l := limits{}
	for _, row := range rows {
		for _, text := range strings.Split(row.Get("value"), "|") {
			v, err := strconv.ParseFloat(text, 64)
			if err != nil || math.IsNaN(v) || math.IsInf(v, 0) { // every share would pass such a limit
				return nil, fmt.Errorf("table %s, line %d: %q is not a number", limitsTable, row.Line, text)
			}
			l[row.Get("name")] = append(l[row.Get("name")], v)
		}
	}
	for _, name := range limitNames {
		if len(l[name]) == 0 {
			return nil, fmt.Errorf("table %s has no row %q", limitsTable, name)
		}
	}
	return l, nil
}

func (l limits) get(name string) float64 { return l[name][0] }

func (l limits) count(name string) int { return int(l[name][0]) }
