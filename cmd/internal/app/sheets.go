package app

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// SheetLine is one imported sheet.
type SheetLine struct {
	ID          int64             `json:"id"`
	Sheet       string            `json:"sheet"`
	Supplier    string            `json:"supplier"`
	Kind        catalog.SheetKind `json:"kind"`
	ImportedAt  string            `json:"imported_at"`
	SHA256      string            `json:"sha256"`
	RowsRead    int               `json:"rows_read"`
	RowsTaken   int               `json:"rows_taken"`
	RowsHeld    int               `json:"rows_held"`
	RowsSkipped int               `json:"rows_skipped"`
	State       string            `json:"state"` // in use, or waiting for a decision
	Open        []OpenQuestion    `json:"open,omitempty"`
	Decisions   []string          `json:"decisions,omitempty"`

	// Skipped are the lines that were passed over, as Sheet gives them.
	Skipped []SetAside `json:"skipped,omitempty"`
}

// The states of a sheet in a list.
const (
	stateInUse   = "in use"
	stateWaiting = "waiting"
)

// NothingReadIn reports whether no sheet is in use yet.
func (s *Shop) NothingReadIn(ctx context.Context) (empty bool, err error) {
	err = s.store.View(ctx, func(v *sqlite.View) error {
		sheets, err := v.Sheets(ctx)
		empty = len(sheets) == 0
		return err
	})
	return empty, err
}

// Sheets lists the sheets in use, oldest first, then those that wait for a
// decision.
func (s *Shop) Sheets(ctx context.Context) ([]SheetLine, error) {
	list := []SheetLine{}
	err := s.store.View(ctx, func(v *sqlite.View) error {
		sheets, err := v.Sheets(ctx)
		for _, r := range sheets {
			list = append(list, SheetLine{
				ID: r.ID, Sheet: r.Name, Supplier: r.Supplier, Kind: r.Kind, ImportedAt: r.ImportedAt, SHA256: r.SHA256,
				RowsRead: r.Counts.Read, RowsTaken: r.Counts.Taken, RowsHeld: r.Counts.Held, RowsSkipped: r.Counts.Skipped,
				State: stateInUse, Decisions: r.Decisions,
			})
		}
		if err != nil {
			return err
		}
		waiting, err := v.StagedSheets(ctx)
		for _, w := range waiting {
			var a ImportAnswer
			if err := json.Unmarshal([]byte(w.Answer), &a); err != nil {
				return fmt.Errorf("sheet %d was staged by another version of fitfill: drop it and import it again (%w)", w.ID, err)
			}
			list = append(list, SheetLine{
				ID: w.ID, Sheet: w.Name, Supplier: a.Supplier, Kind: a.Kind, ImportedAt: w.StagedAt,
				RowsRead: a.RowsRead, RowsTaken: a.RowsTaken, RowsHeld: a.RowsHeld, RowsSkipped: a.RowsSkipped,
				State: stateWaiting, Open: a.Open,
			})
		}
		return err
	})
	return list, err
}

// Sheet returns one sheet of the list.
func (s *Shop) Sheet(ctx context.Context, id int64) (SheetLine, error) {
	list, err := s.Sheets(ctx)
	if err != nil {
		return SheetLine{}, err
	}
	for _, l := range list {
		if l.ID != id {
			continue
		}
		if l.State == stateInUse {
			l.Skipped, err = s.skippedLines(ctx, id)
		}
		return l, err
	}
	return SheetLine{}, staleNumber(sqlite.ErrNotFound, id)
}

// skippedLines lists the lines of a sheet in use that are no rows: titles,
// sections, repeated headings, totals. Blank ones are left out.
func (s *Shop) skippedLines(ctx context.Context, id int64) ([]SetAside, error) {
	of, err := s.record(ctx, id)
	if err != nil {
		return nil, err
	}
	sheet, err := s.reopen(ctx, of)
	if err != nil {
		return nil, err
	}
	defer sheet.Close()
	var list []SetAside
	for _, r := range sheet.Records() {
		switch r.Class {
		case importers.ClassData, importers.ClassHeading, importers.ClassBlank:
		default:
			if text := sheet.TextOn(int(r.Line)); strings.TrimSpace(text) != "" {
				list = append(list, SetAside{int(r.Line), r.Class.String(), text})
			}
		}
	}
	return list, nil
}

// EnginesTemplate writes an engines sheet to fill in: a row for every engine
// that the lists name (if fromLists) and that no engines sheet describes yet,
// those with the most parts first, with a column for each fact. A name that a
// spreadsheet would take for a formula is guarded. It returns the number of rows.
func (s *Shop) EnginesTemplate(ctx context.Context, w io.Writer, fromLists bool) (int, error) {
	header := []string{"family", "circuit"}
	for _, f := range slices.Concat(catalog.EngineFields(), catalog.CircuitFields()) {
		header = append(header, f.Name)
	}
	at := func(name string) int { return slices.Index(header, name) }
	out := csv.NewWriter(w)
	if err := out.Write(header); err != nil {
		return 0, err
	}
	rows := 0
	err := s.store.View(ctx, func(v *sqlite.View) error {
		if !fromLists {
			return nil
		}
		families, err := v.Families(ctx)
		if err != nil {
			return err
		}
		described := map[string]bool{}
		for _, f := range families {
			for _, n := range f.Names() {
				described[catalog.Key(n)] = true
			}
		}
		texts, err := v.EngineTexts(ctx)
		if err != nil {
			return err
		}
		for _, t := range texts {
			if described[t.Key] || s.describesAny(t, families) {
				continue
			}
			row := make([]string, len(header))
			row[at("family")], row[at("circuit")] = importers.Guard(t.Text), catalog.DefaultCircuit
			row[at("make")], row[at("model")] = importers.Guard(strings.Join(t.Makes, "; ")), importers.Guard(strings.Join(t.Models, "; "))
			if len(t.Years) == 1 {
				row[at("years")] = t.Years[0]
			}
			row[at("notes")] = fmt.Sprintf("%d parts listed", t.Parts)
			rows++
			if err := out.Write(row); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return rows, err
	}
	out.Flush()
	return rows, out.Error()
}
