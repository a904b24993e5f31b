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
		list, err := v.readVehicles(ctx, "", nil, func(string) bool { return true })
		if err != nil {
			return nil, err
		}
		v.vehicles = append([]catalog.Vehicle{}, list...)
	}
	return slices.Clone(v.vehicles), nil
}

// readVehicles reads the rows that a clause picks, and the entries of the log
// whose mark's key is kept.
func (v *View) readVehicles(ctx context.Context, where string, args []any, keep func(key string) bool) ([]catalog.Vehicle, error) {
	type told struct {
		catalog.Vehicle
		at string
	}
	var all []told
	once := v.events()
	err := v.each(ctx, `SELECT x.sheet_id, x.line, x.content, x.repeat, m.text, vin.text, e.text, f.text, coalesce(s.imported_at, '') FROM vehicle x
		JOIN word m ON m.id = x.mark JOIN word vin ON vin.id = x.vin JOIN word e ON e.id = x.engine JOIN word f ON f.id = x.first_fill
		LEFT JOIN sheet s ON s.id = x.sheet_id `+where+" ORDER BY x.id", args, func(r record) error {
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
		if keep(catalog.Key(l.Vehicle.Mark)) {
			all = append(all, told{*l.Vehicle, l.At})
		}
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

// askedOften is how often a question may be answered by a look at what it is
// about before everything is read for it: a command asks once, a page with each
// key that is typed.
const askedOften = 4

// VehiclesMarked returns the vehicles whose mark folds to one of the keys.
func (v *View) VehiclesMarked(ctx context.Context, keys []string) ([]catalog.Vehicle, error) {
	if v.vehicles == nil {
		if v.markAsked++; v.markAsked > askedOften {
			if _, err := v.Vehicles(ctx); err != nil {
				return nil, err
			}
		}
	}
	if v.vehicles != nil {
		if v.byMark == nil {
			v.byMark = map[string]int{}
			for i, c := range v.vehicles {
				v.byMark[catalog.Key(c.Mark)] = i
			}
		}
		var at []int
		for _, key := range keys {
			if i, known := v.byMark[key]; known && !slices.Contains(at, i) {
				at = append(at, i)
			}
		}
		slices.Sort(at)
		var list []catalog.Vehicle
		for _, i := range at {
			list = append(list, v.vehicles[i])
		}
		return list, nil
	}
	words, err := v.wordsOf(ctx, "vehicle", "mark", keys)
	if err != nil {
		return nil, err
	}
	if len(words) == 0 { // most words that are looked up are no mark
		logged := false
		err := v.each(ctx, "SELECT vehicle FROM logged WHERE kind = ?", []any{string(catalog.LogVehicle)}, func(r record) error {
			var text string
			err := r.Scan(&text)
			logged = logged || slices.Contains(keys, catalog.Key(text))
			return err
		})
		if err != nil || !logged {
			return nil, err
		}
	}
	return v.readVehicles(ctx, "WHERE x.mark"+inList, []any{list(words)}, func(key string) bool { return slices.Contains(keys, key) })
}

// VehiclesWith returns the vehicles whose engine's name folds to one of the keys.
func (v *View) VehiclesWith(ctx context.Context, engines []string) ([]catalog.Vehicle, error) {
	with := func(c catalog.Vehicle) bool { return slices.Contains(engines, catalog.Key(c.Engine)) }
	all := v.vehicles
	if all == nil {
		// Another description of the same vehicle may be newer: all of each is read.
		words, err := v.wordsOf(ctx, "vehicle", "engine", engines)
		if err != nil {
			return nil, err
		}
		var marks []string
		err = v.each(ctx, "SELECT w.text FROM (SELECT DISTINCT mark FROM vehicle WHERE engine"+inList+") x JOIN word w ON w.id = x.mark", []any{list(words)}, func(r record) error {
			var text string
			err := r.Scan(&text)
			marks = append(marks, catalog.Key(text))
			return err
		})
		if err != nil {
			return nil, err
		}
		logged, err := v.Logged(ctx, catalog.LogVehicle)
		if err != nil {
			return nil, err
		}
		for _, l := range logged {
			if with(*l.Vehicle) {
				marks = append(marks, catalog.Key(l.Vehicle.Mark))
			}
		}
		if len(marks) == 0 {
			return nil, nil
		}
		if all, err = v.VehiclesMarked(ctx, marks); err != nil {
			return nil, err
		}
	}
	return slices.DeleteFunc(slices.Clone(all), func(c catalog.Vehicle) bool { return !with(c) }), nil
}

// Vehicle returns the vehicle with that mark, else the one with that VIN;
// ErrNotFound if there is none.
func (v *View) Vehicle(ctx context.Context, text string) (catalog.Vehicle, error) {
	none := notFound(sql.ErrNoRows, "vehicle %q", text)
	key := catalog.Key(text)
	if key == "" {
		return catalog.Vehicle{}, none
	}
	if list, err := v.VehiclesMarked(ctx, []string{key}); err != nil || len(list) > 0 {
		return first(list), err
	}
	list, err := v.Vehicles(ctx)
	if err != nil {
		return catalog.Vehicle{}, err
	}
	for _, c := range list {
		if catalog.Key(c.VIN) == key {
			return c, nil
		}
	}
	return catalog.Vehicle{}, none
}

func first[T any](list []T) (one T) {
	if len(list) > 0 {
		one = list[0]
	}
	return one
}

// wordsThat returns the numbers of the words in a column of a table of events
// that keep accepts, as the argument of inList. There are few spellings and many
// events.
func (v *View) wordsThat(ctx context.Context, table, column string, keep func(text string) bool) (string, error) {
	var ids []int64
	err := v.each(ctx, "SELECT w.id, w.text FROM (SELECT DISTINCT "+column+" AS word FROM "+table+") x JOIN word w ON w.id = x.word", nil, func(r record) error {
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
