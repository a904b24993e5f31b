package sqlite

import (
	"cmp"
	"context"
	"database/sql"
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

// docReader collects search documents from facts and fitments, wherever they
// lie: in the catalogue, or in a staging file beside it.
type docReader struct {
	query func(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	texts map[int64]string
	apps  map[int64]application
	docs  map[int64]*catalog.SearchDoc
}

func (r *docReader) doc(id int64) *catalog.SearchDoc {
	d := r.docs[id]
	if d == nil {
		d = &catalog.SearchDoc{ID: id}
		r.docs[id] = d
	}
	return d
}

// read adds what the tables of a schema say. Facts that are set stay: read the
// newest sheets first.
func (r *docReader) read(ctx context.Context, schema, where string) error {
	rows, err := r.query(ctx, "SELECT part_id, field, value, word FROM "+schema+".fact"+where+" ORDER BY part_id, sheet_id DESC")
	if err != nil {
		return err
	}
	defer rows.Close()
	clamps := map[int64][2]int64{}
	for rows.Next() {
		var part, field, value int64
		var word sql.NullInt64
		if err := rows.Scan(&part, &field, &value, &word); err != nil {
			return err
		}
		d := r.doc(part)
		name := r.texts[field]
		d.Sizes = appendNew(d.Sizes, catalog.SizeTerm(sizeFields[name], value))
		if bound := clamps[part]; name == "clamp_min" || name == "clamp_max" {
			if name == "clamp_min" {
				bound[0] = value
			} else {
				bound[1] = value
			}
			clamps[part] = bound
			if bound[0] > 0 && bound[1] > 0 {
				d.Sizes = append(d.Sizes, catalog.ClampTerms(bound[0], bound[1])...)
			}
		}
		if !word.Valid || !searchFields[name] {
			continue
		}
		text := r.texts[word.Int64]
		switch {
		case name == "type" && d.Type == "":
			d.Type = text
		case name == "description" && d.Description == "":
			d.Description = text
		case name != "type" && name != "description":
			d.Words = appendNew(d.Words, text)
		}
	}
	if err := rows.Err(); err != nil {
		return err
	}
	return r.readFitments(ctx, schema, where)
}

func (r *docReader) readFitments(ctx context.Context, schema, where string) error {
	rows, err := r.query(ctx, "SELECT DISTINCT part_id, application_id FROM "+schema+".fitment"+where)
	if err != nil {
		return err
	}
	defer rows.Close()
	// A clamp may be listed for every engine there is, so what a document holds
	// is looked up and not searched for.
	type held struct{ part, word int64 }
	makes, engines := map[held]bool{}, map[held]bool{}
	add := func(seen map[held]bool, list []string, part, word int64) []string {
		if r.texts[word] == "" || seen[held{part, word}] {
			return list
		}
		seen[held{part, word}] = true
		return append(list, r.texts[word])
	}
	for rows.Next() {
		var part, app int64
		if err := rows.Scan(&part, &app); err != nil {
			return err
		}
		d, a := r.doc(part), r.apps[app]
		d.Makes = add(makes, d.Makes, part, a[0])
		d.Makes = add(makes, d.Makes, part, a[1])
		d.Engines = add(engines, d.Engines, part, a[2])
	}
	return rows.Err()
}

// readNamed adds the parts of which sheets state nothing but the number.
func (r *docReader) readNamed(ctx context.Context, schema, where string) error {
	rows, err := r.query(ctx, "SELECT part_id FROM "+schema+".sheet_part"+where)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var id int64
		if err := rows.Scan(&id); err != nil {
			return err
		}
		r.doc(id)
	}
	return rows.Err()
}

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
func (st *Stage) SearchDocs(ctx context.Context, do func(catalog.SearchDoc) error) error {
	if _, _, err := st.Plan(ctx); err != nil {
		return err
	}
	r := docReader{query: st.db.QueryContext, texts: make(map[int64]string, len(st.dict.words)), apps: make(map[int64]application, len(st.dict.apps)), docs: map[int64]*catalog.SearchDoc{}}
	for text, id := range st.dict.words {
		r.texts[id] = text
	}
	for a, id := range st.dict.apps {
		r.apps[id] = a
	}
	var gone []int64
	for _, old := range st.plan.replaced {
		gone = append(gone, old.ID)
	}
	where := ofSheets("live", st.supplierID, gone, nil)
	if err := r.read(ctx, "main", ""); err != nil {
		return err
	}
	if err := r.read(ctx, "live", where); err != nil {
		return err
	}
	if err := r.readNamed(ctx, "live", where); err != nil {
		return err
	}
	numbers := make(map[int64]named, len(st.dict.parts))
	for key, p := range st.dict.parts {
		numbers[p.id] = named{p.number, key}
		if p.named {
			r.doc(p.id)
		}
	}
	return r.hand(st.info.Supplier, numbers, do)
}

type named struct{ number, key string }

// hand calls do with the documents, in the order of the parts' numbers in the
// catalogue.
func (r *docReader) hand(supplier string, numbers map[int64]named, do func(catalog.SearchDoc) error) error {
	docs := make([]*catalog.SearchDoc, 0, len(r.docs))
	for _, d := range r.docs {
		docs = append(docs, d)
	}
	slices.SortFunc(docs, func(a, b *catalog.SearchDoc) int { return cmp.Compare(a.ID, b.ID) })
	for _, d := range docs {
		n := numbers[d.ID]
		d.Supplier, d.Number, d.Key = supplier, n.number, n.key
		if err := do(*d); err != nil {
			return err
		}
	}
	return nil
}

// SupplierDocs calls do with one document for each part of a supplier as the
// catalogue stands, leaving out the sheets in gone and taking in those in back.
func (s *Store) SupplierDocs(ctx context.Context, sup Supplier, gone, back []int64, do func(catalog.SearchDoc) error) error {
	return s.View(ctx, func(v *View) error {
		r := docReader{query: v.with.conn.QueryContext, texts: map[int64]string{}, apps: map[int64]application{}, docs: map[int64]*catalog.SearchDoc{}}
		err := v.each(ctx, "SELECT id, text FROM word", nil, func(rows *sql.Rows) error {
			var id int64
			var text string
			err := rows.Scan(&id, &text)
			r.texts[id] = text
			return err
		})
		if err != nil {
			return err
		}
		err = v.each(ctx, selectApplications, nil, func(rows *sql.Rows) error {
			id, a, err := scanApplication(rows)
			r.apps[id] = a
			return err
		})
		if err != nil {
			return err
		}
		where := ofSheets("main", sup.ID, gone, back)
		if err := r.read(ctx, "main", where); err != nil {
			return err
		}
		if err := r.readNamed(ctx, "main", where); err != nil {
			return err
		}
		numbers := map[int64]named{}
		err = v.each(ctx, "SELECT id, number, key FROM part WHERE supplier_id = ?", []any{sup.ID}, func(rows *sql.Rows) error {
			var id int64
			var n named
			err := rows.Scan(&id, &n.number, &n.key)
			numbers[id] = n
			return err
		})
		if err != nil {
			return err
		}
		return r.hand(sup.Name, numbers, do)
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
