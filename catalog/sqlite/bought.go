package sqlite

import (
	"context"
	"database/sql"

	"fitfill/catalog"
)

// BoughtOn is how many pieces were bought of a supplier, as written, on one day.
type BoughtOn struct {
	Supplier string
	Day      catalog.Date
	Quantity catalog.Count
}

// BoughtByDay adds up the purchases of the active sheets and those logged by
// hand, each once, by supplier and day.
func (v *View) BoughtByDay(ctx context.Context) ([]BoughtOn, error) {
	var sheets, byHand int
	err := v.row(ctx, `SELECT (SELECT count(*) FROM sheet WHERE active = 1 AND kind = ?),
		(SELECT count(*) FROM (SELECT 1 FROM purchase WHERE sheet_id IS NULL LIMIT 1))`, []any{string(catalog.PurchasesSheet)}, &sheets, &byHand)
	if err != nil {
		return nil, err
	}
	of := "purchase p JOIN sheet s ON s.id = p.sheet_id AND s.active = 1"
	if sheets+byHand > 1 { // two sheets may state one purchase
		of = `(SELECT p.supplier, p.day, p.quantity FROM purchase p LEFT JOIN sheet s ON s.id = p.sheet_id
			WHERE p.sheet_id IS NULL OR s.active = 1 GROUP BY p.content, p.repeat) p`
	}
	var list []BoughtOn
	err = v.each(ctx, "SELECT w.text, b.day, b.quantity FROM (SELECT p.supplier, p.day, sum(p.quantity) AS quantity FROM "+of+
		" GROUP BY p.supplier, p.day) b JOIN word w ON w.id = b.supplier", nil, func(r *sql.Rows) error {
		var b BoughtOn
		var quantity int64
		if err := r.Scan(&b.Supplier, &b.Day, &quantity); err != nil {
			return err
		}
		b.Quantity = catalog.CountOf(quantity)
		list = append(list, b)
		return nil
	})
	return list, err
}

// BooksState returns a text that changes with what was bought and what came
// back, with the names of the suppliers, and with nothing else that happens in
// a day: not with what is asked, filled or fitted.
func (v *View) BooksState(ctx context.Context) (state string, err error) {
	for _, query := range []string{
		"SELECT id || ' ' || kept_sha256 FROM sheet WHERE active = 1 AND kind IN ('" + string(catalog.PurchasesSheet) + "', '" + string(catalog.ReturnsSheet) + "') ORDER BY id",
		// Entries of the log are never deleted: they are taken back.
		"SELECT count(*) || ' ' || coalesce(max(id), 0) FROM logged WHERE kind = '" + string(catalog.LogReturn) + "' AND undone_at = ''",
		"SELECT n.key || ' ' || s.name FROM supplier_name n JOIN supplier s ON s.id = n.supplier_id ORDER BY n.key",
	} {
		err = v.each(ctx, query, nil, func(r *sql.Rows) error {
			var one string
			err := r.Scan(&one)
			state += one + "\n"
			return err
		})
		if err != nil {
			return "", err
		}
		state += "\n"
	}
	return state, nil
}
