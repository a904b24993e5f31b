package app

import (
	"encoding/csv"
	"io"
	"strconv"

	"fitfill/importers"
)

// Write writes the findings as a sheet to send back: one row for each line of
// the supplier's own sheet, as it was sent, with what is wrong with it. It holds
// nothing of vehicles, customers or prices paid, and no other supplier's rows.
func (a AuditAnswer) Write(w io.Writer) (rows int, err error) {
	out := csv.NewWriter(w)
	if err := out.Write([]string{"supplier", "sheet", "line", "number", "engine", "what", "says", "row as sent"}); err != nil {
		return 0, err
	}
	for _, f := range a.Findings {
		for _, l := range f.Lines {
			rows++
			err := out.Write([]string{
				importers.Guard(f.Supplier), importers.Guard(l.Sheet), strconv.Itoa(l.Line), importers.Guard(f.Number),
				importers.Guard(f.Engine), f.Check, importers.Guard(f.Says), importers.Guard(l.Text),
			})
			if err != nil {
				return rows, err
			}
		}
	}
	out.Flush()
	return rows, out.Error()
}
