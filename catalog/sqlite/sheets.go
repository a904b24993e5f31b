package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
)

// SheetRecord is an imported sheet.
type SheetRecord struct {
	ID         int64
	Supplier   string
	Kind       catalog.SheetKind
	Name       string
	SHA256     string // of the file as it came
	KeptSHA256 string // of what is kept of it
	ImportedAt string
	Mapping    string
	Active     bool
	Counts     Counts
	Decisions  []string // what was decided about it, oldest first
}

// Sheets returns the imported sheets that are in use, oldest first.
func (v *View) Sheets(ctx context.Context) ([]SheetRecord, error) {
	return v.sheetRecords(ctx, "s.active = 1")
}

// OwnSheets returns every kept sheet of the garage's own that may name vehicles,
// in use or not, oldest first.
func (v *View) OwnSheets(ctx context.Context) ([]SheetRecord, error) {
	return v.sheetRecords(ctx, "s.kind IN ('vehicles', 'fills', 'fitted', 'purchases', 'returns')")
}

func (v *View) sheetRecords(ctx context.Context, where string) ([]SheetRecord, error) {
	var list []SheetRecord
	err := v.each(ctx, `SELECT s.id, coalesce(supplier.name, ''), s.kind, s.name, s.sha256, CASE s.kept_sha256 WHEN '' THEN s.sha256 ELSE s.kept_sha256 END,
		s.imported_at, s.mapping, s.active, s.rows_read, s.rows_taken, s.rows_held, s.rows_skipped
		FROM sheet s LEFT JOIN supplier ON supplier.id = s.supplier_id WHERE `+where+` ORDER BY s.id`, nil, func(r record) error {
		var s SheetRecord
		if err := r.Scan(&s.ID, &s.Supplier, &s.Kind, &s.Name, &s.SHA256, &s.KeptSHA256, &s.ImportedAt, &s.Mapping, &s.Active,
			&s.Counts.Read, &s.Counts.Taken, &s.Counts.Held, &s.Counts.Skipped); err != nil {
			return err
		}
		list = append(list, s)
		return nil
	})
	if err != nil {
		return nil, err
	}
	err = v.each(ctx, "SELECT sheet_id, what, note, at FROM decision ORDER BY id", nil, func(r record) error {
		var id int64
		var what, note, at string
		if err := r.Scan(&id, &what, &note, &at); err != nil {
			return err
		}
		if i := slices.IndexFunc(list, func(s SheetRecord) bool { return s.ID == id }); i >= 0 {
			list[i].Decisions = append(list[i].Decisions, strings.TrimSuffix(at+" "+what+": "+note, ": "))
		}
		return nil
	})
	return list, err
}

// Held is a held row with the sheet that it stands in.
type Held struct {
	catalog.HeldRow
	Waived  string // why it stays out; empty where it still waits
	SheetID int64
	Origin  catalog.Origin
}

// HeldRows returns the held rows of the active sheets that nobody has waived,
// by sheet and line.
func (v *View) HeldRows(ctx context.Context) ([]Held, error) { return v.held(ctx, "state = 'open'") }

// HeldAndWaived is HeldRows with those that were waived.
func (v *View) HeldAndWaived(ctx context.Context) ([]Held, error) {
	return v.held(ctx, "state IN ('open', 'waived')")
}

// Waive puts on record that held rows of a sheet will stay out, and why. They
// stay counted as held. ErrNotFound, and nothing is done, if one of them does not
// wait.
func (s *Store) Waive(ctx context.Context, sheetID int64, lines []int, reason, at string) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	for _, line := range lines {
		done, err := tx.ExecContext(ctx, "UPDATE held SET state = 'waived', said = ?, said_at = ? WHERE sheet_id = ? AND line = ? AND state = 'open'", reason, at, sheetID, line)
		if err != nil {
			return busy(err)
		}
		if n, err := done.RowsAffected(); err != nil || n == 0 {
			return notFound(sql.ErrNoRows, "held row on line %d of sheet %d", line, sheetID)
		}
		if err := decide(ctx, tx, sheetID, "waived", fmt.Sprintf("line %d: %s", line, reason), at); err != nil {
			return err
		}
	}
	return busy(tx.Commit())
}

func (v *View) held(ctx context.Context, where string, args ...any) ([]Held, error) {
	var list []Held
	err := v.each(ctx, "SELECT sheet_id, line, field, text, reason, code, raw, key, CASE state WHEN 'waived' THEN coalesce(said, '') ELSE '' END FROM held WHERE "+where+" ORDER BY sheet_id, line", args,
		func(r record) error {
			var h Held
			if err := r.Scan(&h.SheetID, &h.Line, &h.Column, &h.Text, &h.Reason, &h.Code, &h.Raw, &h.Number, &h.Waived); err != nil {
				return err
			}
			var active bool
			if h.Origin, active = v.origin(h.SheetID, h.Line); active {
				h.Origin.Text = h.Raw
				list = append(list, h)
			}
			return nil
		})
	return list, err
}
