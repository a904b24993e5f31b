package sqlite

import (
	"cmp"
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
	// They are looked for row by row: by the index of their sheet each would be read apart.
	err = v.row(ctx, "SELECT max(day) FROM returned WHERE +sheet_id"+inList, []any{list(slices.Collect(maps.Keys(v.sheets)))}, &day)
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
	list := []catalog.Return{}
	var said [][2]int64 // supplier and reason, as words
	missing := map[int64]bool{}
	once := v.events()
	err := v.with.eachOf(ctx, `SELECT coalesce(sheet_id, 0) << 32 | line, day << 32 | reason, supplier, quantity, content, repeat FROM returned
		WHERE reason`+inList+" ORDER BY id", []any{reasons}, func(c *cursor) error {
		sheet, line := two(c.number(0))
		o, counts := once.origin(sql.NullInt64{Int64: sheet, Valid: sheet != 0}, int(line), c.number(4), c.number(5))
		if !counts {
			return nil
		}
		day, reason := two(c.number(1))
		list = append(list, catalog.Return{Date: catalog.Date(day), Quantity: catalog.CountOf(c.number(3)), Origin: o})
		said = append(said, [2]int64{c.number(2), reason})
		for _, w := range said[len(said)-1] {
			if _, known := v.words[w]; !known {
				missing[w] = true
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	err = v.readWords(ctx, slices.Collect(maps.Keys(missing)))
	for i := range list {
		list[i].Supplier, list[i].Reason = v.words[said[i][0]], v.words[said[i][1]]
	}
	byDay := func(a, b catalog.Return) int { return cmp.Compare(a.Date, b.Date) }
	if !slices.IsSortedFunc(list, byDay) { // sheets mostly are
		slices.SortStableFunc(list, byDay)
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
