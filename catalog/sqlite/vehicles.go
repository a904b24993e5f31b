package sqlite

import (
	"cmp"
	"context"
	"database/sql"
	"slices"
	"strings"

	"fitfill/catalog"
)

// Vehicles returns every vehicle that a sheet or the log describes, by its
// mark. Spellings of one mark are one vehicle; of several descriptions the
// newest counts, field by field.
func (v *View) Vehicles(ctx context.Context) ([]catalog.Vehicle, error) {
	if v.vehicles == nil {
		list, err := v.readVehicles(ctx)
		if err != nil {
			return nil, err
		}
		v.vehicles = append([]catalog.Vehicle{}, list...)
	}
	return slices.Clone(v.vehicles), nil
}

func (v *View) readVehicles(ctx context.Context) ([]catalog.Vehicle, error) {
	type told struct {
		catalog.Vehicle
		at string
	}
	var all []told
	once := v.events()
	err := v.each(ctx, `SELECT x.sheet_id, x.line, x.content, x.repeat, m.text, vin.text, e.text, f.text, coalesce(s.imported_at, '') FROM vehicle x
		JOIN word m ON m.id = x.mark JOIN word vin ON vin.id = x.vin JOIN word e ON e.id = x.engine JOIN word f ON f.id = x.first_fill
		LEFT JOIN sheet s ON s.id = x.sheet_id ORDER BY x.id`, nil, func(r *sql.Rows) error {
		var c told
		var sheet sql.NullInt64
		var line int
		var content, repeat int64
		if err := r.Scan(&sheet, &line, &content, &repeat, &c.Mark, &c.VIN, &c.Engine, &c.FirstFill, &c.at); err != nil {
			return err
		}
		var active bool
		if c.Origin, active = once.origin(sheet, line, content, repeat); active {
			all = append(all, c)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	logged, err := v.Logged(ctx, catalog.LogVehicle)
	if err != nil {
		return nil, err
	}
	for _, l := range logged {
		all = append(all, told{*l.Vehicle, l.At})
	}
	slices.SortStableFunc(all, func(a, b told) int { return strings.Compare(a.at, b.at) })
	var list []catalog.Vehicle
	at := map[string]int{}
	for _, c := range all {
		key := catalog.Key(c.Mark)
		i, known := at[key]
		if !known {
			at[key] = len(list)
			list = append(list, c.Vehicle)
			continue
		}
		have := &list[i]
		have.VIN, have.Engine, have.FirstFill = cmp.Or(c.VIN, have.VIN), cmp.Or(c.Engine, have.Engine), cmp.Or(c.FirstFill, have.FirstFill)
		have.Origin = c.Origin
	}
	slices.SortFunc(list, func(a, b catalog.Vehicle) int { return strings.Compare(a.Mark, b.Mark) })
	return list, nil
}

// VehiclesMarked returns the vehicles whose mark folds to one of the keys. Most
// words that are looked up are no mark, and then no vehicle is read.
func (v *View) VehiclesMarked(ctx context.Context, keys []string) ([]catalog.Vehicle, error) {
	if v.marks == nil {
		marks := map[string]bool{}
		err := v.each(ctx, "SELECT w.text FROM (SELECT DISTINCT mark FROM vehicle) x JOIN word w ON w.id = x.mark UNION ALL SELECT vehicle FROM logged WHERE kind = ?",
			[]any{string(catalog.LogVehicle)}, func(r *sql.Rows) error {
				var text string
				err := r.Scan(&text)
				marks[catalog.Key(text)] = true
				return err
			})
		if err != nil {
			return nil, err
		}
		v.marks = marks
	}
	if !slices.ContainsFunc(keys, func(k string) bool { return v.marks[k] }) {
		return nil, nil
	}
	all, err := v.Vehicles(ctx)
	return slices.DeleteFunc(all, func(c catalog.Vehicle) bool { return !slices.Contains(keys, catalog.Key(c.Mark)) }), err
}

// Vehicle returns the vehicle with that mark, else the one with that VIN;
// ErrNotFound if there is none.
func (v *View) Vehicle(ctx context.Context, text string) (catalog.Vehicle, error) {
	list, err := v.Vehicles(ctx)
	if err != nil {
		return catalog.Vehicle{}, err
	}
	key := catalog.Key(text)
	for _, of := range []func(catalog.Vehicle) string{
		func(c catalog.Vehicle) string { return c.Mark },
		func(c catalog.Vehicle) string { return c.VIN },
	} {
		for _, c := range list {
			if key != "" && catalog.Key(of(c)) == key {
				return c, nil
			}
		}
	}
	return catalog.Vehicle{}, notFound(sql.ErrNoRows, "vehicle %q", text)
}

// markWords returns the numbers of the words that spell a mark in a table of
// events, as the argument of inList.
func (v *View) markWords(ctx context.Context, table, mark string) (string, error) {
	return v.wordsOf(ctx, table, "vehicle", map[string]bool{catalog.Key(mark): true})
}

// wordsOf returns the numbers of the words in a column of a table of events
// that fold to one of the keys, as the argument of inList.
func (v *View) wordsOf(ctx context.Context, table, column string, keys map[string]bool) (string, error) {
	return v.wordsThat(ctx, table, column, func(text string) bool { return keys[catalog.Key(text)] })
}

// wordsThat returns the same of the words that keep accepts. There are few
// spellings and many events.
func (v *View) wordsThat(ctx context.Context, table, column string, keep func(text string) bool) (string, error) {
	var ids []int64
	err := v.each(ctx, "SELECT w.id, w.text FROM (SELECT DISTINCT "+column+" AS word FROM "+table+") x JOIN word w ON w.id = x.word", nil, func(r *sql.Rows) error {
		var id int64
		var text string
		if err := r.Scan(&id, &text); err != nil {
			return err
		}
		if keep(text) {
			ids = append(ids, id)
		}
		return nil
	})
	return list(ids), err
}
