package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
)

// Undo is what taking a sheet back would do: its place is taken by the sheets
// that it had replaced.
type Undo struct {
	SheetID  int64
	Name     string
	Supplier Supplier // zero for the garage's own sheets
	Back     []int64
	BackName []string
}

// PlanUndo works out what taking back a sheet does. ErrNotFound if no sheet in
// use has that number.
func (v *View) PlanUndo(ctx context.Context, sheetID int64) (Undo, error) {
	u := Undo{SheetID: sheetID}
	var supplier sql.NullInt64
	err := v.row(ctx, "SELECT name, supplier_id FROM sheet WHERE id = ? AND active = 1", []any{sheetID}, &u.Name, &supplier)
	if err != nil {
		return u, notFound(err, "sheet %d among those in use", sheetID)
	}
	if supplier.Valid {
		suppliers, err := v.Suppliers(ctx)
		if err != nil {
			return u, err
		}
		i := slices.IndexFunc(suppliers, func(s Supplier) bool { return s.ID == supplier.Int64 })
		u.Supplier = suppliers[i]
	}
	err = v.each(ctx, "SELECT id, name FROM sheet WHERE replaced_by = ? ORDER BY id", []any{sheetID}, func(r record) error {
		var id int64
		var name string
		if err := r.Scan(&id, &name); err != nil {
			return err
		}
		u.Back, u.BackName = append(u.Back, id), append(u.BackName, name)
		return nil
	})
	return u, err
}

// CommitUndo takes a sheet back and points the supplier to the index in
// folder, in one transaction. The caller holds the import lock.
func (s *Store) CommitUndo(ctx context.Context, lock *ImportLock, u Undo, folder, at string) error {
	if lock == nil {
		return fmt.Errorf("taking a sheet back needs the import lock")
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	if _, err := tx.ExecContext(ctx, "UPDATE sheet SET active = 0 WHERE id = ?", u.SheetID); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "UPDATE sheet SET active = 1, replaced_by = NULL WHERE replaced_by = ?", u.SheetID); err != nil {
		return err
	}
	if u.Supplier.ID != 0 {
		if _, err := tx.ExecContext(ctx, "UPDATE supplier SET index_folder = ? WHERE id = ?", folder, u.Supplier.ID); err != nil {
			return err
		}
	}
	if err := decide(ctx, tx, u.SheetID, "undone", "", at); err != nil {
		return err
	}
	return busy(tx.Commit())
}

// SetIndex points a supplier to a rebuilt index. The caller holds the import
// lock.
func (s *Store) SetIndex(ctx context.Context, lock *ImportLock, supplierID int64, folder string) error {
	if lock == nil {
		return fmt.Errorf("changing an index needs the import lock")
	}
	_, err := s.write.ExecContext(ctx, "UPDATE supplier SET index_folder = ? WHERE id = ?", folder, supplierID)
	return busy(err)
}
