package coolant

import (
	"fmt"
	"math"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// vapour is a DIPPR-101 vapour pressure: ln p = C1 + C2/T + C3·ln T + C4·T^C5,
// p in Pa, T in K.
type vapour struct{ c1, c2, c3, c4, c5, min, max float64 }

func (t *Tables) loadVapours(rows []catalog.RefRow) error {
	t.vapours = map[string]vapour{}
	for _, r := range rows {
		var v vapour
		for column, into := range map[string]*float64{
			"c1": &v.c1, "c2": &v.c2, "c3": &v.c3, "c4": &v.c4, "c5": &v.c5, "min_k": &v.min, "max_k": &v.max,
		} {
			var err error
			if *into, err = r.Float(column); err != nil {
				return err
			}
		}
		t.vapours[r.Get("glycol")] = v
	}
	for _, need := range []string{ethyleneID, propyleneID} {
		v, ok := t.vapours[need]
		if !ok || v.min > t.lim.boilSearchLow || v.max < t.lim.boilSearchHigh {
			return fmt.Errorf("table coolant_vapour: %s must reach from %g to %g K", need, t.lim.boilSearchLow, t.lim.boilSearchHigh)
		}
	}
	return nil
}

// pressure returns kPa at kelvins.
func (v vapour) pressure(k float64) float64 {
	return math.Exp(v.c1+v.c2/k+v.c3*math.Log(k)+v.c4*math.Pow(k, v.c5)) / 1000
}

// GlycolVapour returns the vapour pressure of a pure glycol; an error outside
// the range of its coefficients.
func (t *Tables) GlycolVapour(glycol string, at units.Temperature) (units.Pressure, error) {
	v, ok := t.vapours[glycol]
	if !ok || at.Kelvin() < v.min || at.Kelvin() > v.max {
		return units.Pressure{}, fmt.Errorf("no vapour pressure of %s glycol at %.2f K on file", glycol, at.Kelvin())
	}
	return units.Kilopascals(v.pressure(at.Kelvin())), nil
}
