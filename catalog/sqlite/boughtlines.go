package sqlite

import (
	"cmp"
	"context"
	"database/sql"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// BoughtLines are all purchases that count, each once, in the order of their day,
// then sheet and line. A trade has a million of them: they are kept as numbers,
// with each text once, and one is put together when it is asked for.
type BoughtLines struct {
	lines  []boughtLine
	texts  []string // by number of the word
	sheets map[int32]catalog.Origin
}

// boughtLine is a row of the table purchase.
type boughtLine struct {
	quantity, price                                                   int64
	sheet, line                                                       int32
	day                                                               catalog.Date
	supplier, number, partType, currency, priceText, document, marked int32
	priced                                                            bool
}

// Len returns how many they are.
func (b *BoughtLines) Len() int { return len(b.lines) }

// At puts purchase i together.
func (b *BoughtLines) At(i int) catalog.Purchase {
	l := &b.lines[i]
	p := catalog.Purchase{Date: l.day, Supplier: b.texts[l.supplier], Number: b.texts[l.number], Type: b.texts[l.partType],
		Quantity: catalog.CountOf(l.quantity), Document: b.texts[l.document], Vehicle: b.texts[l.marked], Origin: b.sheets[l.sheet]}
	p.Origin.Line = int(l.line)
	if l.priced {
		p.UnitPrice = catalog.Say(units.MoneyOf(l.price, b.texts[l.currency]), b.texts[l.priceText], p.Origin)
	}
	return p
}

// Price returns what a piece of purchase i cost; ok is false where no price is
// stated.
func (b *BoughtLines) Price(i int) (price units.Money, ok bool) {
	l := &b.lines[i]
	return units.MoneyOf(l.price, b.texts[l.currency]), l.priced
}

// Day returns the day of purchase i.
func (b *BoughtLines) Day(i int) catalog.Date { return b.lines[i].day }

// Quantity returns how much purchase i is of.
func (b *BoughtLines) Quantity(i int) catalog.Count { return catalog.CountOf(b.lines[i].quantity) }

// Number returns the part number of purchase i.
func (b *BoughtLines) Number(i int) string { return b.texts[b.lines[i].number] }

// BoughtLines reads the purchases of the active sheets.
func (v *View) BoughtLines(ctx context.Context) (*BoughtLines, error) {
	b := &BoughtLines{sheets: map[int32]catalog.Origin{}}
	var rows, sheets int
	if err := v.row(ctx, "SELECT count(*), count(DISTINCT coalesce(sheet_id, 0)) FROM purchase", nil, &rows, &sheets); err != nil {
		return nil, err
	}
	b.lines = make([]boughtLine, 0, rows)
	once := v.events()
	// Two numbers travel in one: a row costs what its columns cost. Within one sheet
	// no two rows are the same event, and what would tell is left out.
	columns, query := 7, `SELECT coalesce(sheet_id, 0) << 32 | line, day << 32 | vehicle, supplier << 32 | number, type << 32 | currency,
		price_text << 32 | document, quantity, price`
	if sheets > 1 {
		columns, query = 9, query+", content, repeat"
	}
	err := v.each(ctx, query+" FROM purchase", nil, scanNumbers(columns, func(n []int64, null []bool) {
		l := boughtLine{sheet: int32(n[0] >> 32), line: int32(n[0]), day: catalog.Date(n[1] >> 32), marked: int32(n[1]), supplier: int32(n[2] >> 32), number: int32(n[2]),
			partType: int32(n[3] >> 32), currency: int32(n[3]), priceText: int32(n[4] >> 32), document: int32(n[4]), quantity: n[5], price: n[6], priced: !null[6]}
		if sheets == 1 {
			if _, active := b.sheets[l.sheet]; !active {
				o, counts := v.origin(int64(l.sheet), 0)
				if l.sheet != 0 && !counts {
					return
				}
				b.sheets[l.sheet] = o
			}
		} else {
			o, counts := once.origin(sql.NullInt64{Int64: int64(l.sheet), Valid: l.sheet != 0}, 0, n[7], n[8])
			if !counts {
				return
			}
			b.sheets[l.sheet] = o
		}
		b.lines = append(b.lines, l)
	}))
	if err != nil {
		return nil, err
	}
	byDay := func(x, y boughtLine) int { return cmp.Compare(x.day, y.day) }
	if !slices.IsSortedFunc(b.lines, byDay) {
		slices.SortStableFunc(b.lines, byDay)
	}
	return b, b.readTexts(ctx, v)
}

// readTexts reads the words of the lines: one by one where they are few, with
// all others of the catalogue where most of them are asked for.
func (b *BoughtLines) readTexts(ctx context.Context, v *View) error {
	var top int32
	for i := range b.lines {
		l := &b.lines[i]
		top = max(top, l.supplier, l.number, l.partType, l.currency, l.priceText, l.document, l.marked)
	}
	wanted := make([]bool, top+1)
	for i := range b.lines {
		l := &b.lines[i]
		for _, w := range [...]int32{l.supplier, l.number, l.partType, l.currency, l.priceText, l.document, l.marked} {
			wanted[w] = true
		}
	}
	b.texts = make([]string, top+1)
	var ids []int64
	for w, yes := range wanted {
		if yes {
			ids = append(ids, int64(w))
		}
	}
	const few = 20_000
	query, args := "SELECT id, text FROM word WHERE id <= ?", []any{top}
	if len(ids) <= few {
		query, args = "SELECT id, text FROM word WHERE id"+inList, []any{list(ids)}
	}
	return v.each(ctx, query, args, func(r record) error {
		var id int64
		var text string
		err := r.Scan(&id, &text)
		if wanted[id] {
			b.texts[id] = text
		}
		return err
	})
}

// scanNumbers scans rows of numbers without looking at what each is scanned
// into: with a million rows that takes longer than reading them. A null is 0 and
// marked.
func scanNumbers(columns int, do func(n []int64, null []bool)) func(record) error {
	values, to := make([]any, columns), make([]any, columns)
	for i := range values {
		to[i] = &values[i]
	}
	n, null := make([]int64, columns), make([]bool, columns)
	return func(r record) error {
		if err := r.Scan(to...); err != nil {
			return err
		}
		for i, v := range values {
			var number bool
			n[i], number = v.(int64)
			null[i] = !number
		}
		do(n, null)
		return nil
	}
}
