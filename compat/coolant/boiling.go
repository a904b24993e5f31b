package coolant

import (
	"errors"
	"fmt"
	"math"

	"fitfill/catalog/units"
)

// ErrNoBoiling is returned where a mix is too strong for the boiling model.
var ErrNoBoiling = errors.New("too strong for a boiling figure")

// WaterMoles returns the mole fraction of water in a charge; 1 for water, 0
// for an empty system.
func (t *Tables) WaterMoles(c Charge) float64 {
	w := c.Water / t.fluids[waterID].molar
	all := w + c.Ethylene/t.fluids[ethyleneID].molar + c.Propylene/t.fluids[propyleneID].molar
	if all <= 0 {
		return 0
	}
	return w / all
}

// Boiling returns the boiling point of a charge at an absolute pressure, and
// its uncertainty: that of the model, and how far the boiling point moves with
// pm vol % of strength either way. The vapour over an ideal mix of water and glycols,
// p = xw·pw(T) + xEG·pEG(T) + xPG·pPG(T), water by IAPWS-IF97 and the glycols
// by DIPPR-101, is solved for T by bisection. ErrNoBoiling above 70 vol % as
// poured, where the model falls behind the handbooks.
func (t *Tables) Boiling(c Charge, absolute units.Pressure, pm units.Percent) (units.Temperature, units.TempDelta, error) {
	if t.strength(c) > t.lim.boilMaxStrength {
		return units.Temperature{}, units.TempDelta{}, ErrNoBoiling
	}
	k, err := t.boil(c, absolute.Kilopascals())
	if err != nil {
		return units.Temperature{}, units.TempDelta{}, err
	}
	swing := 0.0
	for _, d := range []float64{-pm.Percents(), pm.Percents()} {
		if there, err := t.boil(t.stronger(c, d), absolute.Kilopascals()); err == nil && d != 0 {
			swing = max(swing, math.Abs(there-k))
		}
	}
	return kelvins(k), units.Kelvins(t.lim.boilPM + swing), nil
}

func (t *Tables) boil(c Charge, kPa float64) (float64, error) {
	mw := c.Water / t.fluids[waterID].molar
	me := c.Ethylene / t.fluids[ethyleneID].molar
	mp := c.Propylene / t.fluids[propyleneID].molar
	all := mw + me + mp
	if all <= 0 {
		return 0, errors.New("an empty system has no boiling point")
	}
	eg, pg := t.vapours[ethyleneID], t.vapours[propyleneID]
	over := func(k float64) float64 {
		p := mw / all * t.steamPressure(k)
		if me > 0 {
			p += me / all * eg.pressure(k)
		}
		if mp > 0 {
			p += mp / all * pg.pressure(k)
		}
		return p
	}
	low, high := t.lim.boilSearchLow, t.lim.boilSearchHigh
	if kPa < over(low) || kPa > over(high) {
		return 0, fmt.Errorf("no boiling point between %g and %g K at %.1f kPa", low, high, kPa)
	}
	for high-low > 1e-6 {
		if mid := (low + high) / 2; over(mid) < kPa {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2, nil
}
