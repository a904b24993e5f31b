package sqlite

import (
	"context"
	"database/sql"
	"fmt"
)

// Check looks through the whole catalogue and returns what is wrong with it, in
// plain words: pages that the database itself finds damaged, numbers that point
// to nothing, and sheets whose sums do not add up. An empty list means sound.
func (v *View) Check(ctx context.Context) ([]string, error) {
	var wrong []string
	err := v.each(ctx, "PRAGMA integrity_check", nil, func(r record) error {
		var says string
		err := r.Scan(&says)
		if err == nil && says != "ok" {
			wrong = append(wrong, "the database reports: "+says)
		}
		return err
	})
	if err != nil {
		return wrong, err
	}
	err = v.each(ctx, "PRAGMA foreign_key_check", nil, func(r record) error {
		var table, to string
		var row, key sql.NullInt64
		err := r.Scan(&table, &row, &to, &key)
		wrong = append(wrong, fmt.Sprintf("row %d of the table %s points to no %s", row.Int64, table, to))
		return err
	})
	if err != nil {
		return wrong, err
	}
	for _, ref := range pointers {
		var n int
		err := v.row(ctx, fmt.Sprintf("SELECT count(*) FROM %[1]s WHERE %[2]s IS NOT NULL AND %[2]s NOT IN (SELECT id FROM %[3]s)",
			ref.table, ref.column, ref.to), nil, &n)
		if err != nil {
			return wrong, err
		}
		if n > 0 {
			wrong = append(wrong, fmt.Sprintf("%d rows of the table %s point to no %s", n, ref.table, ref.to))
		}
	}
	err = v.each(ctx, `SELECT s.id, s.name, s.rows_held, (SELECT count(*) FROM held h WHERE h.sheet_id = s.id) FROM sheet s
		WHERE s.rows_held <> (SELECT count(*) FROM held h WHERE h.sheet_id = s.id)`, nil, func(r record) error {
		var id int64
		var name string
		var said, kept int
		if err := r.Scan(&id, &name, &said, &kept); err != nil {
			return err
		}
		wrong = append(wrong, fmt.Sprintf("sheet %d (%s) counts %d held rows, and %d are kept", id, name, said, kept))
		return nil
	})
	if err != nil {
		return wrong, err
	}
	unlike, err := v.eventsUnlikeRows(ctx)
	return append(wrong, unlike...), err
}

// pointers are the columns of the large tables that carry no foreign key.
var pointers = []struct{ table, column, to string }{
	{"fact", "part_id", "part"}, {"fact", "field", "word"}, {"fact", "sheet_id", "sheet"}, {"fact", "word", "word"}, {"fact", "text", "word"},
	{"fitment", "application_id", "application"}, {"fitment", "part_id", "part"}, {"fitment", "sheet_id", "sheet"},
	{"sheet_part", "part_id", "part"}, {"sheet_part", "sheet_id", "sheet"},
	{"application", "make", "word"}, {"application", "model", "word"}, {"application", "engine", "word"}, {"application", "years", "word"},
	{"application", "vin8", "word"}, {"application", "where_fitted", "word"}, {"application", "condition", "word"}, {"application", "quantity", "word"},
}

// PartsOf returns how many parts the active sheets of a supplier speak of.
func (v *View) PartsOf(ctx context.Context, supplierID int64) (n int, err error) {
	err = v.row(ctx, `SELECT count(DISTINCT sp.part_id) FROM sheet_part sp JOIN sheet s ON s.id = sp.sheet_id
		WHERE s.active = 1 AND s.supplier_id = ?`, []any{supplierID}, &n)
	return n, err
}
