package sqlite

import (
	"context"
	"fmt"
)

// sheetTables are the tables whose rows belong to a sheet.
var sheetTables = []string{
	"sheet_block", "workbook_piece", "held", "correction", "sheet_part", "fact", "fitment", "cross_reference", "engine_fact",
	"purchase", "purchase_span", "returned", "vehicle", "fill", "fitted",
}

// wordsInUse selects every word that some row points to. Prices change with
// every list, and their texts would fill the table of words for ever.
const wordsInUse = `
	SELECT field FROM fact UNION SELECT word FROM fact WHERE word IS NOT NULL UNION SELECT text FROM fact WHERE text IS NOT NULL
	UNION SELECT make FROM application UNION SELECT model FROM application UNION SELECT engine FROM application UNION SELECT years FROM application
	UNION SELECT vin8 FROM application UNION SELECT where_fitted FROM application UNION SELECT condition FROM application UNION SELECT quantity FROM application
	UNION SELECT supplier FROM purchase UNION SELECT number FROM purchase UNION SELECT type FROM purchase UNION SELECT currency FROM purchase
	UNION SELECT price_text FROM purchase UNION SELECT document FROM purchase UNION SELECT vehicle FROM purchase
	UNION SELECT supplier FROM returned UNION SELECT number FROM returned UNION SELECT reason FROM returned UNION SELECT purchase_text FROM returned
	UNION SELECT fitted_text FROM returned UNION SELECT document FROM returned UNION SELECT note FROM returned
	UNION SELECT mark FROM vehicle UNION SELECT vin FROM vehicle UNION SELECT engine FROM vehicle UNION SELECT first_fill FROM vehicle
	UNION SELECT vehicle FROM fill UNION SELECT engine FROM fill UNION SELECT circuit FROM fill UNION SELECT number FROM fill UNION SELECT chemistry FROM fill
	UNION SELECT colour FROM fill UNION SELECT strength_text FROM fill UNION SELECT volume_text FROM fill UNION SELECT drained_text FROM fill UNION SELECT note FROM fill
	UNION SELECT vehicle FROM fitted UNION SELECT number FROM fitted UNION SELECT supplier FROM fitted UNION SELECT measured FROM fitted`

// staleSheets selects the sheets that were taken back, or replaced twice over. One that
// took its own place with corrected rows counts as one with what it was before,
// so that a correction does not use up the way back to the list before it.
const staleSheets = `(WITH RECURSIVE stale (id) AS (
	SELECT old.id FROM sheet old JOIN sheet newer ON newer.id = old.replaced_by
	WHERE old.active = 0 AND newer.active = 0
		AND NOT EXISTS (SELECT 1 FROM sheet last WHERE last.id = newer.replaced_by AND last.amends = newer.id)
	UNION SELECT id FROM sheet WHERE active = 0 AND replaced_by IS NULL
	UNION SELECT s.id FROM sheet s JOIN stale ON s.replaced_by = stale.id)
	SELECT id FROM stale)`

// Purge deletes the rows of sheets that were taken back or replaced twice over:
// the generation before the present one stays. The caller holds the import lock.
func (s *Store) Purge(ctx context.Context, lock *ImportLock) error {
	if lock == nil {
		return fmt.Errorf("purging needs the import lock")
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	var n int
	if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM sheet WHERE id IN "+staleSheets).Scan(&n); err != nil || n == 0 {
		return err
	}
	for _, table := range sheetTables {
		if _, err := tx.ExecContext(ctx, "DELETE FROM "+table+" WHERE sheet_id IN "+staleSheets); err != nil {
			return fmt.Errorf("purge %s: %w", table, err)
		}
	}
	if _, err := tx.ExecContext(ctx, "UPDATE sheet SET amends = NULL WHERE amends IN "+staleSheets); err != nil {
		return fmt.Errorf("purge old sheets: %w", err)
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM sheet WHERE id IN "+staleSheets); err != nil {
		return fmt.Errorf("purge old sheets: %w", err)
	}
	for _, unused := range []string{
		"DELETE FROM application WHERE id NOT IN (SELECT application_id FROM fitment)",
		"DELETE FROM engine_name WHERE word_id NOT IN (SELECT engine FROM application)",
		"DELETE FROM vehicle_name WHERE word_id NOT IN (SELECT make FROM application UNION SELECT model FROM application)",
		"DELETE FROM word WHERE id NOT IN (" + wordsInUse + ")",
		"DELETE FROM folded WHERE word_id NOT IN (SELECT id FROM word)",
		"DELETE FROM part_called WHERE word NOT IN (SELECT id FROM word)",
		"DELETE FROM family_key WHERE family NOT IN (SELECT family FROM engine_fact)",
	} {
		if _, err := tx.ExecContext(ctx, unused); err != nil {
			return fmt.Errorf("purge unused words: %w", err)
		}
	}
	return busy(tx.Commit())
}
