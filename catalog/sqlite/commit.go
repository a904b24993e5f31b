package sqlite

import (
	"compress/flate"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fitfill/catalog"
)

func (s *Store) path() string { return filepath.Join(s.dir, fileName) }

// Commit moves the staged rows into the catalogue and points the supplier to
// the search index in folder, in one transaction. It refuses, and changes
// nothing, if the sums do not add up. It returns the sheet's number.
func (st *Stage) Commit(ctx context.Context, counts Counts, held []catalog.HeldRow, folder string) (int64, error) {
	if counts.Read != counts.Taken+counts.Held+counts.Skipped || counts.Taken != st.taken || counts.Held != len(held) {
		return 0, fmt.Errorf("the rows of %s do not add up (read %d, taken %d of which %d staged, held %d of which %d listed, skipped %d): nothing was imported",
			st.info.Name, counts.Read, counts.Taken, st.taken, counts.Held, len(held), counts.Skipped)
	}
	if _, _, err := st.Plan(ctx); err != nil {
		return 0, err
	}
	if err := errors.Join(st.checkLines(ctx), st.checkHeld(held)); err != nil {
		return 0, err
	}
	if _, err := st.db.ExecContext(ctx, "DETACH DATABASE live"); err != nil {
		return 0, err
	}
	if err := st.db.Close(); err != nil {
		return 0, err
	}
	st.db = nil

	conn, err := st.store.write.Conn(ctx)
	if err != nil {
		return 0, busy(err)
	}
	defer conn.Close()
	if _, err := conn.ExecContext(ctx, "ATTACH DATABASE ? AS stage", st.path); err != nil {
		return 0, err
	}
	err = st.move(ctx, conn, counts, held, folder)
	// What is committed stays committed, whatever becomes of the staging file:
	// the next import clears it away.
	conn.ExecContext(context.WithoutCancel(ctx), "DETACH DATABASE stage")
	os.RemoveAll(st.path)
	st.dict.close()
	if err != nil {
		return 0, busy(err)
	}
	return st.sheetID, nil
}

func (st *Stage) move(ctx context.Context, conn *sql.Conn, counts Counts, held []catalog.HeldRow, folder string) error {
	tx, err := conn.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	for _, step := range []func(context.Context, *sql.Tx) error{
		st.insertSupplier,
		st.insertDictionary,
		func(ctx context.Context, tx *sql.Tx) error { return st.insertSheet(ctx, tx, counts, held) },
		st.insertCorrections,
		st.insertParts,
		st.moveRows,
		st.checkKept,
		st.leaveStaged,
		func(ctx context.Context, tx *sql.Tx) error {
			_, err := tx.ExecContext(ctx, "UPDATE supplier SET index_folder = ? WHERE id = ? AND ? <> ''", folder, st.supplierID, folder)
			return err
		},
	} {
		if err := step(ctx, tx); err != nil {
			return err
		}
	}
	return tx.Commit()
}

func (st *Stage) insertDictionary(ctx context.Context, tx *sql.Tx) error {
	words, err := newBulk(ctx, tx, "word (id, text)", 2)
	if err != nil {
		return err
	}
	err = st.dict.eachNewWord(func(id int64, text string) error { return words.add(ctx, id, text) })
	if err != nil {
		return err
	}
	if err := words.flush(ctx); err != nil {
		return err
	}
	apps, err := newBulk(ctx, tx, "application (id, make, model, engine, years, vin8, where_fitted, condition, quantity)", 9)
	if err != nil {
		return err
	}
	first := st.dict.nextApp - int64(len(st.dict.newApps)) + 1
	for i, a := range st.dict.newApps {
		if err := apps.add(ctx, first+int64(i), a[0], a[1], a[2], a[3], a[4], a[5], a[6], a[7]); err != nil {
			return err
		}
	}
	if err := apps.flush(ctx); err != nil {
		return err
	}
	return st.insertNames(ctx, tx)
}

// insertNames keeps the folded engines, makes and models of new applications.
func (st *Stage) insertNames(ctx context.Context, tx *sql.Tx) error {
	if len(st.dict.newApps) == 0 {
		return nil
	}
	for table, columns := range map[string][]int{"engine_name": {2}, "vehicle_name": {0, 1}} {
		insert, err := tx.PrepareContext(ctx, "INSERT OR IGNORE INTO "+table+" (key, word_id) VALUES (?, ?)")
		if err != nil {
			return err
		}
		defer insert.Close()
		done := map[int64]bool{}
		for _, a := range st.dict.newApps {
			for _, c := range columns {
				if done[a[c]] {
					continue
				}
				done[a[c]] = true
				key := catalog.Key(st.dict.text(a[c]))
				if key == "" {
					continue
				}
				if _, err := insert.ExecContext(ctx, key, a[c]); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func (st *Stage) insertSheet(ctx context.Context, tx *sql.Tx, counts Counts, held []catalog.HeldRow) error {
	var supplier any
	if st.supplierID != 0 {
		supplier = st.supplierID
	}
	for _, r := range st.plan.replaced {
		if _, err := tx.ExecContext(ctx, "UPDATE sheet SET active = 0, replaced_by = ? WHERE id = ?", st.sheetID, r.ID); err != nil {
			return err
		}
	}
	w, err := flate.NewWriter(nil, flate.DefaultCompression)
	if err != nil {
		return err
	}
	var raw []byte
	if st.info.Lines != nil && st.info.Lines != st.info.File {
		if raw, err = packAll(w, readOf(st.info.File)); err != nil {
			return err
		}
	}
	fields := slices.Clone(st.info.Fields)
	slices.Sort(fields)
	_, err = tx.ExecContext(ctx, `INSERT INTO sheet (id, supplier_id, kind, name, sha256, size, raw, imported_at, mapping, fields,
		rows_read, rows_taken, rows_held, rows_skipped) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		st.sheetID, supplier, string(st.info.Kind), st.info.Name, st.info.SHA256, st.info.File.Size(), raw, st.info.ImportedAt,
		st.info.Mapping, strings.Join(fields, " "), counts.Read, counts.Taken, counts.Held, counts.Skipped)
	if err != nil {
		return err
	}
	if err := insertBlocks(ctx, tx, w, st.sheetID, st.text()); err != nil {
		return err
	}
	if err := st.insertWorkbook(ctx, tx); err != nil {
		return err
	}
	rows, err := newBulk(ctx, tx, "held (sheet_id, line, field, text, reason, code, raw, key)", 8)
	if err != nil {
		return err
	}
	for _, h := range held {
		if err := rows.add(ctx, st.sheetID, h.Line, h.Column, h.Text, h.Reason, h.Code, h.Raw, catalog.Key(h.Number)); err != nil {
			return err
		}
	}
	return rows.flush(ctx)
}

// text is what the lines of the sheet are counted in.
func (st *Stage) text() Content {
	if st.info.Lines != nil {
		return st.info.Lines
	}
	return st.info.File
}

// insertBlocks keeps a text in blocks of lines, so that one line is found without
// unpacking the others.
func insertBlocks(ctx context.Context, tx *sql.Tx, w *flate.Writer, sheetID int64, text Content) error {
	return eachBlock(text, func(first int, block []byte) error {
		data, err := pack(w, block)
		if err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, "INSERT INTO sheet_block (sheet_id, first_line, data) VALUES (?, ?, ?)", sheetID, first, data)
		return err
	})
}

func (st *Stage) insertParts(ctx context.Context, tx *sql.Tx) error {
	parts, err := newBulk(ctx, tx, "part (id, supplier_id, number, key)", 4)
	if err != nil {
		return err
	}
	named, err := newBulk(ctx, tx, "sheet_part (sheet_id, part_id, content)", 3)
	if err != nil {
		return err
	}
	list := &st.dict.parts
	for i := range list.len() {
		if list.known(i) || !list.named[i] {
			continue
		}
		if err := parts.add(ctx, list.id(i), st.supplierID, list.numbers.text(i), list.keys.text(i)); err != nil {
			return err
		}
	}
	if err := parts.flush(ctx); err != nil {
		return err
	}
	for i := range list.len() {
		if !list.named[i] {
			continue
		}
		if err := named.add(ctx, st.sheetID, list.id(i), int64(list.content[i])); err != nil {
			return err
		}
	}
	return errors.Join(named.flush(ctx), st.dict.err())
}

func (st *Stage) moveRows(ctx context.Context, tx *sql.Tx) error {
	for _, s := range []struct{ table, statement string }{
		{"fact", "INSERT INTO fact SELECT part_id, field, sheet_id, line, value, word, text FROM stage.fact ORDER BY part_id, field, sheet_id"},
		{"fitment", "INSERT INTO fitment SELECT application_id, part_id, sheet_id, line FROM stage.fitment ORDER BY application_id, part_id, sheet_id, line"},
		{"cross_reference", "INSERT INTO cross_reference SELECT * FROM stage.cross_reference"},
		{"engine_fact", "INSERT INTO engine_fact SELECT * FROM stage.engine_fact"},
	} {
		moved, err := tx.ExecContext(ctx, s.statement)
		if err := st.allMoved(s.table, moved, err); err != nil {
			return err
		}
	}
	if err := errors.Join(insertCalled(ctx, tx), insertFamilyKeys(ctx, tx)); err != nil {
		return err
	}
	table, ok := eventTable[st.info.Kind]
	if !ok {
		return nil
	}
	columns, err := columnsOf(ctx, tx, table)
	if err != nil {
		return err
	}
	// Every sheet keeps its own rows. The same event in two sheets is counted
	// once when it is read, so that either sheet can go.
	moved, err := tx.ExecContext(ctx, fmt.Sprintf("INSERT INTO %[1]s (sheet_id, %[2]s) SELECT ?, %[2]s FROM stage.%[1]s ORDER BY line", table, columns), st.sheetID)
	if err := st.allMoved(table, moved, err); err != nil {
		return err
	}
	if st.info.Kind == catalog.PurchasesSheet {
		_, err := tx.ExecContext(ctx, `INSERT INTO purchase_span SELECT sheet_id, supplier, day >> 5, min(day), max(day), sum(quantity)
			FROM purchase WHERE sheet_id = ? GROUP BY sheet_id, supplier, day >> 5`, st.sheetID)
		if err != nil {
			return err
		}
	}
	return fold(ctx, tx, table, st.sheetID)
}

// columnsOf returns the column names of a staging table, comma separated.
func columnsOf(ctx context.Context, tx *sql.Tx, table string) (string, error) {
	rows, err := tx.QueryContext(ctx, "SELECT name FROM pragma_table_info(?, 'stage')", table)
	if err != nil {
		return "", err
	}
	defer rows.Close()
	var names []string
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			return "", err
		}
		names = append(names, name)
	}
	return strings.Join(names, ", "), rows.Err()
}
