package coolant

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

func (t *Tables) loadRefraction(rows []catalog.RefRow) error {
	t.refraction = map[string]curve{}
	for _, r := range rows {
		mass, err := r.Float("mass_pct")
		if err != nil {
			return err
		}
		index, err := r.Float("nd")
		if err != nil {
			return err
		}
		c := t.refraction[r.Get("glycol")]
		if n := len(c.mass); n > 0 && (mass <= c.mass[n-1] || index <= c.index[n-1]) {
			return unreadable(r, "nd", "does not rise with the strength")
		}
		c.mass, c.index = append(c.mass, mass), append(c.index, index)
		t.refraction[r.Get("glycol")] = c
	}
	return nil
}

// WrongScale returns what a refractometer with the scale of one glycol shows
// for a mix of the other at a mass %: the drop is read by its refractive
// index, which the two glycols do not share. off is the reading less the
// truth; below zero it promises more protection than there is. An error where
// the index or the reading is outside the tables. ASTM D3321 warns of 10 °C
// and more.
func (t *Tables) WrongScale(glycol, scale string, mass units.Percent) (reads units.Temperature, off units.TempDelta, err error) {
	massPct := mass.Percents()
	drop, on := t.refraction[glycol], t.refraction[scale]
	if len(drop.mass) == 0 || len(on.mass) == 0 || massPct < 0 || massPct > drop.mass[len(drop.mass)-1] {
		return reads, off, fmt.Errorf("no refractive index of %s glycol at %g mass %% on file", glycol, massPct)
	}
	index := linear(drop.mass, drop.index, massPct)
	if index > on.index[len(on.index)-1] {
		return reads, off, fmt.Errorf("a mix of %g mass %% %s glycol is beyond the end of the %s scale", massPct, glycol, scale)
	}
	truth, err := t.freezingOfMass(glycol, massPct)
	if err != nil {
		return reads, off, err
	}
	reads, err = t.freezingOfMass(scale, linear(on.index, on.mass, index))
	return reads, reads.Sub(truth), err
}
