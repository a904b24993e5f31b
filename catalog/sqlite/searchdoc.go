package sqlite

import (
	"context"
	"database/sql"
	"strings"

	"fitfill/catalog"
)

// searchFields are the facts whose words can be searched for.
var searchFields = map[string]bool{"type": true, "description": true, "brand": true, "notes": true, "barcode": true, "oring_size": true, "material": true, "colour": true}

// SearchDocs calls do with one document for each part that the supplier will
// have once this stage is committed, in the order of the parts' numbers.
func (st *Stage) SearchDocs(ctx context.Context, do func(catalog.SearchDoc) error) error {
	if _, _, err := st.Plan(ctx); err != nil {
		return err
	}
	texts := make(map[int64]string, len(st.dict.words))
	for text, id := range st.dict.words {
		texts[id] = text
	}
	docs := map[int64]*catalog.SearchDoc{}
	doc := func(id int64) *catalog.SearchDoc {
		d := docs[id]
		if d == nil {
			d = &catalog.SearchDoc{ID: id}
			docs[id] = d
		}
		return d
	}
	staged, apps := st.stagedSources()
	if err := st.readFacts(ctx, staged+".fact", "", texts, doc); err != nil {
		return err
	}
	if err := st.readFacts(ctx, "live.fact", st.liveSheets(), texts, doc); err != nil {
		return err
	}
	if err := st.readFitments(ctx, staged+".fitment", "", apps, texts, doc); err != nil {
		return err
	}
	if err := st.readFitments(ctx, "live.fitment", st.liveSheets(), apps, texts, doc); err != nil {
		return err
	}
	if err := st.readNamed(ctx, doc); err != nil {
		return err
	}
	for key, p := range st.dict.parts {
		d := docs[p.id]
		if d == nil {
			continue
		}
		d.Supplier, d.Number, d.Key = st.info.Supplier, p.number, key
		if err := do(*d); err != nil {
			return err
		}
	}
	return nil
}

func (st *Stage) stagedSources() (schema string, apps map[int64]application) {
	apps = make(map[int64]application, len(st.dict.apps))
	for a, id := range st.dict.apps {
		apps[id] = a
	}
	return "main", apps
}

// liveSheets is the condition for sheets of this supplier that stay active.
func (st *Stage) liveSheets() string {
	gone := []string{"0"}
	for _, r := range st.plan.replaced {
		gone = append(gone, itoa(r.ID))
	}
	return " WHERE sheet_id IN (SELECT id FROM live.sheet WHERE active = 1 AND kind = 'supplier' AND supplier_id = " + itoa(st.supplierID) +
		" AND id NOT IN (" + strings.Join(gone, ",") + "))"
}

// readFacts lets later sheets lose to earlier calls: the staged sheet is read
// first, and a field that is set stays.
func (st *Stage) readFacts(ctx context.Context, table, where string, texts map[int64]string, doc func(int64) *catalog.SearchDoc) error {
	rows, err := st.db.QueryContext(ctx, "SELECT part_id, field, word FROM "+table+where+" ORDER BY part_id, sheet_id DESC")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var part, field int64
		var word sql.NullInt64
		if err := rows.Scan(&part, &field, &word); err != nil {
			return err
		}
		d := doc(part)
		name := texts[field]
		if !word.Valid || !searchFields[name] {
			continue
		}
		text := texts[word.Int64]
		switch name {
		case "type":
			if d.Type == "" {
				d.Type = text
			}
		case "description":
			if d.Description == "" {
				d.Description = text
			}
		default:
			d.Words = append(d.Words, text)
		}
	}
	return rows.Err()
}

func (st *Stage) readFitments(ctx context.Context, table, where string, apps map[int64]application, texts map[int64]string, doc func(int64) *catalog.SearchDoc) error {
	rows, err := st.db.QueryContext(ctx, "SELECT DISTINCT part_id, application_id FROM "+table+where)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var part, app int64
		if err := rows.Scan(&part, &app); err != nil {
			return err
		}
		d, a := doc(part), apps[app]
		d.Makes = appendNew(d.Makes, texts[a[0]])
		d.Makes = appendNew(d.Makes, texts[a[1]])
		d.Engines = appendNew(d.Engines, texts[a[2]])
	}
	return rows.Err()
}

// readNamed adds parts of which the sheets state nothing but the number.
func (st *Stage) readNamed(ctx context.Context, doc func(int64) *catalog.SearchDoc) error {
	for _, p := range st.dict.parts {
		if p.named {
			doc(p.id)
		}
	}
	rows, err := st.db.QueryContext(ctx, "SELECT part_id FROM live.sheet_part"+st.liveSheets())
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var id int64
		if err := rows.Scan(&id); err != nil {
			return err
		}
		doc(id)
	}
	return rows.Err()
}

func appendNew(list []string, text string) []string {
	if text == "" {
		return list
	}
	for _, have := range list {
		if have == text {
			return list
		}
	}
	return append(list, text)
}
