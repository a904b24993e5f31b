package sqlite

import (
	"context"
	"database/sql"
	"maps"
	"slices"

	"fitfill/catalog"
)

// Bought is how many pieces were bought of a supplier, as written.
type Bought struct {
	Supplier    string
	First, Last catalog.Date  // of all purchases of it
	Until       catalog.Count // up to and with the day that was asked for
}

// BoughtUntil adds up the purchases of the active sheets and those logged by
// hand, each once, by supplier.
func (v *View) BoughtUntil(ctx context.Context, day catalog.Date) ([]Bought, error) {
	var sheets, byHand int
	err := v.row(ctx, `SELECT (SELECT count(*) FROM sheet WHERE active = 1 AND kind = ?),
		(SELECT count(*) FROM (SELECT 1 FROM purchase WHERE sheet_id IS NULL LIMIT 1))`, []any{string(catalog.PurchasesSheet)}, &sheets, &byHand)
	if err != nil {
		return nil, err
	}
	of := `purchase_span m WHERE m.sheet_id = (SELECT id FROM sheet WHERE active = 1 AND kind = ?2)`
	sums := `m.supplier, min(m.first) AS first, max(m.last) AS last, sum(CASE WHEN m.last <= ?1 THEN m.quantity ELSE (SELECT coalesce(sum(p.quantity), 0)
		FROM purchase p WHERE p.sheet_id = m.sheet_id AND p.supplier = m.supplier AND p.day BETWEEN m.first AND min(m.last, ?1)) END)`
	if sheets != 1 || byHand > 0 { // two sheets may state one purchase
		sums = "m.supplier, min(m.day) AS first, max(m.day) AS last, sum(CASE WHEN m.day <= ?1 THEN m.quantity ELSE 0 END)"
		of = `(SELECT p.supplier, p.day, p.quantity FROM purchase p LEFT JOIN sheet s ON s.id = p.sheet_id
			WHERE p.sheet_id IS NULL OR s.active = 1 AND s.kind = ?2 GROUP BY p.content, p.repeat) m`
	}
	var list []Bought
	err = v.each(ctx, "SELECT w.text, b.first, b.last, b.quantity FROM (SELECT "+sums+" AS quantity FROM "+of+
		" GROUP BY m.supplier) b JOIN word w ON w.id = b.supplier", []any{int64(day), string(catalog.PurchasesSheet)}, func(r record) error {
		var b Bought
		var quantity int64
		err := r.Scan(&b.Supplier, &b.First, &b.Last, &quantity)
		b.Until = catalog.CountOf(quantity)
		list = append(list, b)
		return err
	})
	return list, err
}

// ReturnsFor returns what came back for the reasons that of accepts, in the
// order of Returns, and may return more, and of those that only sheets tell of the
// supplier, the reason, the day and how many; and the last day up to which sheets of
// returns tell, or the log where there is none. ok is false where nothing came
// back.
func (v *View) ReturnsFor(ctx context.Context, of func(reason string) bool) (back []catalog.Return, last catalog.Date, ok bool, err error) {
	var day sql.NullInt64
	err = v.row(ctx, "SELECT max(r.day) FROM returned r JOIN sheet s ON s.id = r.sheet_id AND s.active = 1", nil, &day)
	if err != nil {
		return nil, 0, false, err
	}
	var logged int
	if err := v.row(ctx, "SELECT count(*) FROM logged WHERE kind = ? AND undone_at = ''", []any{string(catalog.LogReturn)}, &logged); err != nil {
		return nil, 0, false, err
	}
	if logged > 0 { // an entry and a row of a sheet may tell of one return, each for a reason of its own
		if back, err = v.Returns(ctx); err != nil {
			return nil, 0, false, err
		}
		if !day.Valid {
			for _, r := range back {
				day = sql.NullInt64{Int64: max(day.Int64, int64(r.Date)), Valid: true}
			}
		}
		return back, catalog.Date(day.Int64), day.Valid, nil
	}
	if !day.Valid {
		return nil, 0, false, nil
	}
	words, err := v.wordsThat(ctx, "returned", "reason", of)
	if err != nil {
		return nil, 0, false, err
	}
	back, err = v.returnsInShort(ctx, words)
	return back, catalog.Date(day.Int64), true, err
}

// returnsInShort reads of the returns of active sheets, each once, for reasons
// whose words are listed, who supplied how much when, and why it came back.
func (v *View) returnsInShort(ctx context.Context, reasons string) ([]catalog.Return, error) {
	type short struct {
		catalog.Return
		supplier, reason int64
	}
	var rows []short
	missing := map[int64]bool{}
	once := v.events()
	err := v.each(ctx, `SELECT sheet_id, line, content, repeat, day, supplier, quantity, reason FROM returned
		WHERE reason`+inList+" ORDER BY day, id", []any{reasons}, func(rs record) error {
		var r short
		var sheet sql.NullInt64
		var line int
		var content, repeat, quantity int64
		if err := rs.Scan(&sheet, &line, &content, &repeat, &r.Date, &r.supplier, &quantity, &r.reason); err != nil {
			return err
		}
		var active bool
		if r.Origin, active = once.origin(sheet, line, content, repeat); !active {
			return nil
		}
		r.Quantity = catalog.CountOf(quantity)
		for _, w := range [...]int64{r.supplier, r.reason} {
			if _, known := v.words[w]; !known {
				missing[w] = true
			}
		}
		rows = append(rows, r)
		return nil
	})
	if err != nil {
		return nil, err
	}
	err = v.readWords(ctx, slices.Collect(maps.Keys(missing)))
	list := make([]catalog.Return, len(rows))
	for i, r := range rows {
		list[i] = r.Return
		list[i].Supplier, list[i].Reason = v.words[r.supplier], v.words[r.reason]
	}
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
		err = v.each(ctx, query, nil, func(r record) error {
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
