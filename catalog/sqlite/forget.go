package sqlite

import (
	"bytes"
	"compress/flate"
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"strings"
)

// Forget is what a vehicle loses: its marks and VINs, wherever they are kept.
type Forget struct {
	As     string                                       // the name that its history is kept under
	Keys   []string                                     // its marks and VINs, folded
	Is     func(cell string) bool                       // the cell is one of its marks or VINs
	Clean  func(text string) string                     // a text without them
	Sheets []Redacted                                   // kept sheets that name it
	Cells  func(sheetID int64, cells []string) []string // the cells of a corrected row without them
}

// Redacted is a kept sheet without the marks of a vehicle.
type Redacted struct {
	SheetID int64
	Text    []byte // in UTF-8
	SHA256  string
	Rows    int
	Held    map[int]HeldText // of its held rows that changed, by line
}

// HeldText is a held row as it is kept.
type HeldText struct{ Text, Raw string }

// vehicleColumns name a vehicle, and textColumns may: number of a word each.
var (
	vehicleColumns = [][2]string{{"vehicle", "mark"}, {"vehicle", "vin"}, {"fill", "vehicle"}, {"fitted", "vehicle"}, {"purchase", "vehicle"}}
	textColumns    = [][2]string{
		{"fill", "note"}, {"fill", "colour"}, {"returned", "note"}, {"returned", "reason"}, {"returned", "document"}, {"purchase", "document"},
		{"fitted", "measured"}, {"vehicle", "first_fill"},
	}
	plainColumns = [][2]string{ // texts of their own
		{"decision", "note"}, {"sheet", "name"}, {"held", "text"}, {"held", "reason"}, {"held", "said"}, {"said", "question"}, {"said", "first"},
		{"logged", "note"}, {"logged", "reason"}, {"logged", "measured"}, {"logged", "volume_text"}, {"logged", "first_fill"},
	}
)

// Forget takes the marks and VINs of a vehicle out of the catalogue in one
// transaction, and then writes the database file anew, so that nothing of them
// is left on its free pages or in its log. The caller holds the import lock. done
// is false where a reader kept the file from being written anew to the end.
func (s *Store) Forget(ctx context.Context, lock *ImportLock, f Forget, at string) (done bool, err error) {
	if lock == nil {
		return false, fmt.Errorf("forgetting a vehicle needs the import lock")
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return false, busy(err)
	}
	defer tx.Rollback()
	for _, step := range []func(context.Context, *sql.Tx) error{
		f.marks,
		f.words,
		func(ctx context.Context, tx *sql.Tx) error { return f.sheets(ctx, tx, at) },
		f.plain,
		f.corrections,
		f.own,
	} {
		if err := step(ctx, tx); err != nil {
			return false, fmt.Errorf("forget a vehicle: %w", err)
		}
	}
	if err := tx.Commit(); err != nil {
		return false, busy(err)
	}
	// It is forgotten: whoever stops the program now must not be told that all is
	// as it was.
	after := context.WithoutCancel(ctx)
	left := func(err error) error {
		return fmt.Errorf("the vehicle is forgotten, but its name may still stand on free pages of the catalogue's file, which could not be written anew: %w", busy(err))
	}
	if _, err := s.write.ExecContext(after, "VACUUM"); err != nil {
		return false, left(err)
	}
	var blocked, pages, moved int
	if err := s.write.QueryRowContext(after, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&blocked, &pages, &moved); err != nil {
		return false, left(err)
	}
	return blocked == 0, nil
}

// words points events to other words, and deletes those that nothing points to
// any more.
func (f Forget) words(ctx context.Context, tx *sql.Tx) error {
	type word struct {
		id   int64
		text string
		is   bool
	}
	var found []word
	err := eachRow(ctx, tx, "SELECT id, text FROM word", nil, func(r record) error {
		var w word
		if err := r.Scan(&w.id, &w.text); err != nil {
			return err
		}
		if w.is = f.Is(w.text); w.is || f.Clean(w.text) != w.text {
			found = append(found, w)
		}
		return nil
	})
	if err != nil {
		return err
	}
	changed := map[eventRow]bool{}
	for _, w := range found {
		for _, c := range append(vehicleColumns, textColumns...) {
			text := f.Clean(w.text)
			switch {
			case c[1] == "vin" && w.is:
				text = ""
			case w.is && (c[1] == "mark" || c[1] == "vehicle"):
				text = f.As
			}
			if text == w.text {
				continue
			}
			if err := rename(ctx, tx, c, w.id, text, changed); err != nil {
				return err
			}
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM word WHERE id = ? AND id NOT IN ("+wordsInUse+")", w.id); err != nil {
			return err
		}
		// At once: the next word may get the number of one that is gone.
		if _, err := tx.ExecContext(ctx, "DELETE FROM folded WHERE word_id = ?1 AND NOT EXISTS (SELECT 1 FROM word WHERE id = ?1)", w.id); err != nil {
			return err
		}
	}
	return recount(ctx, tx, changed)
}

// rename points the rows of a column from one word to another and says which.
func rename(ctx context.Context, tx *sql.Tx, column [2]string, from int64, text string, changed map[eventRow]bool) error {
	found := false
	err := eachRow(ctx, tx, fmt.Sprintf("SELECT id FROM %s WHERE %s = ?", column[0], column[1]), []any{from}, func(r record) error {
		row := eventRow{table: column[0]}
		err := r.Scan(&row.id)
		changed[row] = true
		found = true
		return err
	})
	if err != nil || !found {
		return err
	}
	if _, err := tx.ExecContext(ctx, "INSERT INTO word (text) SELECT ?1 WHERE NOT EXISTS (SELECT 1 FROM word WHERE text = ?1)", text); err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, fmt.Sprintf("UPDATE %[1]s SET %[2]s = (SELECT id FROM word WHERE text = ?) WHERE %[2]s = ?", column[0], column[1]), text, from)
	if err != nil {
		return err
	}
	return foldWord(ctx, tx, column, text)
}

// sheets writes kept sheets anew.
func (f Forget) sheets(ctx context.Context, tx *sql.Tx, at string) error {
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.DefaultCompression)
	if err != nil {
		return err
	}
	for _, r := range f.Sheets {
		if _, err := tx.ExecContext(ctx, "UPDATE sheet SET raw = NULL, kept_sha256 = ? WHERE id = ?", r.SHA256, r.SheetID); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM sheet_block WHERE sheet_id = ?", r.SheetID); err != nil {
			return err
		}
		if err := insertBlocks(ctx, tx, w, r.SheetID, bytes.NewReader(r.Text)); err != nil {
			return err
		}
		for line, raw := range r.Held {
			if _, err := tx.ExecContext(ctx, "UPDATE held SET raw = ?, text = ? WHERE sheet_id = ? AND line = ?", raw.Raw, raw.Text, r.SheetID, line); err != nil {
				return err
			}
		}
		note := fmt.Sprintf("%d rows no longer name a vehicle that was forgotten", r.Rows)
		if err := decide(ctx, tx, r.SheetID, "redacted", note, at); err != nil {
			return err
		}
	}
	return nil
}

// plain cleans the columns that hold texts of their own.
func (f Forget) plain(ctx context.Context, tx *sql.Tx) error {
	for _, c := range plainColumns {
		var found []string
		err := eachRow(ctx, tx, fmt.Sprintf("SELECT DISTINCT %s FROM %s", c[1], c[0]), nil, func(r record) error {
			var text string
			err := r.Scan(&text)
			if f.Clean(text) != text {
				found = append(found, text)
			}
			return err
		})
		if err != nil {
			return err
		}
		for _, text := range found {
			if _, err := tx.ExecContext(ctx, fmt.Sprintf("UPDATE %[1]s SET %[2]s = ? WHERE %[2]s = ?", c[0], c[1]), f.Clean(text), text); err != nil {
				return err
			}
		}
	}
	return nil
}

func (f Forget) corrections(ctx context.Context, tx *sql.Tx) error {
	type corrected struct {
		sheet int64
		c     Correction
	}
	var rows []corrected
	err := eachRow(ctx, tx, "SELECT sheet_id, line, cells FROM correction", nil, func(r record) error {
		var x corrected
		var cells string
		if err := r.Scan(&x.sheet, &x.c.Line, &cells); err != nil {
			return err
		}
		if err := json.Unmarshal([]byte(cells), &x.c.Cells); err != nil {
			return err
		}
		rows = append(rows, x)
		return nil
	})
	if err != nil {
		return err
	}
	for _, x := range rows {
		was := strings.Join(x.c.Cells, "\x00")
		now := f.Cells(x.sheet, x.c.Cells)
		if strings.Join(now, "\x00") == was {
			continue
		}
		cells, err := json.Marshal(now)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "UPDATE correction SET cells = ? WHERE sheet_id = ? AND line = ?", string(cells), x.sheet, x.c.Line); err != nil {
			return err
		}
	}
	return nil
}

// own renames the vehicle in the garage's log and in what was said.
func (f Forget) own(ctx context.Context, tx *sql.Tx) error {
	for _, table := range []string{"logged", "said"} {
		var marks []string
		err := eachRow(ctx, tx, "SELECT DISTINCT vehicle FROM "+table, nil, func(r record) error {
			var mark string
			err := r.Scan(&mark)
			if f.Is(mark) {
				marks = append(marks, mark)
			}
			return err
		})
		if err != nil {
			return err
		}
		for _, mark := range marks {
			set := "vehicle = ?"
			if table == "logged" {
				set += ", vin = ''"
			}
			if _, err := tx.ExecContext(ctx, "UPDATE "+table+" SET "+set+" WHERE vehicle = ?", f.As, mark); err != nil {
				return err
			}
		}
	}
	return nil
}

// HeldOf returns the held rows of a sheet, in use or not, whatever became of
// them.
func (v *View) HeldOf(ctx context.Context, sheetID int64) ([]Held, error) {
	var list []Held
	err := v.each(ctx, "SELECT line, field, text, raw FROM held WHERE sheet_id = ? ORDER BY line", []any{sheetID}, func(r record) error {
		h := Held{SheetID: sheetID}
		err := r.Scan(&h.Line, &h.Column, &h.Text, &h.Raw)
		list = append(list, h)
		return err
	})
	return list, err
}
