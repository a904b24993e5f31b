package importers

import (
	"slices"

	"fitfill/catalog"
)

func init() {
	register(func() *kindSpec {
		return &kindSpec{
			kind:  catalog.FillsSheet,
			order: 30,
			fields: append(texts("vehicle", "engine", "circuit", "number", "chemistry", "colour", "note"),
				field{name: "date", kind: catalog.KindDate}, field{name: "strength", kind: catalog.KindPercent},
				field{name: "volume", kind: catalog.KindVolume}, field{name: "drained", kind: catalog.KindVolume}),
			required: []string{"date", "vehicle"},
			past:     []string{"date"},
			telling: func(has func(string) bool) bool {
				return has("date") && has("vehicle") && slices.ContainsFunc([]string{"chemistry", "strength", "volume", "drained"}, has)
			},
			bind: bindWith(fillRow),
		}
	})
}

// fillsRow is what went into a vehicle on one day.
type fillsRow struct {
	Row word `csv:"_row"`

	Vehicle   word  `csv:"vehicle"`
	Engine    word  `csv:"engine"`
	Circuit   word  `csv:"circuit"`
	Number    word  `csv:"number"`
	Chemistry word  `csv:"chemistry"`
	Colour    word  `csv:"colour"`
	Note      word  `csv:"note"`
	Date      day   `csv:"date"`
	Strength  whole `csv:"strength"`
	Volume    whole `csv:"volume"`
	Drained   whole `csv:"drained"`
}

func fillRow(r *fillsRow, c *rowContext) (catalog.SheetRow, *problem) {
	circuit := r.Circuit.text
	if circuit == "" {
		circuit = catalog.DefaultCircuit
	}
	return catalog.SheetRow{Line: c.origin.Line, Fill: &catalog.Fill{
		Date: r.Date.date(), Vehicle: r.Vehicle.text, Engine: r.Engine.text, Circuit: circuit,
		Number: r.Number.text, Chemistry: r.Chemistry.text, Colour: r.Colour.text,
		Strength: c.percent("strength", &r.Strength),
		Volume:   c.volume("volume", &r.Volume),
		Drained:  c.volume("drained", &r.Drained),
		Note:     r.Note.text, Origin: c.origin,
	}}, nil
}
