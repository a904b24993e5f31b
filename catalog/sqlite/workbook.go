package sqlite

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
)

// workbookPiece is how much of a workbook is kept in one row.
const workbookPiece = 1 << 20

// insertWorkbook keeps the workbook of a sheet as it came. A sheet that takes its
// own place with corrected rows keeps that of its earlier reading.
func (st *Stage) insertWorkbook(ctx context.Context, tx *sql.Tx) error {
	if st.amends != 0 && st.info.Workbook == nil {
		for _, step := range []string{
			"INSERT INTO workbook_piece (sheet_id, piece, data) SELECT ?1, piece, data FROM workbook_piece WHERE sheet_id = ?2 ORDER BY piece",
			"UPDATE sheet SET workbook_sha256 = (SELECT workbook_sha256 FROM sheet WHERE id = ?2) WHERE id = ?1",
		} {
			if _, err := tx.ExecContext(ctx, step, st.sheetID, st.amends); err != nil {
				return err
			}
		}
		return nil
	}
	if st.info.Workbook == nil {
		return nil
	}
	h := sha256.New()
	from := io.TeeReader(readOf(st.info.Workbook), h)
	data := make([]byte, workbookPiece)
	for piece := 0; ; piece++ {
		n, err := io.ReadFull(from, data)
		if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
			return fmt.Errorf("the workbook %s cannot be read again to be kept: %w", st.info.Name, err)
		}
		if n == 0 {
			break
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO workbook_piece (sheet_id, piece, data) VALUES (?, ?, ?)", st.sheetID, piece, data[:n]); err != nil {
			return err
		}
	}
	_, err := tx.ExecContext(ctx, "UPDATE sheet SET workbook_sha256 = ? WHERE id = ?", hex.EncodeToString(h.Sum(nil)), st.sheetID)
	return err
}

// Workbook writes the workbook that a sheet came as to w, byte for byte.
// ErrNotFound if none is kept of it; an error, too, if it is no longer what was
// imported.
func (v *View) Workbook(ctx context.Context, sheetID int64, w io.Writer) error {
	var want string
	if err := v.row(ctx, "SELECT workbook_sha256 FROM sheet WHERE id = ?", []any{sheetID}, &want); err != nil {
		return notFound(err, "sheet %d", sheetID)
	}
	if want == "" {
		return notFound(sql.ErrNoRows, "the workbook of sheet %d", sheetID)
	}
	h := sha256.New()
	err := v.each(ctx, "SELECT data FROM workbook_piece WHERE sheet_id = ? ORDER BY piece", []any{sheetID}, func(r record) error {
		var data []byte
		if err := r.Scan(&data); err != nil {
			return err
		}
		h.Write(data)
		_, err := w.Write(data)
		return err
	})
	if err == nil && hex.EncodeToString(h.Sum(nil)) != want {
		err = fmt.Errorf("the kept workbook of sheet %d is not the one that was imported", sheetID)
	}
	return err
}
