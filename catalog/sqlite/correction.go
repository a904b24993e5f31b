package sqlite

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Correction is what a person put in place of a row that was held back.
type Correction struct {
	Line   int
	Cells  []string // in the order of the sheet's own columns
	Source string   // the file that brought it, empty where it was said directly
	At     string   // RFC 3339
}

// Amend makes the staged sheet take the place of an earlier reading of the same
// file, whatever else is on file, with the corrections that are in it now. What
// was decided about the earlier one holds for this one. The note, if any, says in
// the decisions what is new. It is called before Plan.
func (st *Stage) Amend(sheetID int64, corrections []Correction, note string) {
	st.amends, st.corrections, st.amendNote = sheetID, corrections, note
}

// insertCorrections stores the corrections of an amended sheet and carries over
// what was decided about the earlier reading.
func (st *Stage) insertCorrections(ctx context.Context, tx *sql.Tx) error {
	for _, c := range st.corrections {
		cells, err := json.Marshal(c.Cells)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO correction (sheet_id, line, cells, source, at) VALUES (?, ?, ?, ?, ?)",
			st.sheetID, c.Line, string(cells), c.Source, c.At); err != nil {
			return err
		}
	}
	if st.amends == 0 {
		return nil
	}
	for _, step := range []string{
		"UPDATE sheet SET amends = ?2, kept_sha256 = (SELECT kept_sha256 FROM sheet WHERE id = ?2) WHERE id = ?1",
		`UPDATE held SET (state, said, said_at) = (SELECT o.state, o.said, o.said_at FROM held o WHERE o.sheet_id = ?2 AND o.line = held.line)
			WHERE sheet_id = ?1 AND EXISTS (SELECT 1 FROM held o WHERE o.sheet_id = ?2 AND o.line = held.line AND o.state = 'waived')`,
		"INSERT INTO decision (sheet_id, what, note, at) SELECT ?1, what, note, at FROM decision WHERE sheet_id = ?2 ORDER BY id",
	} {
		if _, err := tx.ExecContext(ctx, step, st.sheetID, st.amends); err != nil {
			return err
		}
	}
	if st.amendNote == "" {
		return nil
	}
	return decide(ctx, tx, st.sheetID, "corrected", st.amendNote, st.info.ImportedAt)
}

// Corrections returns what was corrected in a sheet, by line.
func (v *View) Corrections(ctx context.Context, sheetID int64) ([]Correction, error) {
	var list []Correction
	err := v.each(ctx, "SELECT line, cells, source, at FROM correction WHERE sheet_id = ? ORDER BY line", []any{sheetID}, func(r record) error {
		var c Correction
		var cells string
		if err := r.Scan(&c.Line, &cells, &c.Source, &c.At); err != nil {
			return err
		}
		if err := json.Unmarshal([]byte(cells), &c.Cells); err != nil {
			return fmt.Errorf("the correction of line %d of sheet %d is damaged: %w", c.Line, sheetID, err)
		}
		list = append(list, c)
		return nil
	})
	return list, err
}

// correctedText adds to the text of a line what a person put in its place.
func (v *View) correctedText(ctx context.Context, sheetID int64, line int, text string) (string, error) {
	list, known := v.corrected[sheetID]
	if !known {
		var err error
		if list, err = v.Corrections(ctx, sheetID); err != nil {
			return "", err
		}
		v.corrected[sheetID] = list
	}
	i, ok := slices.BinarySearchFunc(list, line, func(c Correction, line int) int { return c.Line - line })
	if !ok {
		return text, nil
	}
	return fmt.Sprintf("%s (corrected on %s to: %s)", text, list[i].At[:len("2006-01-02")], strings.Join(list[i].Cells, " | ")), nil
}

// Amended returns the number under which a sheet stands after its corrections;
// its own where it has none.
func (v *View) Amended(ctx context.Context, sheetID int64) (int64, error) {
	for {
		var next int64
		err := v.row(ctx, "SELECT id FROM sheet WHERE amends = ? AND id = (SELECT replaced_by FROM sheet WHERE id = ?)", []any{sheetID, sheetID}, &next)
		if errors.Is(err, sql.ErrNoRows) {
			return sheetID, nil
		}
		if err != nil {
			return 0, err
		}
		sheetID = next
	}
}
