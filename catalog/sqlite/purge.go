package sqlite

import (
	"context"
	"fmt"
)

// sheetTables are the tables whose rows belong to a sheet.
var sheetTables = []string{
	"sheet_block", "held", "sheet_part", "fact", "fitment", "cross_reference", "engine_fact",
	"purchase", "returned", "vehicle", "fill", "fitted",
}

// Purge deletes the rows of sheets that were replaced twice over: the
// generation before the present one stays. The caller holds the import lock.
func (s *Store) Purge(ctx context.Context, lock *ImportLock) error {
	if lock == nil {
		return fmt.Errorf("purging needs the import lock")
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	const old = "(SELECT old.id FROM sheet old JOIN sheet newer ON newer.id = old.replaced_by WHERE old.active = 0 AND newer.active = 0)"
	var n int
	if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM sheet WHERE id IN "+old).Scan(&n); err != nil || n == 0 {
		return err
	}
	for _, table := range sheetTables {
		if _, err := tx.ExecContext(ctx, "DELETE FROM "+table+" WHERE sheet_id IN "+old); err != nil {
			return fmt.Errorf("purge %s: %w", table, err)
		}
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM sheet WHERE id IN "+old); err != nil {
		return fmt.Errorf("purge old sheets: %w", err)
	}
	return busy(tx.Commit())
}
