package sqlite

import (
	"cmp"
	"context"
	"maps"
	"slices"
)

// factRow is one fact with its words as numbers; nought is no word.
type factRow struct {
	part, sheet, line, field, value, word, text int64
}

// two are the numbers that a query put into one. What the store numbers, and the
// lines of a sheet, stay far below 2^31.
func two(n int64) (high, low int64) { return n >> 32, n & (1<<32 - 1) }

// factRows reads the facts of parts, in the order of part, field and sheet, and
// the words in them into the view: a few hundred parts say the same few words
// over and over, and reading them with each fact takes most of the time.
func (v *View) factRows(ctx context.Context, ids []int64) ([]factRow, error) {
	rows := make([]factRow, 0, 8*len(ids))
	missing := map[int64]bool{}
	// Two numbers travel in one: a row costs what its columns cost.
	err := v.with.eachOf(ctx, `SELECT part_id << 32 | line, field << 32 | sheet_id, value, coalesce(word, 0) << 32 | coalesce(text, 0) FROM fact
		WHERE part_id`+inList, []any{list(ids)}, func(c *cursor) error {
		var f factRow
		f.part, f.line = two(c.number(0))
		f.field, f.sheet = two(c.number(1))
		f.value = c.number(2)
		f.word, f.text = two(c.number(3))
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
	byPlace := func(a, b factRow) int {
		return cmp.Or(cmp.Compare(a.part, b.part), cmp.Compare(a.field, b.field), cmp.Compare(a.sheet, b.sheet))
	}
	if !slices.IsSortedFunc(rows, byPlace) { // they lie in the table like that
		slices.SortFunc(rows, byPlace)
	}
	return rows, v.readWords(ctx, slices.Collect(maps.Keys(missing)))
}

// readWords reads words by their number into the view.
func (v *View) readWords(ctx context.Context, ids []int64) error {
	if len(ids) == 0 {
		return nil
	}
	return v.each(ctx, "SELECT id, text FROM word WHERE id"+inList, []any{list(ids)}, func(r record) error {
		var id int64
		var text string
		err := r.Scan(&id, &text)
		v.words[id] = text
		return err
	})
}
