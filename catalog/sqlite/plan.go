package sqlite

import (
	"context"
	"fmt"
	"strings"

	"fitfill/catalog"
)

// Changes counts what a sheet changes against the one that it replaces: parts
// of a supplier's sheet, rows of the others.
type Changes struct {
	Added     int `json:"added"`
	Changed   int `json:"changed"`
	Unchanged int `json:"unchanged"`
	Withdrawn int `json:"withdrawn"`
}

// Replaced is an earlier sheet whose place the staged one takes.
type Replaced struct {
	ID         int64
	Name       string
	ImportedAt string
}

type plan struct {
	replaced []Replaced
	changes  Changes
}

// A sheet takes the place of an earlier one of the same supplier and kind when
// it has mostly the same columns and speaks of at least half of what the
// earlier one spoke of. Otherwise it stands beside it: a price list beside an
// application list, hoses beside thermostats, March beside February.
const (
	sameColumns = 0.7
	sameThings  = 0.5
)

// Plan works out which earlier sheets the staged one replaces, and what that
// changes. Nothing is written.
func (st *Stage) Plan(ctx context.Context) ([]Replaced, Changes, error) {
	if st.plan != nil {
		return st.plan.replaced, st.plan.changes, nil
	}
	if err := st.finish(ctx); err != nil {
		return nil, Changes{}, fmt.Errorf("stage the rows: %w", err)
	}
	if _, err := st.db.ExecContext(ctx, "ATTACH DATABASE ? AS live", st.store.path()); err != nil {
		return nil, Changes{}, fmt.Errorf("compare with the catalogue: %w", err)
	}
	now := st.things()
	p := &plan{}
	before := map[string]uint64{}
	candidates, err := st.earlierSheets(ctx)
	if err != nil {
		return nil, Changes{}, err
	}
	for _, c := range candidates {
		things, err := st.thingsOf(ctx, c.ID)
		if err != nil {
			return nil, Changes{}, err
		}
		common := 0
		for key := range things {
			if _, ok := now[key]; ok {
				common++
			}
		}
		if len(things) == 0 || float64(common) < sameThings*float64(len(things)) {
			continue
		}
		p.replaced = append(p.replaced, c)
		for key, content := range things {
			before[key] = content
		}
	}
	for key, content := range now {
		old, ok := before[key]
		switch {
		case !ok:
			p.changes.Added++
		case old == content:
			p.changes.Unchanged++
		default:
			p.changes.Changed++
		}
	}
	for key := range before {
		if _, ok := now[key]; !ok {
			p.changes.Withdrawn++
		}
	}
	st.plan = p
	return p.replaced, p.changes, nil
}

// earlierSheets returns the active sheets that have mostly the same columns.
func (st *Stage) earlierSheets(ctx context.Context) ([]Replaced, error) {
	rows, err := st.db.QueryContext(ctx, `SELECT id, name, imported_at, fields FROM live.sheet
		WHERE active = 1 AND kind = ? AND coalesce(supplier_id, 0) = ? ORDER BY id`, string(st.info.Kind), st.supplierID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var found []Replaced
	for rows.Next() {
		var r Replaced
		var fields string
		if err := rows.Scan(&r.ID, &r.Name, &r.ImportedAt, &fields); err != nil {
			return nil, err
		}
		if overlap(strings.Fields(fields), st.info.Fields) >= sameColumns {
			found = append(found, r)
		}
	}
	return found, rows.Err()
}

// overlap is the share of names that both lists have among all names (Jaccard).
func overlap(a, b []string) float64 {
	in := map[string]bool{}
	for _, x := range a {
		in[x] = true
	}
	both := 0
	for _, x := range b {
		if in[x] {
			both++
		}
	}
	all := len(a) + len(b) - both
	if all == 0 {
		return 0
	}
	return float64(both) / float64(all)
}

// things returns what the staged sheet speaks of, with a sum over all it says.
func (st *Stage) things() map[string]uint64 {
	switch st.info.Kind {
	case catalog.SupplierSheet:
		m := make(map[string]uint64, len(st.dict.parts))
		for key, p := range st.dict.parts {
			if p.named {
				m[key] = p.content
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
		m[family+"\x00"+circuit] += engineContent(field, value, word, text)
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
