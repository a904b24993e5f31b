package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"strings"
)

// rowsPerInsert keeps one statement well below SQLite's 32,766 parameters at
// twenty columns, and makes the cost of a call small against that of its rows.
const rowsPerInsert = 64

// bulk inserts rows into one table of a staging file, many a statement.
type bulk struct {
	tx    *sql.Tx
	table string
	width int
	rows  int64 // added so far
	buf   []any
	full  *sql.Stmt
}

func newBulk(ctx context.Context, tx *sql.Tx, table string, width int) (*bulk, error) {
	b := &bulk{tx: tx, table: table, width: width}
	var err error
	b.full, err = tx.PrepareContext(ctx, b.insert(rowsPerInsert))
	return b, err
}

func (b *bulk) insert(rows int) string {
	row := "(" + strings.Repeat(",?", b.width)[1:] + ")"
	return "INSERT INTO " + b.table + " VALUES " + strings.Repeat(","+row, rows)[1:]
}

func (b *bulk) add(ctx context.Context, values ...any) error {
	if len(values) != b.width {
		return fmt.Errorf("table %s takes %d values, got %d", b.table, b.width, len(values))
	}
	b.buf = append(b.buf, values...)
	b.rows++
	if len(b.buf) < b.width*rowsPerInsert {
		return nil
	}
	_, err := b.full.ExecContext(ctx, b.buf...)
	b.buf = b.buf[:0]
	return err
}

func (b *bulk) flush(ctx context.Context) error {
	if len(b.buf) == 0 {
		return nil
	}
	_, err := b.tx.ExecContext(ctx, b.insert(len(b.buf)/b.width), b.buf...)
	b.buf = b.buf[:0]
	return err
}
