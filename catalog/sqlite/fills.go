package sqlite

import (
	"cmp"
	"context"
	"database/sql"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// Fills returns what was put into a vehicle, oldest first: by the sheets and by
// the garage's own log, each filling once.
func (v *View) Fills(ctx context.Context, mark string) ([]catalog.Fill, error) {
	ids, err := v.wordsOf(ctx, "fill", "vehicle", []string{catalog.Key(mark)})
	if err != nil {
		return nil, err
	}
	words := list(ids)
	var list []catalog.Fill
	once := v.events()
	err = v.each(ctx, `SELECT f.sheet_id, f.line, f.content, f.repeat, f.day, ve.text, e.text, ci.text, n.text, ch.text, co.text,
		f.strength, st.text, f.volume, vt.text, f.drained, dt.text, no.text
		FROM fill f JOIN word ve ON ve.id = f.vehicle JOIN word e ON e.id = f.engine JOIN word ci ON ci.id = f.circuit
		JOIN word n ON n.id = f.number JOIN word ch ON ch.id = f.chemistry JOIN word co ON co.id = f.colour
		JOIN word st ON st.id = f.strength_text JOIN word vt ON vt.id = f.volume_text JOIN word dt ON dt.id = f.drained_text JOIN word no ON no.id = f.note
		WHERE f.vehicle`+inList+` ORDER BY f.day, f.id`, []any{words}, func(r record) error {
		var f catalog.Fill
		var sheet, strength, volume, drained sql.NullInt64
		var line int
		var content, repeat int64
		var st, vt, dt string
		if err := r.Scan(&sheet, &line, &content, &repeat, &f.Date, &f.Vehicle, &f.Engine, &f.Circuit, &f.Number, &f.Chemistry, &f.Colour,
			&strength, &st, &volume, &vt, &drained, &dt, &f.Note); err != nil {
			return err
		}
		var active bool
		if f.Origin, active = once.origin(sheet, line, content, repeat); !active {
			return nil
		}
		if strength.Valid {
			f.Strength = catalog.Say(units.PercentOf(strength.Int64), st, f.Origin)
		}
		if volume.Valid {
			f.Volume = catalog.Say(units.VolumeOf(volume.Int64), vt, f.Origin)
		}
		if drained.Valid {
			f.Drained = catalog.Say(units.VolumeOf(drained.Int64), dt, f.Origin)
		}
		list = append(list, f)
		return nil
	})
	if err != nil {
		return nil, err
	}
	logged, err := v.Logged(ctx, catalog.LogFill)
	if err != nil {
		return nil, err
	}
	var hand []catalog.Fill
	for _, l := range logged {
		if catalog.Key(l.Fill.Vehicle) == catalog.Key(mark) {
			hand = append(hand, *l.Fill)
		}
	}
	list = catalog.Once(list, hand, catalog.SameFill, nil)
	slices.SortStableFunc(list, func(a, b catalog.Fill) int { return cmp.Compare(a.Date, b.Date) })
	return list, nil
}
