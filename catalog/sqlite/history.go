package sqlite

import (
	"context"
	"database/sql"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// events tells which rows of a table of events count: those of active sheets
// and those logged by hand, each event once, however many sheets state it.
type events struct {
	v    *View
	seen map[[2]int64]bool
}

func (v *View) events() events { return events{v, map[[2]int64]bool{}} }

// origin returns where an event stands; counts is false for one that does not
// count. What was logged by hand stands nowhere.
func (e events) origin(sheet sql.NullInt64, line int, content, repeat int64) (o catalog.Origin, counts bool) {
	if sheet.Valid {
		if o, counts = e.v.origin(sheet.Int64, line); !counts {
			return o, false
		}
	}
	same := [2]int64{content, repeat}
	if e.seen[same] {
		return o, false
	}
	e.seen[same] = true
	return o, true
}

// Purchases returns all purchases of the active sheets, each once, in the order
// of their day, then sheet and line.
func (v *View) Purchases(ctx context.Context) ([]catalog.Purchase, error) {
	var list []catalog.Purchase
	once := v.events()
	err := v.each(ctx, `SELECT p.sheet_id, p.line, p.content, p.repeat, p.day, s.text, n.text, t.text, p.quantity, p.price, c.text, pt.text, d.text, ve.text
		FROM purchase p JOIN word s ON s.id = p.supplier JOIN word n ON n.id = p.number JOIN word t ON t.id = p.type
		JOIN word c ON c.id = p.currency JOIN word pt ON pt.id = p.price_text JOIN word d ON d.id = p.document JOIN word ve ON ve.id = p.vehicle
		ORDER BY p.day, p.id`, nil, func(r *sql.Rows) error {
		var p catalog.Purchase
		var sheet, price sql.NullInt64
		var line int
		var content, repeat int64
		var quantity int64
		var currency, priceText string
		if err := r.Scan(&sheet, &line, &content, &repeat, &p.Date, &p.Supplier, &p.Number, &p.Type, &quantity, &price, &currency, &priceText, &p.Document, &p.Vehicle); err != nil {
			return err
		}
		var active bool
		if p.Origin, active = once.origin(sheet, line, content, repeat); !active {
			return nil
		}
		p.Quantity = catalog.CountOf(quantity)
		if price.Valid {
			p.UnitPrice = catalog.Say(units.MoneyOf(price.Int64, currency), priceText, p.Origin)
		}
		list = append(list, p)
		return nil
	})
	return list, err
}

// Returns returns all returns of the active sheets, each once, in the order of
// their day, then sheet and line.
func (v *View) Returns(ctx context.Context) ([]catalog.Return, error) {
	var list []catalog.Return
	once := v.events()
	err := v.each(ctx, `SELECT r.sheet_id, r.line, r.content, r.repeat, r.day, s.text, n.text, r.quantity, re.text, r.purchase_day, pt.text, r.fitted_day, ft.text, d.text, no.text
		FROM returned r JOIN word s ON s.id = r.supplier JOIN word n ON n.id = r.number JOIN word re ON re.id = r.reason
		JOIN word pt ON pt.id = r.purchase_text JOIN word ft ON ft.id = r.fitted_text JOIN word d ON d.id = r.document JOIN word no ON no.id = r.note
		ORDER BY r.day, r.id`, nil, func(rows *sql.Rows) error {
		var r catalog.Return
		var sheet, bought, fitted sql.NullInt64
		var line int
		var content, repeat int64
		var quantity int64
		var boughtText, fittedText string
		if err := rows.Scan(&sheet, &line, &content, &repeat, &r.Date, &r.Supplier, &r.Number, &quantity, &r.Reason, &bought, &boughtText, &fitted, &fittedText, &r.Document, &r.Note); err != nil {
			return err
		}
		var active bool
		if r.Origin, active = once.origin(sheet, line, content, repeat); !active {
			return nil
		}
		r.Quantity = catalog.CountOf(quantity)
		if bought.Valid {
			r.PurchaseDate = catalog.Say(catalog.Date(bought.Int64), boughtText, r.Origin)
		}
		if fitted.Valid {
			r.FittedDate = catalog.Say(catalog.Date(fitted.Int64), fittedText, r.Origin)
		}
		list = append(list, r)
		return nil
	})
	return list, err
}

// Vehicle returns the vehicle with that mark; ErrNotFound if there is none.
func (v *View) Vehicle(ctx context.Context, mark string) (catalog.Vehicle, error) {
	var found *catalog.Vehicle
	once := v.events()
	err := v.each(ctx, `SELECT x.sheet_id, x.line, x.content, x.repeat, m.text, vin.text, e.text, f.text FROM vehicle x
		JOIN word m ON m.id = x.mark JOIN word vin ON vin.id = x.vin JOIN word e ON e.id = x.engine JOIN word f ON f.id = x.first_fill
		ORDER BY x.id`, nil, func(r *sql.Rows) error {
		var c catalog.Vehicle
		var sheet sql.NullInt64
		var line int
		var content, repeat int64
		if err := r.Scan(&sheet, &line, &content, &repeat, &c.Mark, &c.VIN, &c.Engine, &c.FirstFill); err != nil {
			return err
		}
		var active bool
		if c.Origin, active = once.origin(sheet, line, content, repeat); active && catalog.Key(c.Mark) == catalog.Key(mark) {
			found = &c
		}
		return nil
	})
	if err != nil {
		return catalog.Vehicle{}, err
	}
	if found == nil {
		return catalog.Vehicle{}, notFound(sql.ErrNoRows, "vehicle %q", mark)
	}
	return *found, nil
}

// Fills returns what was put into a vehicle, oldest first.
func (v *View) Fills(ctx context.Context, mark string) ([]catalog.Fill, error) {
	var list []catalog.Fill
	once := v.events()
	err := v.each(ctx, `SELECT f.sheet_id, f.line, f.content, f.repeat, f.day, ve.text, e.text, ci.text, n.text, ch.text, co.text,
		f.strength, st.text, f.volume, vt.text, f.drained, dt.text, no.text
		FROM fill f JOIN word ve ON ve.id = f.vehicle JOIN word e ON e.id = f.engine JOIN word ci ON ci.id = f.circuit
		JOIN word n ON n.id = f.number JOIN word ch ON ch.id = f.chemistry JOIN word co ON co.id = f.colour
		JOIN word st ON st.id = f.strength_text JOIN word vt ON vt.id = f.volume_text JOIN word dt ON dt.id = f.drained_text JOIN word no ON no.id = f.note
		ORDER BY f.day, f.id`, nil, func(r *sql.Rows) error {
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
		if f.Origin, active = once.origin(sheet, line, content, repeat); !active || catalog.Key(f.Vehicle) != catalog.Key(mark) {
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
	return list, err
}
