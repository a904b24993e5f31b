package coolant

import (
	"fitfill/catalog"
	"fitfill/catalog/units"
)

// StrengthNeeded returns the handbook vol % of a glycol that freezes at the
// given temperature, the inverse of the ASHRAE table. ErrTooCold below the
// table's end. At or above 0 °C no glycol is needed.
func (t *Tables) StrengthNeeded(glycol string, freeze units.Temperature) (units.Percent, error) {
	w, err := t.massNeeded(glycol, freeze.Celsius())
	if err != nil {
		return units.Percent{}, err
	}
	c := t.curveOf(glycol)
	return units.Percents(linear(c.mass, c.vol, w)), nil
}

// StrengthNeededAsPoured is StrengthNeeded in vol % as poured, through the
// mass % and the densities at 20 °C.
func (t *Tables) StrengthNeededAsPoured(glycol string, freeze units.Temperature) (units.Percent, error) {
	w, err := t.massNeeded(glycol, freeze.Celsius())
	if err != nil {
		return units.Percent{}, err
	}
	c := Charge{Ethylene: w, Water: 100 - w}
	if glycol == propyleneID {
		c = Charge{Propylene: w, Water: 100 - w}
	}
	return t.Strength(c), nil
}

// StrengthForColdest is StrengthNeeded for the coldest day less the margin
// that the table asks for.
func (t *Tables) StrengthForColdest(glycol string, coldest units.Temperature) (units.Percent, error) {
	return t.StrengthNeeded(glycol, coldest.Add(units.Kelvins(-t.lim.freezeMargin)))
}

func (t *Tables) massNeeded(glycol string, freeze float64) (float64, error) {
	c := t.curveOf(glycol)
	n := len(c.mass)
	if freeze >= c.freeze[0] {
		return 0, nil
	}
	if freeze < c.freeze[n-1] {
		return 0, ErrTooCold
	}
	for i := 1; i < n; i++ {
		if freeze >= c.freeze[i] {
			return c.mass[i-1] + (c.mass[i]-c.mass[i-1])*(freeze-c.freeze[i-1])/(c.freeze[i]-c.freeze[i-1]), nil
		}
	}
	return c.mass[n-1], nil
}

// StrengthRead returns the strength as poured of a drop that a refractometer
// of that glycol's scale reads, with the uncertainty of a reading carried
// through the table. ErrTooCold where the reading is beyond the table.
func (t *Tables) StrengthRead(scale string, reads units.Temperature) (value, pm units.Percent, err error) {
	if value, err = t.StrengthNeededAsPoured(scale, reads); err != nil {
		return value, pm, err
	}
	warm, err := t.StrengthNeededAsPoured(scale, reads.Add(units.Kelvins(t.lim.fractPM)))
	if err != nil {
		return value, pm, err
	}
	return value, units.Percents(value.Percents() - warm.Percents()), nil
}

// EffectiveConcentrate returns the litres of effective glycol in a litre of
// concentrate whose label gives the freezing point of a mix of mixed vol %:
// the strength that the table needs for that point, over mixed.
func (t *Tables) EffectiveConcentrate(glycol string, mixed units.Percent, freeze units.Temperature) (float64, error) {
	need, err := t.StrengthNeeded(glycol, freeze)
	if err != nil {
		return 0, err
	}
	return need.Percents() / mixed.Percents(), nil
}

// BottleStrength returns the strength as poured that the label of a bottle
// gives, with what a concentrate or a premix usually holds; not known where the
// label says neither.
func (t *Tables) BottleStrength(f Fluid) catalog.Stated[units.Percent] {
	s := t.substance(&f, true, nil)
	if !s.exact {
		return catalog.Stated[units.Percent]{}
	}
	return catalog.Say(units.Percents(s.low), "", catalog.Origin{})
}
