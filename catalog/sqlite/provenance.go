package sqlite

import (
	"context"
	"database/sql"
	"fmt"

	"fitfill/catalog"
)

// lineTables are the tables whose rows say which line of a sheet states them.
var lineTables = []string{"fact", "fitment", "cross_reference", "engine_fact", "purchase", "returned", "vehicle", "fill", "fitted"}

// Add stages one row. It counts what the row leaves in the tables of lines: a
// row that repeats earlier ones, or gives a part number alone, leaves nothing.
func (st *Stage) Add(ctx context.Context, row catalog.SheetRow) error {
	before := st.left.rows
	st.taken++
	if err := st.add(ctx, row); err != nil {
		return err
	}
	st.left.lines += (st.left.rows - before) * int64(row.Line)
	return nil
}

// leftBehind sums up the rows of the tables of lines: how many there are, and
// their line numbers added up.
type leftBehind struct{ rows, lines int64 }

// checkLines returns an error unless the staging file holds exactly the rows
// that the rows of the sheet left, with their lines. Counting the different
// lines instead made a commit a fifth slower.
func (st *Stage) checkLines(ctx context.Context) error {
	var got leftBehind
	for _, table := range lineTables {
		if st.tables[table] == nil {
			continue
		}
		var some leftBehind
		err := st.db.QueryRowContext(ctx, "SELECT count(*), coalesce(sum(line), 0) FROM main."+table).Scan(&some.rows, &some.lines)
		if err != nil {
			return fmt.Errorf("count the staged lines: %w", err)
		}
		got.rows, got.lines = got.rows+some.rows, got.lines+some.lines
	}
	if got != st.left {
		return st.unsound("%d statements with the sum %d of their lines were staged, and %d with the sum %d are there", st.left.rows, st.left.lines, got.rows, got.lines)
	}
	return nil
}

// checkHeld returns an error unless each held row says why, and stands in the
// file on its line.
func (st *Stage) checkHeld(held []catalog.HeldRow) error {
	at := map[int]catalog.HeldRow{}
	for _, h := range held {
		if h.Reason == "" || h.Code == "" || h.Raw == "" {
			return st.unsound("the held row of line %d has no reason or no text", h.Line)
		}
		if _, twice := at[h.Line]; twice {
			return st.unsound("line %d is held twice", h.Line)
		}
		at[h.Line] = h
	}
	if len(at) == 0 {
		return nil
	}
	err := eachBlock(st.text(), func(line int, text []byte) error {
		for ; len(at) > 0 && len(text) > 0; line++ {
			end := endOfLine(text)
			if h, ok := at[line]; ok {
				if !StandsIn(h.Raw, string(text[:end])) {
					return st.unsound("the held row of line %d does not stand there", line)
				}
				delete(at, line)
			}
			text = text[end+lineEnd(text[end:]):]
		}
		return nil
	})
	if err != nil {
		return err
	}
	for line := range at {
		return st.unsound("a row of line %d is held, and the file has no such line", line)
	}
	return nil
}

// allMoved checks what a statement moved out of the staging file.
func (st *Stage) allMoved(table string, moved sql.Result, err error) error {
	if err != nil {
		return err
	}
	want := int64(0)
	if b := st.tables[table]; b != nil {
		want = b.rows
	}
	if got, err := moved.RowsAffected(); err != nil || got != want {
		return st.unsound("%d of %d rows came into the table %s (%v)", got, want, table, err)
	}
	return nil
}

// checkKept counts, inside the transaction, what it keeps of the held rows, and
// what of the parts.
func (st *Stage) checkKept(ctx context.Context, tx *sql.Tx) error {
	var taken, said, held, parts int
	err := tx.QueryRowContext(ctx, `SELECT s.rows_taken, s.rows_held,
			(SELECT count(*) FROM held h WHERE h.sheet_id = s.id AND h.reason <> '' AND h.raw <> ''),
			(SELECT count(*) FROM sheet_part sp WHERE sp.sheet_id = s.id)
		FROM sheet s WHERE s.id = ?`, st.sheetID).Scan(&taken, &said, &held, &parts)
	if err != nil {
		return err
	}
	if named := st.dict.parts.spokenOf(); taken != st.taken || said != held || parts != named {
		return st.unsound("%d of %d rows taken, %d of %d held rows and %d of %d parts are kept", taken, st.taken, held, said, parts, named)
	}
	return nil
}

func (st *Stage) unsound(format string, args ...any) error {
	return fmt.Errorf("the rows of "+st.info.Name+" do not add up ("+format+"): nothing was imported; report this as a fault of the program", args...)
}
