package fit_test

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat/fit"
	"fitfill/data"
)

func ExampleTables_Judge() {
	ref, err := data.Reference()
	if err != nil {
		fmt.Println(err)
		return
	}
	tables, err := fit.NewTables(ref)
	if err != nil {
		fmt.Println(err)
		return
	}
	garage := catalog.Origin{Sheet: "engines.csv", Line: 2}
	sheet := catalog.Origin{Sheet: "varn.csv", Supplier: "Varn", Line: 14}
	verdicts := tables.Judge(fit.Question{
		Type: fit.Thermostat,
		Engine: catalog.EngineFamily{
			Family:      "3.4 V6",
			HousingBore: catalog.Say(units.Millimetres(54), "54.0", garage),
		},
	}, []fit.Candidate{{
		Part:     new(catalog.Part{Supplier: "Varn", Number: "TX-4711", FlangeDiameter: catalog.Say(units.Millimetres(53.6), "53.6", sheet)}),
		Listings: []catalog.Fitment{{Engine: "3.4 V6", Origin: sheet}},
	}, {
		Part:     new(catalog.Part{Supplier: "Varn", Number: "TX-4712", FlangeDiameter: catalog.Say(units.Millimetres(55), "55.0", sheet)}),
		Listings: []catalog.Fitment{{Engine: "3.4 V6", Origin: sheet}},
	}})
	for _, v := range verdicts {
		fmt.Printf("%s %s: %s\n", v.Part.Number, v.Outcome, v.First)
	}
	// Output:
	// TX-4711 yes: fits: one list and measured
	// TX-4712 no: does not fit: flange 55.0 mm, bore 54.0 mm
}
