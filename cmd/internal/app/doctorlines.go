package app

import (
	"context"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// lineCheck compares a kept sheet, row by row, with what the catalogue states
// of it: every row taken is stated on its line or repeats what other lines
// state, and no line is stated that is held or is no row of data.
type lineCheck struct {
	view     *sqlite.View
	sheet    sqlite.SheetRecord
	supplier int64
	lines    sqlite.LinesOf
	silent   int   // rows that repeat what other lines state
	lost     []int // lines of rows that nothing states
}

func numberOf(name string, suppliers []sqlite.Supplier) int64 {
	i := slices.IndexFunc(suppliers, func(s sqlite.Supplier) bool { return s.Name == name })
	if i < 0 {
		return 0
	}
	return suppliers[i].ID
}

// row looks for a row of the kept sheet in the catalogue.
func (c *lineCheck) row(ctx context.Context, row catalog.SheetRow) error {
	if c.lines.Stated.Has(row.Line) || c.lines.Held.Has(row.Line) {
		return ctx.Err()
	}
	states, err := c.view.States(ctx, c.sheet.ID, c.supplier, row)
	if states {
		c.silent++
	} else {
		c.lost = append(c.lost, row.Line)
	}
	return err
}

// close sums up and says what is wrong.
func (c *lineCheck) close(sheet *importers.Sheet, report importers.Report, h *Health) {
	if len(c.lost) > 0 {
		h.say("sheet %d (%s): %s taken, and nothing in the catalogue says so, the first on line %d: import the sheet again",
			c.sheet.ID, c.sheet.Name, Plural(len(c.lost), "row was", "rows were"), c.lost[0])
	}
	data := 0
	var strange []int
	for span := range sheet.Spans(nil) {
		row := span.Class == "data"
		if !c.lines.Stated.Has(span.FirstLine) {
			continue
		}
		if row {
			data++
		}
		if !row || c.lines.Held.Has(span.FirstLine) {
			strange = append(strange, span.FirstLine)
		}
	}
	switch {
	case len(strange) > 0:
		h.say("sheet %d (%s): the catalogue states %s of it that it did not take, the first is line %d: import the sheet again",
			c.sheet.ID, c.sheet.Name, Plural(len(strange), "line", "lines"), strange[0])
	case len(c.lost) == 0 && report.RowsTaken == c.sheet.Counts.Taken && data+c.silent != c.sheet.Counts.Taken:
		h.say("sheet %d (%s): %d rows were taken, %d lines are stated and %d rows repeat others: import the sheet again",
			c.sheet.ID, c.sheet.Name, c.sheet.Counts.Taken, data, c.silent)
	}
}
