package sqlite

import (
	"cmp"
	"context"
	"database/sql"
	"slices"

	"fitfill/catalog"
)

// Fitted returns what was put into a vehicle of parts, oldest first, each once.
// An empty mark returns that of all vehicles.
func (v *View) Fitted(ctx context.Context, mark string) ([]catalog.Fitted, error) {
	var list []catalog.Fitted
	where := ""
	if mark != "" {
		words, err := v.markWords(ctx, "fitted", mark)
		if err != nil {
			return nil, err
		}
		where = "WHERE f.vehicle IN " + words
	}
	once := v.events()
	err := v.each(ctx, `SELECT f.sheet_id, f.line, f.content, f.repeat, f.day, ve.text, n.text, s.text, m.text FROM fitted f
		JOIN word ve ON ve.id = f.vehicle JOIN word n ON n.id = f.number JOIN word s ON s.id = f.supplier JOIN word m ON m.id = f.measured
		`+where+` ORDER BY f.day, f.id`, nil, func(r *sql.Rows) error {
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
		if mark == "" || catalog.Key(l.Fitted.Vehicle) == catalog.Key(mark) {
			hand = append(hand, *l.Fitted)
		}
	}
	list = catalog.Once(list, hand, catalog.SameFitted, nil)
	slices.SortStableFunc(list, func(a, b catalog.Fitted) int { return cmp.Compare(a.Date, b.Date) })
	return list, nil
}
