package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"fitfill/catalog"
)

// View is the catalogue as it stood at one moment: rows and index folders read
// through one View belong together, whatever is imported meanwhile.
type View struct {
	*kept
	with   *reader
	blocks map[blockAt][]byte
}

// View calls do with the catalogue as it stands now.
func (s *Store) View(ctx context.Context, do func(*View) error) (err error) {
	r, err := s.reader(ctx)
	if err != nil {
		return busy(err)
	}
	failed := true // also where do does not come back
	defer func() { s.giveBack(r, failed) }()
	if err := r.begin(ctx); err != nil {
		return busy(err)
	}
	if len(r.kept.words) > mostWords {
		clear(r.kept.words)
	}
	err = do(&View{kept: r.kept, with: r, blocks: map[blockAt][]byte{}})
	ended := r.end(ctx)
	failed = ended != nil || ctx.Err() != nil
	return busy(errors.Join(err, ended))
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
func eachRow(ctx context.Context, q querier, query string, args []any, scan func(record) error) error {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return err
	}
	return scanAll(rows, scan)
}

// scanAll calls scan for each row.
func scanAll(rows *sql.Rows, scan func(record) error) error {
	defer rows.Close()
	for rows.Next() {
		if err := scan(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// each runs a query on the view and calls scan for each row. The query's text is
// kept: what belongs to the question stands in args.
func (v *View) each(ctx context.Context, query string, args []any, scan func(record) error) error {
	return v.with.each(ctx, query, args, scan)
}

// row asks for one row and scans it into to; sql.ErrNoRows where there is none.
func (v *View) row(ctx context.Context, query string, args []any, to ...any) error {
	found := false
	err := v.with.each(ctx, query, args, func(r record) error {
		if found {
			return nil
		}
		found = true
		return r.Scan(to...)
	})
	if err == nil && !found {
		err = sql.ErrNoRows
	}
	return err
}
