package catalog_test

import (
	"strings"
	"testing"

	"fitfill/catalog"
)

// Against a limit that is no number, or none at all, every comparison would pass.
func TestALimitIsANumber(t *testing.T) {
	row := func(cell string) catalog.RefRow {
		return catalog.RefRow{Table: "fit_limits", Line: 7, Cells: map[string]string{"value": cell}}
	}
	for cell, want := range map[string]float64{"1.5": 1.5, " -37 ": -37, "0": 0, "1e-3": 0.001} {
		if got, err := row(cell).Float("value"); err != nil || got != want {
			t.Errorf("%q: %v, %v", cell, got, err)
		}
	}
	for _, cell := range []string{"", "NaN", "nan", "Inf", "-inf", "Infinity", "1e999", "1,5", "12 mm"} {
		if got, err := row(cell).Float("value"); err == nil || !strings.Contains(err.Error(), "table fit_limits, line 7") {
			t.Errorf("%q: %v, %v", cell, got, err)
		}
	}
}
