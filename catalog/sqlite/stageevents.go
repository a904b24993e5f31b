package sqlite

import (
	"context"

	"fitfill/catalog"
)

// event stages a row of a table of events: content sums up all its values, and
// repeat numbers the equal ones.
func (st *Stage) event(ctx context.Context, table string, line int, values ...any) error {
	content := eventContent(table, values)
	repeat := st.repeats[content]
	st.repeats[content]++
	return st.into(ctx, table, append([]any{line, int64(content), repeat}, values...)...)
}

// eventContent sums up the values of an event: numbers, and nil where nothing is
// stated.
func eventContent(table string, values []any) uint64 {
	h := fnvOffset.text(table)
	for _, v := range values {
		switch v := v.(type) {
		case int64:
			h = h.number(v)
		case nil:
			h = h.text("")
		}
	}
	return uint64(h)
}

func (st *Stage) addPurchase(ctx context.Context, line int, p *catalog.Purchase) error {
	w := st.dict.word
	var price any
	if p.UnitPrice.Known {
		price = p.UnitPrice.Value.TenThousandths()
	}
	return st.event(ctx, "purchase", line, int64(p.Date), w(p.Supplier), w(p.Number), w(p.Type), p.Quantity.Thousandths(),
		price, w(p.UnitPrice.Value.Currency()), w(p.UnitPrice.Text), w(p.Document), w(p.Vehicle))
}

func (st *Stage) addReturn(ctx context.Context, line int, r *catalog.Return) error {
	w := st.dict.word
	return st.event(ctx, "returned", line, int64(r.Date), w(r.Supplier), w(r.Number), r.Quantity.Thousandths(), w(r.Reason),
		day(r.PurchaseDate), w(r.PurchaseDate.Text), day(r.FittedDate), w(r.FittedDate.Text), w(r.Document), w(r.Note))
}

func (st *Stage) addVehicle(ctx context.Context, line int, v *catalog.Vehicle) error {
	w := st.dict.word
	st.identities[v.Mark] = uint64(fnvOffset.text(v.VIN).text(v.Engine).text(v.FirstFill))
	return st.event(ctx, "vehicle", line, w(v.Mark), w(v.VIN), w(v.Engine), w(v.FirstFill))
}

func (st *Stage) addFill(ctx context.Context, line int, f *catalog.Fill) error {
	w := st.dict.word
	var strength, volume, drained any
	if f.Strength.Known {
		strength = f.Strength.Value.TenThousandths()
	}
	if f.Volume.Known {
		volume = f.Volume.Value.Nanolitres()
	}
	if f.Drained.Known {
		drained = f.Drained.Value.Nanolitres()
	}
	return st.event(ctx, "fill", line, int64(f.Date), w(f.Vehicle), w(f.Engine), w(f.Circuit), w(f.Number), w(f.Chemistry), w(f.Colour),
		strength, w(f.Strength.Text), volume, w(f.Volume.Text), drained, w(f.Drained.Text), w(f.Note))
}

func (st *Stage) addFitted(ctx context.Context, line int, f *catalog.Fitted) error {
	w := st.dict.word
	return st.event(ctx, "fitted", line, int64(f.Date), w(f.Vehicle), w(f.Number), w(f.Supplier), w(f.Measured))
}

func day(d catalog.Stated[catalog.Date]) any {
	if !d.Known {
		return nil
	}
	return int64(d.Value)
}
