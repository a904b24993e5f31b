package coolant_test

import (
	"maps"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat/coolant"
	"fitfill/data"
)

var origin = catalog.Origin{Sheet: "test.csv", SHA256: "00", Line: 2, Text: "row"}

func tables(tb testing.TB) *coolant.Tables {
	tb.Helper()
	ref, err := data.Reference()
	if err != nil {
		tb.Fatal(err)
	}
	t, err := coolant.NewTables(ref)
	if err != nil {
		tb.Fatal(err)
	}
	return t
}

func say[T any](v T) catalog.Stated[T] { return catalog.Say(v, "", origin) }

func vol(l float64) catalog.Stated[units.Volume]       { return say(units.Litres(l)) }
func pct(p float64) catalog.Stated[units.Percent]      { return say(units.Percents(p)) }
func temp(c float64) catalog.Stated[units.Temperature] { return say(units.Celsius(c)) }

func fluid(strength float64, chemistries ...string) coolant.Fluid {
	return coolant.Fluid{Chemistries: chemistries, Strength: pct(strength), Glycol: "ethylene"}
}

// ask is a top-off of a on v litres.
func ask(fill, add coolant.Fluid, v, a float64) coolant.Question {
	return coolant.Question{Fill: fill, Add: add, FillVolume: vol(v), AddVolume: vol(a)}
}

// engine is a family with one loop of that capacity that asks for chem.
func engine(chem string, capacity float64) *catalog.EngineFamily {
	c := catalog.Circuit{Name: catalog.DefaultCircuit, CoolantCapacity: vol(capacity)}
	if chem != "" {
		c.CoolantChem = say(chem)
	}
	return &catalog.EngineFamily{Family: "QX30", Circuits: []catalog.Circuit{c}}
}

var units3000 = units.Millimetres(3000e3)

func kPa(p float64) catalog.Stated[units.Pressure] { return say(units.Kilopascals(p)) }

// copied is the reference with rows that a test may spoil.
func copied(tb testing.TB) catalog.Reference {
	tb.Helper()
	ref, err := data.Reference()
	if err != nil {
		tb.Fatal(err)
	}
	out := catalog.Reference{}
	for name, rows := range ref {
		for _, r := range rows {
			r.Cells = maps.Clone(r.Cells)
			out[name] = append(out[name], r)
		}
	}
	return out
}
