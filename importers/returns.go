package importers

import "fitfill/catalog"

func init() {
	register(func() *kindSpec {
		return &kindSpec{
			kind:  catalog.ReturnsSheet,
			order: 10,
			fields: append(texts("supplier", "number", "reason", "document", "note"),
				field{name: "date", kind: catalog.KindDate}, field{name: "quantity", kind: catalog.KindCount},
				field{name: "purchase_date", kind: catalog.KindDate}, field{name: "fitted_date", kind: catalog.KindDate}),
			required: []string{"date", "supplier", "number", "reason"},
			blank:    []string{"reason"},
			past:     []string{"date", "purchase_date", "fitted_date"},
			telling: func(has func(string) bool) bool {
				return has("reason") && has("date") && (has("number") || has("supplier"))
			},
			bind: bindWith(returnRow),
		}
	})
}

// onePiece is the quantity of a return in a sheet without a column for it:
// there, every line is one piece.
const onePiece = 1000

// returnsRow is one line of goods that came back.
type returnsRow struct {
	Row word `csv:"_row"`

	Supplier     word  `csv:"supplier"`
	Number       word  `csv:"number"`
	Reason       word  `csv:"reason"`
	Document     word  `csv:"document"`
	Note         word  `csv:"note"`
	Date         day   `csv:"date"`
	Quantity     whole `csv:"quantity"`
	PurchaseDate day   `csv:"purchase_date"`
	FittedDate   day   `csv:"fitted_date"`
}

func returnRow(r *returnsRow, c *rowContext) (catalog.SheetRow, *problem) {
	quantity := r.Quantity.number()
	switch {
	case !c.plan.has("quantity"):
		quantity = onePiece
	case quantity == 0:
		return catalog.SheetRow{}, noQuantity()
	case quantity < 0:
		switch c.plan.minus() {
		case MinusBack:
			quantity = -quantity
		case MinusUndo: // the matching of returns takes it off an earlier one
		default:
			return catalog.SheetRow{}, &problem{code: "quantity-negative", field: "quantity",
				why: "the number of pieces is below zero: write how many came back, or say --set minus=back or --set minus=undo"}
		}
	}
	for _, earlier := range []struct {
		name string
		day  *day
	}{{"purchase_date", &r.PurchaseDate}, {"fitted_date", &r.FittedDate}} {
		if earlier.day.known() && earlier.day.date() > r.Date.date() {
			return catalog.SheetRow{}, &problem{code: "date-order", field: earlier.name,
				why: "this day lies after the day of the return, " + r.Date.date().String() + ": correct one of them"}
		}
	}
	return catalog.SheetRow{Line: c.origin.Line, Return: &catalog.Return{
		Date: r.Date.date(), Supplier: r.Supplier.text, Number: r.Number.text, Quantity: catalog.CountOf(quantity),
		Reason:       r.Reason.text,
		PurchaseDate: c.day("purchase_date", &r.PurchaseDate),
		FittedDate:   c.day("fitted_date", &r.FittedDate),
		Document:     r.Document.text, Note: r.Note.text, Origin: c.origin,
	}}, nil
}

// minus is how pieces below zero are read, empty where nobody said.
func (p *plan) minus() string {
	for _, c := range p.columns {
		if c.field.name == "quantity" {
			return c.Minus
		}
	}
	return ""
}
