package sqlite

import (
	"context"
	"fmt"

	"fitfill/catalog"
)

// things returns what the staged sheet speaks of, with a sum over all it says.
func (st *Stage) things() map[string]uint64 {
	switch st.info.Kind {
	case catalog.SupplierSheet:
		list := &st.dict.parts
		m := make(map[string]uint64, list.len())
		for i, named := range list.named {
			if named {
				m[list.keys.text(i)] = list.content[i]
			}
		}
		return m
	case catalog.EnginesSheet, catalog.VehiclesSheet:
		return st.identities
	}
	m := make(map[string]uint64, len(st.repeats))
	for content, n := range st.repeats {
		for i := range n {
			m[eventKey(content, i)] = content
		}
	}
	return m
}

func eventKey(content uint64, repeat int64) string { return fmt.Sprintf("%x/%d", content, repeat) }

// thingsOf returns the same of a committed sheet.
func (st *Stage) thingsOf(ctx context.Context, sheetID int64) (map[string]uint64, error) {
	switch st.info.Kind {
	case catalog.SupplierSheet:
		return st.collect(ctx, "SELECT p.key, sp.content FROM live.sheet_part sp JOIN live.part p ON p.id = sp.part_id WHERE sp.sheet_id = ?", sheetID)
	case catalog.EnginesSheet:
		return st.engineThings(ctx, sheetID)
	case catalog.VehiclesSheet:
		return st.vehicleThings(ctx, sheetID)
	}
	rows, err := st.db.QueryContext(ctx, "SELECT content, repeat FROM live."+eventTable[st.info.Kind]+" WHERE sheet_id = ?", sheetID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	m := map[string]uint64{}
	for rows.Next() {
		var content, repeat int64
		if err := rows.Scan(&content, &repeat); err != nil {
			return nil, err
		}
		m[eventKey(uint64(content), repeat)] = uint64(content)
	}
	return m, rows.Err()
}

var eventTable = map[catalog.SheetKind]string{
	catalog.PurchasesSheet: "purchase",
	catalog.ReturnsSheet:   "returned",
	catalog.VehiclesSheet:  "vehicle",
	catalog.FillsSheet:     "fill",
	catalog.FittedSheet:    "fitted",
}

func (st *Stage) collect(ctx context.Context, query string, args ...any) (map[string]uint64, error) {
	rows, err := st.db.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	m := map[string]uint64{}
	for rows.Next() {
		var key string
		var content int64
		if err := rows.Scan(&key, &content); err != nil {
			return nil, err
		}
		m[key] = uint64(content)
	}
	return m, rows.Err()
}

func (st *Stage) engineThings(ctx context.Context, sheetID int64) (map[string]uint64, error) {
	rows, err := st.db.QueryContext(ctx, "SELECT family, circuit, field, value, word, text FROM live.engine_fact WHERE sheet_id = ?", sheetID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	m := map[string]uint64{}
	for rows.Next() {
		var family, circuit, field, word, text string
		var value int64
		if err := rows.Scan(&family, &circuit, &field, &value, &word, &text); err != nil {
			return nil, err
		}
		m[catalog.Key(family)+"\x00"+circuit] += engineContent(field, value, word, text)
	}
	return m, rows.Err()
}

func (st *Stage) vehicleThings(ctx context.Context, sheetID int64) (map[string]uint64, error) {
	rows, err := st.db.QueryContext(ctx, `SELECT m.text, v.text, e.text, f.text FROM live.vehicle x
		JOIN live.word m ON m.id = x.mark JOIN live.word v ON v.id = x.vin
		JOIN live.word e ON e.id = x.engine JOIN live.word f ON f.id = x.first_fill WHERE x.sheet_id = ?`, sheetID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	m := map[string]uint64{}
	for rows.Next() {
		var mark, vin, engine, fill string
		if err := rows.Scan(&mark, &vin, &engine, &fill); err != nil {
			return nil, err
		}
		m[mark] = uint64(fnvOffset.text(vin).text(engine).text(fill))
	}
	return m, rows.Err()
}
