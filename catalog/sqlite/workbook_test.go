package sqlite

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
)

// A workbook is kept byte for byte as long as a fact may point to it, through a
// correction too, and goes with its sheet.
func TestTheWorkbookOfASheetIsKept(t *testing.T) {
	ctx := context.Background()
	s := newStore(t)
	book := make([]byte, 2*workbookPiece+77)
	for i := range book {
		book[i] = byte(rand.Uint32())
	}
	first := supplierSheet("Ostrel", "a.xlsx", "T-100;82;KR6")
	first.info.Workbook = bytes.NewReader(book)
	first.load(t, s)
	kept := func(id int64) ([]byte, error) {
		var out bytes.Buffer
		err := s.View(ctx, func(v *View) error { return v.Workbook(ctx, id, &out) })
		return out.Bytes(), err
	}
	if got, err := kept(1); err != nil || !bytes.Equal(got, book) {
		t.Fatalf("%d bytes, %v", len(got), err)
	}

	lock, err := s.LockImports()
	if err != nil {
		t.Fatal(err)
	}
	st, err := s.NewStage(ctx, lock, first.info)
	if err != nil {
		t.Fatal(err)
	}
	st.info.Workbook = nil // it is read from what is kept
	st.Amend(1, []Correction{{Line: 2, Cells: []string{"T-100", "82", "KR6"}, At: "2026-01-03T03:04:05Z"}}, "")
	if err := st.Add(ctx, first.rows[0]); err != nil {
		t.Fatal(err)
	}
	if _, _, err := st.Plan(ctx); err != nil {
		t.Fatal(err)
	}
	id, err := st.Commit(ctx, Counts{Read: 1, Taken: 1}, nil, "")
	if err := errors.Join(err, st.Discard(), lock.Unlock()); err != nil {
		t.Fatal(err)
	}
	if got, err := kept(id); err != nil || !bytes.Equal(got, book) {
		t.Errorf("after a correction: %d bytes, %v", len(got), err)
	}

	if _, err := s.write.ExecContext(ctx, "UPDATE workbook_piece SET data = x'00' WHERE sheet_id = ? AND piece = 1", id); err != nil {
		t.Fatal(err)
	}
	if _, err := kept(id); err == nil || errors.Is(err, ErrNotFound) {
		t.Errorf("a damaged copy: %v", err)
	}
	for i := range 3 {
		supplierSheet("Ostrel", "a.xlsx", fmt.Sprintf("T-100;8%d;KR6", 3+i)).load(t, s)
	}
	var left int
	if err := s.write.QueryRowContext(ctx, "SELECT count(*) FROM workbook_piece").Scan(&left); err != nil || left != 0 {
		t.Errorf("%d pieces left, %v", left, err)
	}
	if _, err := kept(id + 3); !errors.Is(err, ErrNotFound) {
		t.Errorf("a sheet that was no workbook: %v", err)
	}
}
