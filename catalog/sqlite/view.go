package sqlite

import (
	"context"
	"database/sql"
	"fmt"

	"fitfill/catalog"
)

// View is the catalogue as it stood at one moment: rows and index folders read
// through one View belong together, whatever is imported meanwhile.
type View struct {
	tx     *sql.Tx
	blocks map[blockAt][]byte
	sheets map[int64]catalog.Origin
	ids    map[string]int64 // SHA-256 and name -> sheet

	words   map[int64]string // those that were read so far
	sellers []Supplier       // once they were asked for

	corrected map[int64][]Correction // of the sheets that were asked for

	families []catalog.EngineFamily // nil: not read yet

	notes map[string]*catalog.NoteAnswer // by supplier and folded text; nil: not read yet
}

// View calls do with the catalogue as it stands now.
func (s *Store) View(ctx context.Context, do func(*View) error) error {
	tx, err := s.read.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	v := &View{tx: tx, words: map[int64]string{}, blocks: map[blockAt][]byte{}, corrected: map[int64][]Correction{}}
	if err := v.loadSheets(ctx); err != nil {
		return busy(err)
	}
	return busy(do(v))
}

func (v *View) loadSheets(ctx context.Context) error {
	rows, err := v.tx.QueryContext(ctx, `SELECT sheet.id, sheet.name, sheet.sha256, coalesce(supplier.name, '')
		FROM sheet LEFT JOIN supplier ON supplier.id = sheet.supplier_id WHERE sheet.active = 1`)
	if err != nil {
		return err
	}
	defer rows.Close()
	v.sheets, v.ids = map[int64]catalog.Origin{}, map[string]int64{}
	for rows.Next() {
		var id int64
		var o catalog.Origin
		if err := rows.Scan(&id, &o.Sheet, &o.SHA256, &o.Supplier); err != nil {
			return err
		}
		v.sheets[id] = o
		v.ids[o.SHA256+o.Sheet] = id
	}
	return rows.Err()
}

// origin returns where a line of an active sheet is; ok is false if the sheet
// is not active.
func (v *View) origin(sheetID int64, line int) (catalog.Origin, bool) {
	o, ok := v.sheets[sheetID]
	o.Line = line
	return o, ok
}

// TextAt returns the text of the line that an origin names, and what a person
// put in its place.
func (v *View) TextAt(ctx context.Context, o catalog.Origin) (string, error) {
	id, ok := v.ids[o.SHA256+o.Sheet]
	if !ok {
		return "", fmt.Errorf("sheet %s: %w", o.Sheet, ErrNotFound)
	}
	text, err := v.LineText(ctx, id, o.Line)
	if err != nil {
		return "", err
	}
	return v.correctedText(ctx, id, o.Line, text)
}

// querier is what rows can be asked of: a handle or a transaction.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// eachRow runs a query and calls scan for each row.
func eachRow(ctx context.Context, q querier, query string, args []any, scan func(*sql.Rows) error) error {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := scan(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// each runs a query on the view and calls scan for each row.
func (v *View) each(ctx context.Context, query string, args []any, scan func(*sql.Rows) error) error {
	return eachRow(ctx, v.tx, query, args, scan)
}
