package sqlite

import (
	"bytes"
	"compress/flate"
	"context"
	"database/sql"
	"io"
)

// Staged is a sheet that waits for a decision.
type Staged struct {
	ID       int64
	Name     string
	Question string // the import as it was asked for, as the caller wrote it
	Answer   string // what it would do and what is open, as the caller wrote it
	StagedAt string
	File     Content // to be kept; nil where one is read
}

// KeepStaged keeps a sheet until somebody decides, and returns its number. A
// sheet that has a number keeps it and is written over.
func (s *Store) KeepStaged(ctx context.Context, w Staged) (int64, error) {
	var packed bytes.Buffer
	z, err := flate.NewWriter(&packed, flate.DefaultCompression)
	if err != nil {
		return 0, err
	}
	if _, err := io.Copy(z, readOf(w.File)); err != nil {
		return 0, err
	}
	if err := z.Close(); err != nil {
		return 0, err
	}
	if w.ID == 0 {
		if w.ID, err = s.nextSheetID(ctx); err != nil {
			return 0, err
		}
	}
	_, err = s.write.ExecContext(ctx, "INSERT OR REPLACE INTO staged (id, name, question, answer, staged_at, data) VALUES (?, ?, ?, ?, ?, ?)",
		w.ID, w.Name, w.Question, w.Answer, w.StagedAt, packed.Bytes())
	return w.ID, busy(err)
}

// StagedSheets lists the sheets that wait, oldest first, without their bytes.
func (v *View) StagedSheets(ctx context.Context) ([]Staged, error) {
	var list []Staged
	err := v.each(ctx, "SELECT id, name, question, answer, staged_at FROM staged ORDER BY id", nil, func(r record) error {
		var w Staged
		if err := r.Scan(&w.ID, &w.Name, &w.Question, &w.Answer, &w.StagedAt); err != nil {
			return err
		}
		list = append(list, w)
		return nil
	})
	return list, err
}

// StagedSheet returns one sheet that waits, without its bytes; ErrNotFound if none
// has that number.
func (v *View) StagedSheet(ctx context.Context, id int64) (w Staged, err error) {
	err = v.row(ctx, "SELECT id, name, question, answer, staged_at FROM staged WHERE id = ?", []any{id}, &w.ID, &w.Name, &w.Question, &w.Answer, &w.StagedAt)
	return w, notFound(err, "sheet %d among those that wait", id)
}

// StagedFile writes the bytes of a sheet that waits; ErrNotFound if none has that number.
func (v *View) StagedFile(ctx context.Context, id int64, w io.Writer) error {
	var data []byte
	if err := v.row(ctx, "SELECT data FROM staged WHERE id = ?", []any{id}, &data); err != nil {
		return notFound(err, "sheet %d among those that wait", id)
	}
	return unpackTo(w, data, id)
}

// DropStaged forgets a sheet that waits; ErrNotFound if none has that number.
func (s *Store) DropStaged(ctx context.Context, id int64, at string) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	done, err := tx.ExecContext(ctx, "DELETE FROM staged WHERE id = ?", id)
	if err != nil {
		return busy(err)
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		return notFound(sql.ErrNoRows, "sheet %d among those that wait", id)
	}
	if err := decide(ctx, tx, id, "dropped", "", at); err != nil {
		return err
	}
	return busy(tx.Commit())
}

// leaveStaged takes a committed sheet off the list of those that wait.
func (st *Stage) leaveStaged(ctx context.Context, tx *sql.Tx) error {
	if st.info.StagedID == 0 {
		return nil
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM staged WHERE id = ?", st.info.StagedID); err != nil {
		return err
	}
	return decide(ctx, tx, st.sheetID, "accepted", "", st.info.ImportedAt)
}

// decide puts a decision about a sheet on record.
func decide(ctx context.Context, tx *sql.Tx, sheetID int64, what, note, at string) error {
	_, err := tx.ExecContext(ctx, "INSERT INTO decision (sheet_id, what, note, at) VALUES (?, ?, ?, ?)", sheetID, what, note, at)
	return err
}
