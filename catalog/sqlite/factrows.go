package sqlite

import (
	"cmp"
	"context"
	"database/sql"
	"maps"
	"slices"
)

// factRow is one fact with its words as numbers; nought is no word.
type factRow struct {
	part, sheet, field, value, word, text int64
	line                                  int
}

// factRows reads the facts of parts, in the order of part and sheet, and the
// words in them into the view: a few hundred parts say the same few words over
// and over, and reading them with each fact takes most of the time.
func (v *View) factRows(ctx context.Context, ids []int64) ([]factRow, error) {
	rows := make([]factRow, 0, 8*len(ids))
	missing := map[int64]bool{}
	err := v.each(ctx, `SELECT part_id, sheet_id, line, field, value, coalesce(word, 0), coalesce(text, 0) FROM fact
		WHERE part_id`+inList, []any{list(ids)}, func(r *sql.Rows) error {
		var f factRow
		if err := r.Scan(&f.part, &f.sheet, &f.line, &f.field, &f.value, &f.word, &f.text); err != nil {
			return err
		}
		for _, w := range [...]int64{f.field, f.word, f.text} {
			if _, known := v.words[w]; !known && w != 0 {
				missing[w] = true
			}
		}
		rows = append(rows, f)
		return nil
	})
	if err != nil {
		return nil, err
	}
	// They come by part and field: little is left to do, and less than in the query.
	slices.SortStableFunc(rows, func(a, b factRow) int { return cmp.Or(cmp.Compare(a.part, b.part), cmp.Compare(a.sheet, b.sheet)) })
	return rows, v.readWords(ctx, slices.Collect(maps.Keys(missing)))
}

// readWords reads words by their number into the view.
func (v *View) readWords(ctx context.Context, ids []int64) error {
	if len(ids) == 0 {
		return nil
	}
	return v.each(ctx, "SELECT id, text FROM word WHERE id"+inList, []any{list(ids)}, func(r *sql.Rows) error {
		var id int64
		var text string
		err := r.Scan(&id, &text)
		v.words[id] = text
		return err
	})
}
