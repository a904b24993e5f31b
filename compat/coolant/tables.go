package coolant

import (
	"fmt"
	"strings"

	"fitfill/catalog"
)

// Tables holds the reference tables of coolants, checked and ready for use. It
// is safe for use by several goroutines.
type Tables struct {
	families   []family
	byID       map[string]int
	pairs      [][]*pairRow // by family index, symmetric
	classes    map[string]*class
	reasons    map[string]reason
	colours    []colour
	conditions map[string]condition
	tests      []test
	claims     []claim
	said       map[string]string // what a fluid is called at the counter -> what it means
	species    []species
	standards  []standard
	cautions   []caution
	readings   []readingLimit
	drains     []drainMethod
	flushLines []flushLine
	nitrite    map[int]nitriteNeed // by family
	filters    []filterRow
	limits     map[string]limit
	curves     map[string]curve
	refraction map[string]curve
	densities  map[string]densityFit
	fluids     map[string]fluid
	vapours    map[string]vapour
	steam      [10]float64 // n1 to n10 of IAPWS-IF97 region 4

	lim       limits
	freezeRow catalog.RefRow // cited for every freezing point
}

// NewTables reads the coolant tables out of the reference. It is an error,
// naming table, line and column, if a table is missing, a cell cannot be read
// or a row names something that no other table holds.
func NewTables(ref catalog.Tables) (*Tables, error) {
	t := &Tables{}
	for _, load := range []struct {
		table string
		take  func([]catalog.RefRow) error
	}{
		{"coolant_families", t.loadFamilies},
		{"coolant_classes", t.loadClasses},
		{"coolant_reasons", t.loadReasons},
		{"coolant_pairs", t.loadPairs},
		{"coolant_colours", t.loadColours},
		{"coolant_conditions", t.loadConditions},
		{"coolant_tests", t.loadTests},
		{"coolant_readings", t.loadReadings},
		{"coolant_claims", t.loadClaims},
		{"coolant_species", t.loadSpecies},
		{"coolant_said", t.loadSaid},
		{"coolant_standards", t.loadStandards},
		{"coolant_cautions", t.loadCautions},
		{"coolant_limits", t.loadLimits},
		{"coolant_nitrite", t.loadNitrite},
		{"coolant_filters", t.loadFilters},
		{"coolant_drains", t.loadDrains},
		{"coolant_flush", t.loadFlush},
		{"coolant_properties", t.loadProperties},
		{"coolant_refraction", t.loadRefraction},
		{"coolant_freezing", t.loadFreezing},
		{"coolant_vapour", t.loadVapours},
		{"coolant_density", t.loadDensities},
		{"coolant_if97", t.loadSteam},
	} {
		rows, err := ref.Table(load.table)
		if err != nil {
			return nil, err
		}
		if err := load.take(rows); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// ids reads a cell that lists chemistry ids, parted by spaces.
func (t *Tables) ids(r catalog.RefRow, column string) ([]int, error) {
	var list []int
	for _, id := range strings.Fields(r.Get(column)) {
		i, ok := t.byID[id]
		if !ok {
			return nil, unreadable(r, column, "is no chemistry of coolant_families")
		}
		list = append(list, i)
	}
	return list, nil
}

// yesNo reads a cell that must hold yes or no.
func yesNo(r catalog.RefRow, column string) (bool, error) {
	switch r.Get(column) {
	case "yes":
		return true, nil
	case "no":
		return false, nil
	}
	return false, unreadable(r, column, "must be yes or no")
}

func unreadable(r catalog.RefRow, column, why string) error {
	return fmt.Errorf("table %s, line %d: column %s holds %q, which %s", r.Table, r.Line, column, r.Get(column), why)
}

// words reads a cell of phrases parted by bars, folded for comparison.
func words(r catalog.RefRow, column string) []string {
	var list []string
	for _, w := range strings.Split(r.Get(column), "|") {
		if f := catalog.Fold(w); f != "" {
			list = append(list, f)
		}
	}
	return list
}
