package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"fitfill/catalog"
)

func itoa(n int64) string { return strconv.FormatInt(n, 10) }

func notFound(err error, format string, args ...any) error {
	if errors.Is(err, sql.ErrNoRows) {
		return fmt.Errorf("%s: %w", fmt.Sprintf(format, args...), ErrNotFound)
	}
	return err
}

// Supplier is a supplier with the folder of its search index.
type Supplier struct {
	ID          int64
	Name        string
	IndexFolder string
	OtherNames  []string
}

// supplierNumber returns the number of the supplier of that name, or the number
// that it will have: only the holder of the import lock adds suppliers.
func (s *Store) supplierNumber(ctx context.Context, name string) (id int64, isNew bool, err error) {
	err = s.write.QueryRowContext(ctx, "SELECT supplier_id FROM supplier_name WHERE key = ?", catalog.Fold(name)).Scan(&id)
	if !errors.Is(err, sql.ErrNoRows) {
		return id, false, busy(err)
	}
	err = s.write.QueryRowContext(ctx, "SELECT coalesce(max(id), 0) + 1 FROM supplier").Scan(&id)
	return id, true, busy(err)
}

// insertSupplier adds the supplier of the staged sheet where it is new.
func (st *Stage) insertSupplier(ctx context.Context, tx *sql.Tx) error {
	if !st.newSupplier {
		return nil
	}
	if _, err := tx.ExecContext(ctx, "INSERT INTO supplier (id, name) VALUES (?, ?)", st.supplierID, st.info.Supplier); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, "INSERT INTO supplier_name (key, name, supplier_id) VALUES (?, ?, ?)", catalog.Fold(st.info.Supplier), st.info.Supplier, st.supplierID)
	return err
}

// ErrTaken is returned when a name already belongs to another supplier, or
// holds nothing that could name one.
var ErrTaken = errors.New("not free")

// AddSupplierName makes other another name of the supplier known as name;
// ErrNotFound if there is no such supplier, ErrTaken if the name belongs to a
// different one or is empty.
func (s *Store) AddSupplierName(ctx context.Context, name, other string) error {
	if catalog.Fold(other) == "" {
		return fmt.Errorf("%q holds neither a letter nor a digit: %w", other, ErrTaken)
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	var id, taken int64
	if err := tx.QueryRowContext(ctx, "SELECT supplier_id FROM supplier_name WHERE key = ?", catalog.Fold(name)).Scan(&id); err != nil {
		return notFound(err, "supplier %q", name)
	}
	err = tx.QueryRowContext(ctx, "SELECT supplier_id FROM supplier_name WHERE key = ?", catalog.Fold(other)).Scan(&taken)
	switch {
	case err == nil && taken == id:
		return nil
	case err == nil:
		return fmt.Errorf("%q is already a name of another supplier: %w", other, ErrTaken)
	case !errors.Is(err, sql.ErrNoRows):
		return err
	}
	if _, err := tx.ExecContext(ctx, "INSERT INTO supplier_name (key, name, supplier_id) VALUES (?, ?, ?)", catalog.Fold(other), other, id); err != nil {
		return err
	}
	return busy(tx.Commit())
}

// Suppliers returns every supplier with its other names, by name.
func (v *View) Suppliers(ctx context.Context) ([]Supplier, error) {
	if v.sellers == nil {
		list, err := v.readSuppliers(ctx)
		if err != nil {
			return nil, err
		}
		v.sellers = append([]Supplier{}, list...)
	}
	return slices.Clone(v.sellers), nil
}

// sellerNames returns the names of the suppliers by their number. Nobody may
// change what it returns.
func (v *View) sellerNames(ctx context.Context) (map[int64]string, error) {
	if v.sellersBy == nil {
		list, err := v.Suppliers(ctx)
		if err != nil {
			return nil, err
		}
		v.sellersBy = make(map[int64]string, len(list))
		for _, s := range list {
			v.sellersBy[s.ID] = s.Name
		}
	}
	return v.sellersBy, nil
}

func (v *View) readSuppliers(ctx context.Context) ([]Supplier, error) {
	var list []Supplier
	err := v.each(ctx, `SELECT s.id, s.name, s.index_folder, n.name FROM supplier s
		JOIN supplier_name n ON n.supplier_id = s.id ORDER BY s.name, n.name`, nil, func(r record) error {
		var s Supplier
		var name string
		if err := r.Scan(&s.ID, &s.Name, &s.IndexFolder, &name); err != nil {
			return err
		}
		if len(list) == 0 || list[len(list)-1].ID != s.ID {
			list = append(list, s)
		}
		if last := &list[len(list)-1]; name != last.Name {
			last.OtherNames = append(last.OtherNames, name)
		}
		return nil
	})
	return list, busy(err)
}
