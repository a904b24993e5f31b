package sqlite

import (
	"cmp"
	"context"
	"database/sql"
	"maps"
	"slices"

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
	lines, err := v.BoughtLines(ctx)
	if err != nil {
		return nil, err
	}
	list := make([]catalog.Purchase, lines.Len())
	for i := range list {
		list[i] = lines.At(i)
	}
	return list, nil
}

// PurchasesFor returns those that were made for one vehicle.
func (v *View) PurchasesFor(ctx context.Context, mark string) ([]catalog.Purchase, error) {
	words, err := v.wordsOf(ctx, "purchase", "vehicle", []string{catalog.Key(mark)})
	if err != nil {
		return nil, err
	}
	return v.purchases(ctx, "WHERE p.vehicle"+inList, list(words))
}

// PurchasesUnder returns those under the documents.
func (v *View) PurchasesUnder(ctx context.Context, documents []string) ([]catalog.Purchase, error) {
	if len(documents) == 0 {
		return nil, nil
	}
	return v.purchases(ctx, "WHERE p.document IN (SELECT id FROM word WHERE text"+inList+")", list(documents))
}

func (v *View) purchases(ctx context.Context, where string, args ...any) ([]catalog.Purchase, error) {
	var list []catalog.Purchase
	once := v.events()
	err := v.each(ctx, `SELECT p.sheet_id, p.line, p.content, p.repeat, p.day, s.text, n.text, t.text, p.quantity, p.price, c.text, pt.text, d.text, ve.text
		FROM purchase p JOIN word s ON s.id = p.supplier JOIN word n ON n.id = p.number JOIN word t ON t.id = p.type
		JOIN word c ON c.id = p.currency JOIN word pt ON pt.id = p.price_text JOIN word d ON d.id = p.document JOIN word ve ON ve.id = p.vehicle
		`+where+` ORDER BY p.day, p.id`, args, func(r record) error {
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

// Returns returns all returns of the active sheets and of the garage's own log,
// each once, in the order of their day, then sheet and line, the log last.
func (v *View) Returns(ctx context.Context) ([]catalog.Return, error) {
	list, err := v.sheetReturns(ctx, "")
	if err != nil {
		return nil, err
	}
	return v.withLoggedReturns(ctx, list)
}

// ReturnsOf returns the returns of the part numbers that fold to one of the
// keys, in the same order.
func (v *View) ReturnsOf(ctx context.Context, numbers map[string]bool) ([]catalog.Return, error) {
	words, err := v.wordsOf(ctx, "returned", "number", slices.Collect(maps.Keys(numbers)))
	if err != nil {
		return nil, err
	}
	list, err := v.sheetReturns(ctx, "WHERE r.number"+inList, list(words))
	if err != nil {
		return nil, err
	}
	list, err = v.withLoggedReturns(ctx, list)
	return slices.DeleteFunc(list, func(r catalog.Return) bool { return !numbers[catalog.Key(r.Number)] }), err
}

func (v *View) sheetReturns(ctx context.Context, where string, args ...any) ([]catalog.Return, error) {
	var list []catalog.Return
	if where == "" {
		var rows int
		if err := v.row(ctx, "SELECT count(*) FROM returned", nil, &rows); err != nil {
			return nil, err
		}
		list = make([]catalog.Return, 0, rows)
	}
	once := v.events()
	err := v.each(ctx, `SELECT r.sheet_id, r.line, r.content, r.repeat, r.day, s.text, n.text, r.quantity, re.text, r.purchase_day, pt.text, r.fitted_day, ft.text, d.text, no.text
		FROM returned r JOIN word s ON s.id = r.supplier JOIN word n ON n.id = r.number JOIN word re ON re.id = r.reason
		JOIN word pt ON pt.id = r.purchase_text JOIN word ft ON ft.id = r.fitted_text JOIN word d ON d.id = r.document JOIN word no ON no.id = r.note
		`+where+` ORDER BY r.day, r.id`, args, func(rows record) error {
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

// withLoggedReturns adds the returns that were logged by hand. What only the
// log says of a return that a sheet tells of as well is told with the sheet's.
func (v *View) withLoggedReturns(ctx context.Context, list []catalog.Return) ([]catalog.Return, error) {
	logged, err := v.Logged(ctx, catalog.LogReturn)
	if err != nil || len(logged) == 0 {
		return list, err
	}
	suppliers, err := v.Suppliers(ctx)
	if err != nil {
		return nil, err
	}
	canonical := map[string]string{}
	for _, s := range suppliers {
		for _, n := range append([]string{s.Name}, s.OtherNames...) {
			canonical[catalog.Fold(n)] = s.Name
		}
	}
	name := func(text string) string { return cmp.Or(canonical[catalog.Fold(text)], text) }
	var hand []catalog.Return
	for _, l := range logged {
		hand = append(hand, *l.Return)
	}
	list = catalog.Once(list, hand, func(h, s catalog.Return) bool { return catalog.SameReturn(h, s, name) }, func(s *catalog.Return, h catalog.Return) {
		s.Vehicle, s.Bath, s.Followed = h.Vehicle, h.Bath, h.Followed
	})
	slices.SortStableFunc(list, func(a, b catalog.Return) int { return cmp.Compare(a.Date, b.Date) })
	return list, nil
}
