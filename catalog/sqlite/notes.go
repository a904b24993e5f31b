package sqlite

import (
	"context"
	"database/sql"
	"fmt"

	"fitfill/catalog"
)

// NoteCount is a note of a supplier's lists with the number of rows and of
// parts that carry it.
type NoteCount struct {
	Supplier string
	Text     string
	Rows     int
	Parts    int
}

// NoteCounts returns the notes on the rows of active lists, the most frequent
// first, of one supplier or (empty) of all. Spellings that fold to one text are
// one note; the spelling of the most rows is shown.
func (v *View) NoteCounts(ctx context.Context, supplier string) ([]NoteCount, error) {
	var list []NoteCount
	at := map[string]int{}
	err := v.each(ctx, `SELECT s.name, w.text, count(*) AS n, count(DISTINCT f.part_id)
		FROM application a JOIN word w ON w.id = a.condition JOIN fitment f ON f.application_id = a.id
		JOIN sheet sh ON sh.id = f.sheet_id AND sh.active = 1 JOIN supplier s ON s.id = sh.supplier_id
		WHERE w.text <> '' AND (? = '' OR s.name = ?)
		GROUP BY s.id, w.id ORDER BY n DESC, s.name, w.text`, []any{supplier, supplier}, func(r record) error {
		var c NoteCount
		if err := r.Scan(&c.Supplier, &c.Text, &c.Rows, &c.Parts); err != nil {
			return err
		}
		key := noteKey(c.Supplier, c.Text)
		if i, known := at[key]; known {
			list[i].Rows += c.Rows
			list[i].Parts = max(list[i].Parts, c.Parts) // a part may carry both spellings
			return nil
		}
		at[key] = len(list)
		list = append(list, c)
		return nil
	})
	return list, err
}

func noteKey(supplier, text string) string { return supplier + "\x00" + catalog.Fold(text) }

// NoteAnswers returns every answer about a note, by supplier and text.
func (v *View) NoteAnswers(ctx context.Context) ([]catalog.NoteAnswer, error) {
	var list []catalog.NoteAnswer
	err := v.each(ctx, `SELECT s.name, n.note, n.means, n.words, n.day FROM note_answer n
		JOIN supplier s ON s.id = n.supplier_id ORDER BY s.name, n.key`, nil, func(r record) error {
		var a catalog.NoteAnswer
		if err := r.Scan(&a.Supplier, &a.Note, &a.Means, &a.Words, &a.Day); err != nil {
			return err
		}
		list = append(list, a)
		return nil
	})
	return list, err
}

// answered returns the answer about the note of a row, nil where there is none.
func (v *View) answered(ctx context.Context, supplier, note string) (*catalog.NoteAnswer, error) {
	if note == "" {
		return nil, nil
	}
	if v.notes == nil {
		list, err := v.NoteAnswers(ctx)
		if err != nil {
			return nil, err
		}
		v.notes = map[string]*catalog.NoteAnswer{}
		for i := range list {
			v.notes[noteKey(list[i].Supplier, list[i].Note)] = &list[i]
		}
	}
	if len(v.notes) == 0 {
		return nil, nil
	}
	return v.notes[noteKey(supplier, note)], nil
}

// AnswerNote keeps what a note of a supplier means, in place of what was
// answered before; ErrNotFound if there is no such supplier.
func (s *Store) AnswerNote(ctx context.Context, a catalog.NoteAnswer) error {
	done, err := s.write.ExecContext(ctx, `INSERT INTO note_answer (supplier_id, key, note, means, words, day)
		SELECT id, ?, ?, ?, ?, ? FROM supplier WHERE name = ?
		ON CONFLICT (supplier_id, key) DO UPDATE SET note = excluded.note, means = excluded.means, words = excluded.words, day = excluded.day`,
		catalog.Fold(a.Note), a.Note, string(a.Means), a.Words, a.Day, a.Supplier)
	return oneRow(done, err, "supplier %q", a.Supplier)
}

// ForgetNote takes an answer about a note back; ErrNotFound if there is none.
func (s *Store) ForgetNote(ctx context.Context, supplier, note string) error {
	done, err := s.write.ExecContext(ctx, `DELETE FROM note_answer
		WHERE key = ? AND supplier_id = (SELECT id FROM supplier WHERE name = ?)`, catalog.Fold(note), supplier)
	return oneRow(done, err, "an answer about %q", note)
}

// oneRow turns a statement that touched no row into ErrNotFound.
func oneRow(done sql.Result, err error, format string, args ...any) error {
	if err != nil {
		return busy(err)
	}
	n, err := done.RowsAffected()
	if err == nil && n == 0 {
		return fmt.Errorf("%s: %w", fmt.Sprintf(format, args...), ErrNotFound)
	}
	return err
}
