package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"slices"

	"fitfill/catalog"
)

// folds are the columns whose words can be looked up by their folded text.
var folds = [][2]string{{"vehicle", "mark"}, {"vehicle", "engine"}, {"fill", "vehicle"}, {"fitted", "vehicle"}, {"purchase", "vehicle"}, {"returned", "number"}}

// place is the name of a column in the table of folded words.
func place(column [2]string) string { return column[0] + "." + column[1] }

// fold keeps the folded texts of the words in the columns of a table.
func fold(ctx context.Context, tx *sql.Tx, table string, sheetID int64) error {
	for _, c := range folds {
		if c[0] != table {
			continue
		}
		_, err := tx.ExecContext(ctx, fmt.Sprintf(`INSERT OR IGNORE INTO folded (place, key, word_id)
			SELECT ?, trade_key(w.text), w.id FROM (SELECT DISTINCT %s AS id FROM %s WHERE sheet_id = ?) x JOIN word w ON w.id = x.id`, c[1], c[0]), place(c), sheetID)
		if err != nil {
			return fmt.Errorf("fold the words of %s: %w", table, err)
		}
	}
	return nil
}

// foldWord keeps the folded text of one word in a column.
func foldWord(ctx context.Context, tx *sql.Tx, column [2]string, text string) error {
	if !slices.Contains(folds, column) {
		return nil
	}
	_, err := tx.ExecContext(ctx, "INSERT OR IGNORE INTO folded (place, key, word_id) SELECT ?, ?, id FROM word WHERE text = ?", place(column), catalog.Key(text), text)
	return err
}

// insertFamilyKeys keeps under which names the staged rows speak of families.
func insertFamilyKeys(ctx context.Context, tx *sql.Tx) error {
	_, err := tx.ExecContext(ctx, `INSERT OR IGNORE INTO family_key (key, family)
		SELECT k.value, e.family FROM stage.engine_fact e, json_each(trade_keys(CASE e.field WHEN 'family' THEN e.family ELSE e.word END)) k
		WHERE e.field IN (`+nameFields+`)`)
	if err != nil {
		return fmt.Errorf("keep the names of engines: %w", err)
	}
	return nil
}

// insertCalled keeps which parts the staged rows call a type.
func insertCalled(ctx context.Context, tx *sql.Tx) error {
	_, err := tx.ExecContext(ctx, `INSERT OR IGNORE INTO part_called (word, part_id)
		SELECT word, part_id FROM stage.fact WHERE field = (SELECT id FROM word WHERE text = 'type') AND word IS NOT NULL ORDER BY word, part_id`)
	if err != nil {
		return fmt.Errorf("keep the types of parts: %w", err)
	}
	return nil
}

// wordsOf returns the numbers of the words in a column of a table of events
// that fold to one of the keys.
func (v *View) wordsOf(ctx context.Context, table, column string, keys []string) ([]int64, error) {
	return v.ids64(ctx, "SELECT word_id FROM folded WHERE place = ? AND key"+inList, place([2]string{table, column}), list(keys))
}
