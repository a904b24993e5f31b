package catalog

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Source is a published or trade source that a reference figure rests on.
type Source struct {
	Key     string
	Title   string
	Edition string
	Mark    Mark
}

// Mark says how a figure came into a reference table.
type Mark string

// The marks of data/sources.csv.
const (
	Read           Mark = "read"            // read in the source named
	FromMemory     Mark = "from memory"     // the source exists, the figure was not read again
	CommonPractice Mark = "common practice" // a fact of the trade without a published source
	OwnMeasure     Mark = "own"             // a garage's own sheet overrides the table
)

// RefRow is one row of a reference table with its source. Its cells stand in Cells
// or, as NewRefRow puts them, in the order of their table's columns; Cell finds them
// either way.
type RefRow struct {
	Table  string
	Line   int
	Cells  map[string]string
	Source Source
	Own    Origin // known where a garage's own sheet overrides the shipped row

	columns, values []string
}

// NewRefRow returns a row whose values stand in the order of the table's columns. All
// rows of a table share the columns: a map of its own for each row took most of the
// time that reading a table took.
func NewRefRow(table string, line int, source Source, columns, values []string) RefRow {
	return RefRow{Table: table, Line: line, Source: source, columns: columns, values: values}
}

// Cell returns the cell of a column as it stands in the table, empty where there is
// none.
func (r RefRow) Cell(column string) string {
	if r.Cells != nil {
		return r.Cells[column]
	}
	if i := slices.Index(r.columns, column); i >= 0 {
		return r.values[i]
	}
	return ""
}

// Map returns the cells by their columns.
func (r RefRow) Map() map[string]string {
	if r.Cells != nil {
		return r.Cells
	}
	cells := make(map[string]string, len(r.columns))
	for i, c := range r.columns {
		cells[c] = r.values[i]
	}
	return cells
}

// Get returns the trimmed cell of a column, empty where there is none.
func (r RefRow) Get(column string) string { return strings.TrimSpace(r.Cell(column)) }

// Float returns the number in a column. A missing or unreadable number is an
// error that names table, line and column.
func (r RefRow) Float(column string) (float64, error) {
	v, err := strconv.ParseFloat(r.Get(column), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) { // against a limit that is no number everything would pass
		return 0, fmt.Errorf("table %s, line %d: column %s holds %q, which is not a number", r.Table, r.Line, column, r.Cell(column))
	}
	return v, nil
}

// Tables are reference tables that can be asked for by name.
type Tables interface {
	// Table returns the rows of a table; an unknown, empty or damaged one is an
	// error. The rows are not to be changed.
	Table(name string) ([]RefRow, error)
}

// Reference is every reference table by name (the file name without .csv).
type Reference map[string][]RefRow

// Table returns the rows of a table; an unknown or empty table is an error.
func (r Reference) Table(name string) ([]RefRow, error) {
	if len(r[name]) == 0 {
		return nil, fmt.Errorf("reference table %q is missing or empty", name)
	}
	return r[name], nil
}
