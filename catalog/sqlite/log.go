package sqlite

import (
	"context"
	"database/sql"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// Log writes an entry into the garage's own log and returns its number. It
// needs no import lock.
func (s *Store) Log(ctx context.Context, l catalog.Logged) (int64, error) {
	r := rowOf(l)
	done, err := s.write.ExecContext(ctx, `INSERT INTO logged (kind, at, day, vehicle, vin, engine, first_fill, circuit, number, supplier, chemistry, colour,
		strength, strength_text, volume, volume_text, drained, drained_text, measured, quantity, reason, bath, told, note)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		r.kind, l.At, r.day, r.vehicle, r.vin, r.engine, r.firstFill, r.circuit, r.number, r.supplier, r.chemistry, r.colour,
		r.strength, r.strengthText, r.volume, r.volumeText, r.drained, r.drainedText, r.measured, r.quantity, r.reason, r.bath, r.told, r.note)
	if err != nil {
		return 0, busy(err)
	}
	return done.LastInsertId()
}

// TakeBack takes an entry of that kind out of the log; ErrNotFound if there is
// none of that number, or it was taken out before.
func (s *Store) TakeBack(ctx context.Context, kind catalog.LogKind, id int64, at string) error {
	done, err := s.write.ExecContext(ctx, "UPDATE logged SET undone_at = ? WHERE id = ? AND kind = ? AND undone_at = ''", at, id, string(kind))
	if err != nil {
		return busy(err)
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		return notFound(sql.ErrNoRows, "entry %d of the log", id)
	}
	return nil
}

// Logged returns the entries of a kind that count, in the order in which they
// were made.
func (v *View) Logged(ctx context.Context, kind catalog.LogKind) ([]catalog.Logged, error) {
	var list []catalog.Logged
	err := v.each(ctx, `SELECT id, kind, at, day, vehicle, vin, engine, first_fill, circuit, number, supplier, chemistry, colour,
		strength, strength_text, volume, volume_text, drained, drained_text, measured, quantity, reason, bath, told, note
		FROM logged WHERE kind = ? AND undone_at = '' ORDER BY id`, []any{string(kind)}, func(rows record) error {
		var l catalog.Logged
		var r logRow
		if err := rows.Scan(&l.ID, &r.kind, &l.At, &r.day, &r.vehicle, &r.vin, &r.engine, &r.firstFill, &r.circuit, &r.number, &r.supplier, &r.chemistry, &r.colour,
			&r.strength, &r.strengthText, &r.volume, &r.volumeText, &r.drained, &r.drainedText, &r.measured, &r.quantity, &r.reason, &r.bath, &r.told, &r.note); err != nil {
			return err
		}
		r.into(&l)
		list = append(list, l)
		return nil
	})
	return list, err
}

// logRow is an entry as the table holds it.
type logRow struct {
	kind                                  string
	day                                   catalog.Date
	vehicle, vin, engine, firstFill       string
	circuit, number, supplier             string
	chemistry, colour                     string
	strength, volume, drained             sql.NullInt64
	strengthText, volumeText, drainedText string
	measured, reason, bath, note          string
	quantity, told                        int64
}

func rowOf(l catalog.Logged) logRow {
	r := logRow{kind: string(l.Kind())}
	switch {
	case l.Vehicle != nil:
		r.vehicle, r.vin, r.engine, r.firstFill = l.Vehicle.Mark, l.Vehicle.VIN, l.Vehicle.Engine, l.Vehicle.FirstFill
	case l.Fill != nil:
		f := l.Fill
		r.day, r.vehicle, r.engine, r.circuit, r.number, r.chemistry, r.colour, r.note = f.Date, f.Vehicle, f.Engine, f.Circuit, f.Number, f.Chemistry, f.Colour, f.Note
		r.strength, r.strengthText = sql.NullInt64{Int64: f.Strength.Value.TenThousandths(), Valid: f.Strength.Known}, f.Strength.Text
		r.volume, r.volumeText = sql.NullInt64{Int64: f.Volume.Value.Nanolitres(), Valid: f.Volume.Known}, f.Volume.Text
		r.drained, r.drainedText = sql.NullInt64{Int64: f.Drained.Value.Nanolitres(), Valid: f.Drained.Known}, f.Drained.Text
	case l.Fitted != nil:
		f := l.Fitted
		r.day, r.vehicle, r.number, r.supplier, r.measured = f.Date, f.Vehicle, f.Number, f.Supplier, f.Measured
	case l.Return != nil:
		b := l.Return
		r.day, r.vehicle, r.number, r.supplier, r.quantity, r.reason, r.note = b.Date, b.Vehicle, b.Number, b.Supplier, b.Quantity.Thousandths(), b.Reason, b.Note
		r.bath, r.told = b.Bath, int64(b.Followed)
	}
	return r
}

func (r logRow) into(l *catalog.Logged) {
	switch catalog.LogKind(r.kind) {
	case catalog.LogVehicle:
		l.Vehicle = &catalog.Vehicle{Mark: r.vehicle, VIN: r.vin, Engine: r.engine, FirstFill: r.firstFill}
		l.Vehicle.Origin = l.Origin()
	case catalog.LogFill:
		f := catalog.Fill{Date: r.day, Vehicle: r.vehicle, Engine: r.engine, Circuit: r.circuit, Number: r.number, Chemistry: r.chemistry, Colour: r.colour, Note: r.note}
		l.Fill = &f
		f.Origin = l.Origin()
		if r.strength.Valid {
			f.Strength = catalog.Say(units.PercentOf(r.strength.Int64), r.strengthText, f.Origin)
		}
		if r.volume.Valid {
			f.Volume = catalog.Say(units.VolumeOf(r.volume.Int64), r.volumeText, f.Origin)
		}
		if r.drained.Valid {
			f.Drained = catalog.Say(units.VolumeOf(r.drained.Int64), r.drainedText, f.Origin)
		}
	case catalog.LogFitted:
		l.Fitted = &catalog.Fitted{Date: r.day, Vehicle: r.vehicle, Number: r.number, Supplier: r.supplier, Measured: r.measured}
		l.Fitted.Origin = l.Origin()
	case catalog.LogReturn:
		l.Return = &catalog.Return{Date: r.day, Vehicle: r.vehicle, Number: r.number, Supplier: r.supplier, Quantity: catalog.CountOf(r.quantity),
			Reason: r.reason, Note: r.note, Bath: r.bath, Followed: catalog.Told(r.told)}
		l.Return.Origin = l.Origin()
	}
}
