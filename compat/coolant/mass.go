package coolant

import (
	"fitfill/catalog"
	"fitfill/catalog/units"
)

// The base glycols, and what a system with both of them is called.
const (
	ethyleneID  = "ethylene"
	propyleneID = "propylene"
	mixedID     = "mixed"
)

// fluid is a pure fluid at 20 °C.
type fluid struct {
	density float64 // kg/L
	molar   float64 // g/mol
}

func (t *Tables) loadProperties(rows []catalog.RefRow) error {
	t.fluids = map[string]fluid{}
	for _, r := range rows {
		density, err := r.Float("density_20c_kg_m3")
		if err != nil {
			return err
		}
		molar, err := r.Float("molar_mass_g_mol")
		if err != nil {
			return err
		}
		if density <= 0 || molar <= 0 {
			return unreadable(r, "fluid", "needs a density and a molar mass above zero")
		}
		t.fluids[r.Get("fluid")] = fluid{density / 1000, molar}
	}
	for _, need := range []string{waterID, ethyleneID, propyleneID} {
		if _, ok := t.fluids[need]; !ok {
			return unreadable(rows[0], "fluid", "leaves out "+need)
		}
	}
	return nil
}

// Charge is what a system holds, kept by mass, in kilograms. Masses add
// exactly, volumes do not: glycol and water shrink by one to two per cent when
// they meet. The zero Charge is an empty system.
type Charge struct {
	Ethylene, Propylene, Water float64
}

// Pour returns the charge of a volume of coolant of a strength in vol % as
// poured (litres of glycol per 100 litres poured, measured apart at 20 °C).
// The glycol is ethylene or propylene; an empty name is judged as ethylene.
func (t *Tables) Pour(glycol string, v units.Volume, strength units.Percent) Charge {
	return t.pour(glycol, v.Litres(), strength.Fraction())
}

func (t *Tables) pour(glycol string, litres, fraction float64) Charge {
	c := Charge{Water: litres * (1 - fraction) * t.fluids[waterID].density}
	if glycol == propyleneID {
		c.Propylene = litres * fraction * t.fluids[propyleneID].density
	} else {
		c.Ethylene = litres * fraction * t.fluids[ethyleneID].density
	}
	return c
}

// Add returns the charge of both poured together.
func (c Charge) Add(d Charge) Charge {
	return Charge{c.Ethylene + d.Ethylene, c.Propylene + d.Propylene, c.Water + d.Water}
}

// Mass returns the whole mass in kilograms.
func (c Charge) Mass() float64 { return c.Ethylene + c.Propylene + c.Water }

// GlycolMass returns the mass % of glycol of either kind; 0 for an empty system.
func (c Charge) GlycolMass() units.Percent { return units.Percents(c.massPct()) }

func (c Charge) massPct() float64 {
	if m := c.Mass(); m > 0 {
		return 100 * (c.Ethylene + c.Propylene) / m
	}
	return 0
}

// PropyleneShare returns the share of propylene glycol in the glycol, by mass,
// 0 to 1; 0 where there is no glycol.
func (c Charge) PropyleneShare() float64 {
	if g := c.Ethylene + c.Propylene; g > 0 {
		return c.Propylene / g
	}
	return 0
}

// Strength returns vol % as poured: the volumes that were poured, measured
// apart at 20 °C. 0 for an empty system.
func (t *Tables) Strength(c Charge) units.Percent { return units.Percents(t.strength(c)) }

func (t *Tables) strength(c Charge) float64 {
	g := c.Ethylene/t.fluids[ethyleneID].density + c.Propylene/t.fluids[propyleneID].density
	if all := g + c.Water/t.fluids[waterID].density; all > 0 {
		return 100 * g / all
	}
	return 0
}

// GlycolOf names the glycol of a charge: ethylene, propylene, mixed, or ""
// where there is none. A trace of the other glycol below the table's share
// does not make a mix.
func (t *Tables) GlycolOf(c Charge) string {
	share := 100 * c.PropyleneShare()
	switch {
	case c.Ethylene+c.Propylene <= 0:
		return ""
	case share <= t.lim.mixedShare:
		return ethyleneID
	case share >= 100-t.lim.mixedShare:
		return propyleneID
	}
	return mixedID
}
