package sqlite

import (
	"context"
	"fmt"
	"slices"

	"fitfill/catalog"
)

// Lines is a set of line numbers of a sheet.
type Lines struct{ bits []uint64 }

// Has reports whether the line is one of them.
func (l *Lines) Has(line int) bool {
	return l != nil && line >= 0 && line/64 < len(l.bits) && l.bits[line/64]>>(line%64)&1 == 1
}

func (l *Lines) add(line int) {
	if more := line/64 + 1 - len(l.bits); more > 0 {
		l.bits = append(l.bits, make([]uint64, more)...)
	}
	l.bits[line/64] |= 1 << (line % 64)
}

// LinesOf is which lines of a sheet the catalogue states, and which it holds.
type LinesOf struct{ Stated, Held *Lines }

// LinesOf returns, for each active sheet, the lines that some statement of the
// catalogue rests on, and those of the held rows that were not corrected.
func (v *View) LinesOf(ctx context.Context) (map[int64]LinesOf, error) {
	all := map[int64]LinesOf{}
	for id := range v.sheets {
		all[id] = LinesOf{&Lines{}, &Lines{}}
	}
	collect := func(query string, of func(LinesOf) *Lines) error {
		return v.each(ctx, query, nil, func(r record) error {
			var id int64
			var line int
			if err := r.Scan(&id, &line); err != nil {
				return err
			}
			if sheet, ok := all[id]; ok && line > 0 {
				of(sheet).add(line)
			}
			return nil
		})
	}
	for _, table := range lineTables {
		query := "SELECT sheet_id, line FROM " + table + " WHERE sheet_id IS NOT NULL"
		if err := collect(query, func(l LinesOf) *Lines { return l.Stated }); err != nil {
			return nil, err
		}
	}
	return all, collect("SELECT sheet_id, line FROM held WHERE state <> 'corrected'", func(l LinesOf) *Lines { return l.Held })
}

// States reports whether the catalogue has, from that sheet, all fields that a
// row of a part or an engine gives. Rows of other kinds, and rows that list a
// part for an engine or beside another number, have to have their own line.
func (v *View) States(ctx context.Context, sheetID, supplierID int64, row catalog.SheetRow) (bool, error) {
	var facts []catalog.Fact
	var query string
	var args []any
	switch {
	case row.Part != nil && len(row.Part.Fitments)+len(row.Part.CrossRefs) == 0:
		facts = append([]catalog.Fact{{Field: "number"}}, row.Part.Facts...)
		query = `SELECT 'number' FROM sheet_part sp WHERE sp.sheet_id = ?1 AND sp.part_id = (SELECT id FROM part WHERE supplier_id = ?2 AND key = ?3)
			UNION ALL SELECT w.text FROM fact f JOIN word w ON w.id = f.field
			WHERE f.sheet_id = ?1 AND f.part_id = (SELECT id FROM part WHERE supplier_id = ?2 AND key = ?3)`
		args = []any{sheetID, supplierID, catalog.Key(row.Part.Number)}
	case row.Engine != nil:
		facts = append([]catalog.Fact{{Field: "family"}}, row.Engine.Facts...)
		circuit := row.Engine.Circuit
		if circuit == "" {
			circuit = catalog.DefaultCircuit
		}
		query = "SELECT e.field FROM engine_fact e WHERE e.sheet_id = ? AND e.circuit = ?"
		args = []any{sheetID, circuit}
	default:
		return false, nil
	}
	var on []string
	err := v.each(ctx, query, args, func(r record) error {
		var field string
		on = append(on, field)
		return r.Scan(&on[len(on)-1])
	})
	return !slices.ContainsFunc(facts, func(f catalog.Fact) bool { return !slices.Contains(on, f.Field) }), err
}

// eventsUnlikeRows says of which active sheets the events are not as many as
// the rows that were taken.
func (v *View) eventsUnlikeRows(ctx context.Context) (wrong []string, err error) {
	for kind, table := range eventTable {
		err := v.each(ctx, fmt.Sprintf(`SELECT s.id, s.name, s.rows_taken, (SELECT count(*) FROM %s e WHERE e.sheet_id = s.id) AS n
			FROM sheet s WHERE s.active = 1 AND s.kind = ? AND n <> s.rows_taken ORDER BY s.id`, table), []any{string(kind)}, func(r record) error {
			var id int64
			var name string
			var said, kept int
			err := r.Scan(&id, &name, &said, &kept)
			wrong = append(wrong, fmt.Sprintf("sheet %d (%s) counts %d rows taken, and %d are kept", id, name, said, kept))
			return err
		})
		if err != nil {
			return wrong, err
		}
	}
	slices.Sort(wrong)
	return wrong, nil
}
