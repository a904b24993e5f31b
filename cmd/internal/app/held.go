package app

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// HeldLine is one held row with its sheet.
type HeldLine struct {
	ID       int64  `json:"sheet_id"`
	Sheet    string `json:"sheet"`
	Supplier string `json:"supplier"`
	Waived   string `json:"waived,omitempty"` // why it stays out
	catalog.HeldRow
}

// Held lists the held rows of the sheets in use, by sheet and line; of one sheet
// only, where sheetID is not 0.
func (s *Shop) Held(ctx context.Context, sheetID int64) ([]HeldLine, error) {
	return s.heldLines(ctx, sheetID, (*sqlite.View).HeldRows)
}

// HeldAndWaived is Held with the rows that were waived.
func (s *Shop) HeldAndWaived(ctx context.Context, sheetID int64) ([]HeldLine, error) {
	return s.heldLines(ctx, sheetID, (*sqlite.View).HeldAndWaived)
}

func (s *Shop) heldLines(ctx context.Context, sheetID int64, read func(*sqlite.View, context.Context) ([]sqlite.Held, error)) ([]HeldLine, error) {
	list := []HeldLine{}
	err := s.store.View(ctx, func(v *sqlite.View) (err error) {
		if sheetID, err = v.Amended(ctx, sheetID); err != nil {
			return err
		}
		rows, err := read(v, ctx)
		for _, h := range rows {
			if sheetID == 0 || h.SheetID == sheetID {
				list = append(list, HeldLine{ID: h.SheetID, Sheet: h.Origin.Sheet, Supplier: h.Origin.Supplier, Waived: h.Waived, HeldRow: h.HeldRow})
			}
		}
		return err
	})
	if err == nil && sheetID != 0 && len(list) == 0 {
		_, err = s.Sheet(ctx, sheetID)
	}
	return list, err
}

// WriteHeld writes the held rows of a sheet in the supplier's own columns, with
// a reference and the problem in front: corrected, the file goes back through
// Import. Without a number there must be one sheet with held rows only. It
// returns how many rows it wrote.
// Rows of a sheet that may name vehicles are written only where that is allowed.
func (s *Shop) WriteHeld(ctx context.Context, w io.Writer, sheetID int64, vehicles bool) (int, error) {
	list, err := s.Held(ctx, sheetID)
	if err != nil || len(list) == 0 {
		return 0, err
	}
	var each []string
	for _, h := range list {
		if each = append(each, fmt.Sprintf("fitfill held --sheet %d --out FILE.csv (%s)", h.ID, h.Sheet)); len(each) > 1 && each[len(each)-1] == each[len(each)-2] {
			each = each[:len(each)-1]
		}
	}
	if len(each) > 1 {
		return 0, &UsageError{
			Problem: "rows of several sheets are held back, and each has its own columns", Hint: "write one file for each: " + strings.Join(each, "; "),
		}
	}
	of, err := s.record(ctx, list[0].ID)
	if err != nil {
		return 0, err
	}
	if namesVehicles(of.Kind) {
		if err := s.MayNameVehicles(vehicles, "rows of "+of.Name); err != nil {
			return 0, err
		}
	}
	return len(list), s.writeHeld(ctx, w, list, nil)
}

// writeHeld writes held rows of one sheet; edit may change their cells.
func (s *Shop) writeHeld(ctx context.Context, w io.Writer, list []HeldLine, edit func(heading []string, cells []string) ([]string, error)) error {
	of, err := s.record(ctx, list[0].ID)
	if err != nil {
		return err
	}
	sheet, err := s.reopen(ctx, of)
	if err != nil {
		return err
	}
	defer sheet.Close()
	rows := make([]catalog.HeldRow, len(list))
	for i, h := range list {
		rows[i] = h.HeldRow
	}
	return importers.WriteHeld(w, sheet.Sheet, sheet.mapping, rows, edit)
}

// record returns a sheet in use as it is kept.
func (s *Shop) record(ctx context.Context, id int64) (r sqlite.SheetRecord, err error) {
	err = s.store.View(ctx, func(v *sqlite.View) error {
		sheets, err := v.Sheets(ctx)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(sheets, func(k sqlite.SheetRecord) bool { return k.ID == id })
		if i < 0 {
			return staleNumber(sqlite.ErrNotFound, id)
		}
		r = sheets[i]
		return nil
	})
	return r, err
}

// FixHeld puts values into columns of one held row and imports it, as if it had
// come back in a file of corrections. The columns go by the sheet's own headings.
func (s *Shop) FixHeld(ctx context.Context, sheetID int64, line int, values map[string]string, accept []string) (ImportAnswer, error) {
	list, err := s.HeldAndWaived(ctx, sheetID)
	if err != nil {
		return ImportAnswer{}, err
	}
	i := slices.IndexFunc(list, func(h HeldLine) bool { return h.Line == line })
	if i < 0 {
		return ImportAnswer{}, notHeld(sheetID, line)
	}
	var file bytes.Buffer
	err = s.writeHeld(ctx, &file, list[i:i+1], func(heading, cells []string) ([]string, error) {
		if len(cells) > len(heading) {
			return nil, &UsageError{
				Problem: fmt.Sprintf("line %d has %d cells under %d headings: its values do not stand where they belong", line, len(cells), len(heading)),
				Hint:    fmt.Sprintf("move them by hand: fitfill held --sheet %d --out FILE.csv", sheetID),
			}
		}
		cells = append(cells, make([]string, len(heading)-len(cells))...)
		for name, value := range values {
			at := slices.IndexFunc(heading, func(h string) bool { return catalog.Fold(h) == catalog.Fold(name) })
			if at < 0 {
				return nil, &UsageError{Problem: fmt.Sprintf("the sheet has no column %q", name), Hint: "its columns are " + strings.Join(heading, ", ")}
			}
			cells[at] = value
		}
		return cells, nil
	})
	if err != nil {
		return ImportAnswer{}, err
	}
	return s.Import(ctx, ImportQuestion{Name: "held fix", Raw: file.Bytes(), Supplier: list[i].Supplier, Accept: accept})
}

func notHeld(sheetID int64, line int) error {
	return &UsageError{Problem: fmt.Sprintf("no row is held back on line %d of sheet %d", line, sheetID), Hint: "sheet and line stand in: fitfill held"}
}

// WaiveHeld puts on record that held rows of a sheet stay out, and why: the row
// of one line, or every row with the problem of that code. It returns how many.
func (s *Shop) WaiveHeld(ctx context.Context, sheetID int64, line int, code, reason string) (int, error) {
	if strings.TrimSpace(reason) == "" {
		return 0, &UsageError{Problem: "a held row is not waived without a reason", Hint: `add --reason "why it may stay out"`}
	}
	list, err := s.Held(ctx, sheetID)
	if err != nil {
		return 0, err
	}
	var lines []int
	for _, h := range list {
		if code != "" && h.Code == code || code == "" && h.Line == line {
			lines, sheetID = append(lines, h.Line), h.ID
		}
	}
	switch {
	case len(lines) == 0 && code != "":
		return 0, &UsageError{Problem: fmt.Sprintf("no row of sheet %d is held back as %s", sheetID, code), Hint: "the problems stand in: fitfill held"}
	case len(lines) == 0:
		return 0, notHeld(sheetID, line)
	}
	err = s.store.Waive(ctx, sheetID, lines, strings.TrimSpace(reason), s.timestamp())
	return len(lines), err
}
