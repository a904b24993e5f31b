package sqlite

import (
	"context"
	"encoding/json"
	"fmt"

	"fitfill/catalog"
)

// OwnTable is a garage's own sheet of rows for one reference table.
type OwnTable struct {
	Name       string // of the reference table
	Sheet      string
	SHA256     string
	ImportedAt string // RFC 3339
	Rows       []catalog.RefRow
}

// KeepOwnTable keeps the garage's rows of a reference table in place of those
// it kept before.
func (s *Store) KeepOwnTable(ctx context.Context, t OwnTable) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	if _, err := tx.ExecContext(ctx, "DELETE FROM own_row WHERE name = ?", t.Name); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO own_table (name, sheet, sha256, imported_at) VALUES (?, ?, ?, ?)",
		t.Name, t.Sheet, t.SHA256, t.ImportedAt); err != nil {
		return err
	}
	for _, r := range t.Rows {
		cells, err := json.Marshal(r.Cells)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO own_row (name, line, cells, text) VALUES (?, ?, ?, ?)", t.Name, r.Line, string(cells), r.Own.Text); err != nil {
			return err
		}
	}
	return busy(tx.Commit())
}

// DropOwnTable goes back to the shipped rows of a table; ErrNotFound if the
// garage has none of its own.
func (s *Store) DropOwnTable(ctx context.Context, name string) error {
	done, err := s.write.ExecContext(ctx, "DELETE FROM own_table WHERE name = ?", name)
	return oneRow(done, err, "rows of your own for table %s", name)
}

// OwnTablesState returns a text that changes with the garage's own rows: empty
// while there are none.
func (v *View) OwnTablesState(ctx context.Context) (state string, err error) {
	err = v.each(ctx, "SELECT name || ' ' || sha256 || ' ' || sheet || ' ' || imported_at FROM own_table ORDER BY name", nil, func(r record) error {
		var one string
		if err := r.Scan(&one); err != nil {
			return err
		}
		state += one + "\n"
		return nil
	})
	return state, err
}

// OwnTables returns the garage's own rows of reference tables, by table. Each
// row carries its line and text; its source is for the caller to fill in.
func (v *View) OwnTables(ctx context.Context) ([]OwnTable, error) {
	var list []OwnTable
	err := v.each(ctx, `SELECT t.name, t.sheet, t.sha256, t.imported_at, r.line, r.cells, r.text
		FROM own_table t JOIN own_row r ON r.name = t.name ORDER BY t.name, r.line`, nil, func(rows record) error {
		var t OwnTable
		r := catalog.RefRow{}
		var cells, text string
		if err := rows.Scan(&t.Name, &t.Sheet, &t.SHA256, &t.ImportedAt, &r.Line, &cells, &text); err != nil {
			return err
		}
		if err := json.Unmarshal([]byte(cells), &r.Cells); err != nil {
			return fmt.Errorf("line %d of your own table %s is damaged: %w", r.Line, t.Name, err)
		}
		r.Table = t.Name
		r.Own = catalog.Origin{Sheet: t.Sheet, SHA256: t.SHA256, Line: r.Line, Text: text}
		if n := len(list); n == 0 || list[n-1].Name != t.Name {
			list = append(list, t)
		}
		last := &list[len(list)-1]
		last.Rows = append(last.Rows, r)
		return nil
	})
	return list, err
}
