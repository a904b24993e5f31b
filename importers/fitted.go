package importers

import "fitfill/catalog"

func init() {
	register(func() *kindSpec {
		return &kindSpec{
			kind:     catalog.FittedSheet,
			order:    40,
			fields:   append(texts("vehicle", "number", "supplier", "measured"), field{name: "date", kind: catalog.KindDate}),
			required: []string{"date", "vehicle", "number"},
			past:     []string{"date"},
			telling: func(has func(string) bool) bool {
				return has("date") && has("vehicle") && has("number")
			},
			bind: bindWith(fittedRow),
		}
	})
}

// fittedSheetRow is one part that was put into a vehicle.
type fittedSheetRow struct {
	Row word `csv:"_row"`

	Vehicle  word `csv:"vehicle"`
	Number   word `csv:"number"`
	Supplier word `csv:"supplier"`
	Measured word `csv:"measured"`
	Date     day  `csv:"date"`
}

func fittedRow(r *fittedSheetRow, c *rowContext) (catalog.SheetRow, *problem) {
	return catalog.SheetRow{Line: c.origin.Line, Fitted: &catalog.Fitted{
		Date: r.Date.date(), Vehicle: r.Vehicle.text, Number: r.Number.text, Supplier: r.Supplier.text,
		Measured: r.Measured.text, Origin: c.origin,
	}}, nil
}
