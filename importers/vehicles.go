package importers

import "fitfill/catalog"

func init() {
	register(func() *kindSpec {
		return &kindSpec{
			kind:     catalog.VehiclesSheet,
			order:    50,
			fields:   texts("vehicle", "vin", "engine", "first_fill"),
			required: []string{"vehicle"},
			identity: "vehicle",
			noun:     "vehicle",
			telling: func(has func(string) bool) bool {
				return has("vehicle") && (has("vin") || has("first_fill") || has("engine")) && !has("date")
			},
			bind: bindWith(vehicleRow),
		}
	})
}

// vehiclesRow is one row of the vehicles sheet.
type vehiclesRow struct {
	Row word `csv:"_row"`

	Vehicle   word `csv:"vehicle"`
	VIN       word `csv:"vin"`
	Engine    word `csv:"engine"`
	FirstFill word `csv:"first_fill"`
}

func vehicleRow(r *vehiclesRow, c *rowContext) (catalog.SheetRow, *problem) {
	return catalog.SheetRow{Line: c.origin.Line, Vehicle: &catalog.Vehicle{
		Mark: r.Vehicle.text, VIN: r.VIN.text, Engine: r.Engine.text, FirstFill: r.FirstFill.text, Origin: c.origin,
	}}, nil
}
