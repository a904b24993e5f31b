package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"slices"
	"strings"

	"fitfill/catalog"
)

// searchFields are the facts whose words can be searched for.
var searchFields = map[string]bool{
	"type": true, "description": true, "brand": true, "notes": true, "barcode": true, "oring_size": true, "material": true, "colour": true,
	"chemistry": true, "glycol": true, "form": true, "approvals": true, "filter_charge": true, "thread": true, "seal_form": true, "thermostat_type": true,
}

// sizeFields are the facts of a part that can be searched for by size.
var sizeFields = func() map[string]catalog.Field {
	fields := map[string]catalog.Field{}
	for _, f := range catalog.PartFields() {
		fields[f.Name] = f
	}
	return fields
}()

// ofSheets is the condition for rows of a supplier's active sheets, without
// those in gone and with those in back.
func ofSheets(schema string, supplierID int64, gone, back []int64) string {
	return " WHERE sheet_id IN (SELECT id FROM " + schema + ".sheet WHERE kind = 'supplier' AND supplier_id = " + itoa(supplierID) +
		" AND (active = 1 OR id IN (0" + commaList(back) + ")) AND id NOT IN (0" + commaList(gone) + "))"
}

func commaList(ids []int64) string {
	if len(ids) == 0 {
		return ""
	}
	return "," + idList(ids)
}

// SearchDocs calls do with one document for each part that the supplier will
// have once this stage is committed, in the order of the parts.
func (st *Stage) SearchDocs(ctx context.Context, do func(catalog.SearchDoc) error) (err error) {
	if _, _, err := st.Plan(ctx); err != nil {
		return err
	}
	conn, err := st.db.Conn(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, conn.Close()) }()
	r := docReader{ask: func(ctx context.Context, query string) (rows, error) { return conn.QueryContext(ctx, query) }, words: func(id int64) (string, error) { return st.dict.text(id), nil }, texts: map[int64]string{}, apps: make(map[int64]application, len(st.dict.apps))}
	for a, id := range st.dict.apps {
		r.apps[id] = a
	}
	defer func() { err = errors.Join(err, r.close()) }()
	var gone []int64
	for _, old := range st.plan.replaced {
		gone = append(gone, old.ID)
	}
	where := ofSheets("live", st.supplierID, gone, nil)
	if err := errors.Join(r.read(ctx, "main", ""), r.read(ctx, "live", where), r.readNamed(ctx, "live", where)); err != nil {
		return err
	}
	list := &st.dict.parts
	for i := range list.len() {
		d, found, err := r.doc(list.id(i))
		if err != nil {
			return err
		}
		if !found && !list.named[i] {
			continue
		}
		d.Supplier, d.Number, d.Key = st.info.Supplier, list.numbers.text(i), list.keys.text(i)
		if err := do(d); err != nil {
			return err
		}
	}
	return st.dict.err()
}

// SupplierDocs calls do with one document for each part of a supplier as the
// catalogue stands, leaving out the sheets in gone and taking in those in back.
func (s *Store) SupplierDocs(ctx context.Context, sup Supplier, gone, back []int64, do func(catalog.SearchDoc) error) error {
	return s.View(ctx, func(v *View) (err error) {
		word := func(id int64) (text string, err error) {
			if err = v.row(ctx, "SELECT text FROM word WHERE id = ?", []any{id}, &text); errors.Is(err, sql.ErrNoRows) {
				err = nil
			}
			return text, err
		}
		r := docReader{ask: v.with.rows, words: word, texts: map[int64]string{}, apps: map[int64]application{}}
		err = v.each(ctx, selectApplications, nil, func(rows record) error {
			id, a, err := scanApplication(rows)
			r.apps[id] = a
			return err
		})
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, r.close()) }()
		where := ofSheets("main", sup.ID, gone, back)
		if err := errors.Join(r.read(ctx, "main", where), r.readNamed(ctx, "main", where)); err != nil {
			return err
		}
		return v.each(ctx, "SELECT id, number, key FROM part WHERE supplier_id = ? ORDER BY id", []any{sup.ID}, func(rows record) error {
			var id int64
			var number, key string
			if err := rows.Scan(&id, &number, &key); err != nil {
				return err
			}
			d, found, err := r.doc(id)
			if err != nil || !found {
				return err
			}
			d.Supplier, d.Number, d.Key = sup.Name, number, key
			return do(d)
		})
	})
}

func appendNew(list []string, text string) []string {
	if text == "" || slices.Contains(list, text) {
		return list
	}
	return append(list, text)
}

// idList writes numbers for an IN clause. The numbers are the store's own, so
// nothing a user typed gets into the statement.
func idList(ids []int64) string {
	var b strings.Builder
	for i, id := range ids {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(itoa(id))
	}
	return b.String()
}
