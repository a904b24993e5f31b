package importers

import "fitfill/catalog"

func init() {
	register(func() *kindSpec {
		return &kindSpec{
			kind:  catalog.PurchasesSheet,
			order: 20,
			fields: append(texts("supplier", "number", "type", "document", "vehicle", "currency"),
				field{name: "date", kind: catalog.KindDate}, field{name: "quantity", kind: catalog.KindCount},
				field{name: "unit_price", kind: catalog.KindMoney}),
			required: []string{"date", "supplier", "number", "quantity"},
			past:     []string{"date"},
			telling: func(has func(string) bool) bool {
				return has("date") && has("number") && has("quantity") && has("supplier") || has("date") && has("number") && has("unit_price")
			},
			bind: bindWith(purchaseRow),
		}
	})
}

// purchasesRow is one line of goods bought. A negative quantity is a credit
// note.
type purchasesRow struct {
	Row word `csv:"_row"`

	Supplier  word  `csv:"supplier"`
	Number    word  `csv:"number"`
	Type      word  `csv:"type"`
	Document  word  `csv:"document"`
	Vehicle   word  `csv:"vehicle"`
	Currency  word  `csv:"currency"`
	Date      day   `csv:"date"`
	Quantity  whole `csv:"quantity"`
	UnitPrice money `csv:"unit_price"`
}

func purchaseRow(r *purchasesRow, c *rowContext) (catalog.SheetRow, *problem) {
	if r.Quantity.number() == 0 {
		return catalog.SheetRow{}, noQuantity()
	}
	return catalog.SheetRow{Line: c.origin.Line, Purchase: &catalog.Purchase{
		Date: r.Date.date(), Supplier: r.Supplier.text, Number: r.Number.text, Type: r.Type.text,
		Quantity: catalog.CountOf(r.Quantity.number()), UnitPrice: c.money("unit_price", &r.UnitPrice),
		Document: r.Document.text, Vehicle: r.Vehicle.text, Origin: c.origin,
	}}, nil
}

func noQuantity() *problem {
	return &problem{code: "quantity-zero", field: "quantity", why: "a line of no pieces says nothing: write how many, or take the line out"}
}
