package sqlite

import (
	"cmp"
	"context"
	"database/sql"
	"maps"
	"slices"

	"fitfill/catalog"
)

// Fitted returns what was put into a vehicle of parts, oldest first, each once.
// An empty mark returns that of all vehicles.
func (v *View) Fitted(ctx context.Context, mark string) ([]catalog.Fitted, error) {
	if mark == "" {
		return v.fitted(ctx, "", nil, func(string) bool { return true })
	}
	return v.FittedIn(ctx, map[string]bool{catalog.Key(mark): true})
}

// FittedIn returns the same of the vehicles whose marks fold to one of the keys.
func (v *View) FittedIn(ctx context.Context, marks map[string]bool) ([]catalog.Fitted, error) {
	words, err := v.wordsOf(ctx, "fitted", "vehicle", slices.Collect(maps.Keys(marks)))
	if err != nil {
		return nil, err
	}
	return v.fitted(ctx, "WHERE f.vehicle"+inList, []any{list(words)}, func(mark string) bool { return marks[catalog.Key(mark)] })
}

func (v *View) fitted(ctx context.Context, where string, args []any, keep func(mark string) bool) ([]catalog.Fitted, error) {
	var list []catalog.Fitted
	once := v.events()
	err := v.each(ctx, `SELECT f.sheet_id, f.line, f.content, f.repeat, f.day, ve.text, n.text, s.text, m.text FROM fitted f
		JOIN word ve ON ve.id = f.vehicle JOIN word n ON n.id = f.number JOIN word s ON s.id = f.supplier JOIN word m ON m.id = f.measured
		`+where+` ORDER BY f.day, f.id`, args, func(r record) error {
		var f catalog.Fitted
		var sheet sql.NullInt64
		var line int
		var content, repeat int64
		if err := r.Scan(&sheet, &line, &content, &repeat, &f.Date, &f.Vehicle, &f.Number, &f.Supplier, &f.Measured); err != nil {
			return err
		}
		var active bool
		if f.Origin, active = once.origin(sheet, line, content, repeat); active {
			list = append(list, f)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	logged, err := v.Logged(ctx, catalog.LogFitted)
	if err != nil {
		return nil, err
	}
	var hand []catalog.Fitted
	for _, l := range logged {
		if keep(l.Fitted.Vehicle) {
			hand = append(hand, *l.Fitted)
		}
	}
	list = catalog.Once(list, hand, catalog.SameFitted, nil)
	slices.SortStableFunc(list, func(a, b catalog.Fitted) int { return cmp.Compare(a.Date, b.Date) })
	return list, nil
}
