package coolant

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// ErrOverStrength is returned where there is more glycol than the freezing
// table holds: protection no longer rises there, and no figure is given.
var ErrOverStrength = errors.New("over-strength: protection no longer rises, dilute it")

// ErrTooCold is returned where no strength of the table protects that far.
var ErrTooCold = errors.New("no strength protects that far down")

// curve is one glycol's table by rising mass %: handbook vol % and freezing
// point, or refractive index.
type curve struct{ mass, vol, freeze, index []float64 }

func (t *Tables) loadFreezing(rows []catalog.RefRow) error {
	t.curves, t.freezeRow = map[string]curve{}, rows[0]
	for _, r := range rows {
		var cells [3]float64
		for i, column := range []string{"mass_pct", "vol_pct", "freeze_c"} {
			v, err := r.Float(column)
			if err != nil {
				return err
			}
			cells[i] = v
		}
		c := t.curves[r.Get("glycol")]
		if n := len(c.mass); n > 0 && (cells[0] <= c.mass[n-1] || cells[1] <= c.vol[n-1] || cells[2] >= c.freeze[n-1]) {
			return unreadable(r, "mass_pct", "does not follow the row before: strength rises and the freezing point falls")
		}
		c.mass, c.vol, c.freeze = append(c.mass, cells[0]), append(c.vol, cells[1]), append(c.freeze, cells[2])
		t.curves[r.Get("glycol")] = c
	}
	for _, need := range []string{ethyleneID, propyleneID} {
		c := t.curves[need]
		if len(c.mass) < 2 || c.mass[0] != 0 || c.mass[len(c.mass)-1] < t.lim.freezeMaxMass {
			return fmt.Errorf("table coolant_freezing: the rows of %s must reach from 0 to %g mass %%", need, t.lim.freezeMaxMass)
		}
	}
	return nil
}

// linear interpolates y at x; x must lie inside xs, which rise.
func linear(xs, ys []float64, x float64) float64 {
	i := sort.SearchFloat64s(xs, x)
	if i == 0 {
		return ys[0]
	}
	if i == len(xs) {
		return ys[len(ys)-1]
	}
	return ys[i-1] + (ys[i]-ys[i-1])*(x-xs[i-1])/(xs[i]-xs[i-1])
}

// Freezing returns the freezing point of a charge, linear in mass % between
// the rows of the ASHRAE tables, and its uncertainty; pm is the uncertainty of
// the strength in vol % (0: exact). For both glycols in one system
// Tf = (1-s)·TfEG(w) + s·TfPG(w), with w the mass % of all glycol and s the
// share of propylene in it. ErrOverStrength above 60 mass %.
func (t *Tables) Freezing(c Charge, pm units.Percent) (units.Temperature, units.TempDelta, error) {
	f, err := t.freeze(c)
	if err != nil {
		return units.Temperature{}, units.TempDelta{}, err
	}
	return units.Celsius(f), units.Kelvins(t.freezePM(c, pm.Percents())), nil
}

func (t *Tables) freeze(c Charge) (float64, error) {
	w := c.massPct()
	if w > t.lim.freezeMaxMass {
		return 0, ErrOverStrength
	}
	return t.freezeAt(w, c.PropyleneShare()), nil
}

func (t *Tables) freezeAt(w, s float64) float64 {
	eg, pg := t.curves[ethyleneID], t.curves[propyleneID]
	switch s {
	case 0:
		return linear(eg.mass, eg.freeze, w)
	case 1:
		return linear(pg.mass, pg.freeze, w)
	}
	return (1-s)*linear(eg.mass, eg.freeze, w) + s*linear(pg.mass, pg.freeze, w)
}

// freezePM is the table's own error plus the larger swing of the freezing
// point when the strength moves by pm vol % either way.
func (t *Tables) freezePM(c Charge, pm float64) float64 {
	base := t.lim.freezePM[t.GlycolOf(c)]
	if pm <= 0 {
		return base
	}
	s, v := c.PropyleneShare(), t.strength(c)
	here, swing := t.freezeAt(c.massPct(), s), 0.0
	for _, d := range []float64{-pm, pm} {
		w := min(t.massAt(min(max(v+d, 0), 100), s), t.lim.freezeMaxMass)
		swing = max(swing, math.Abs(t.freezeAt(w, s)-here))
	}
	return base + swing
}

// FreezingOfMass returns the freezing point of one glycol at a mass %.
func (t *Tables) FreezingOfMass(glycol string, mass units.Percent) (units.Temperature, error) {
	return t.freezingOfMass(glycol, mass.Percents())
}

func (t *Tables) freezingOfMass(glycol string, massPct float64) (units.Temperature, error) {
	if massPct > t.lim.freezeMaxMass {
		return units.Temperature{}, ErrOverStrength
	}
	c := t.curveOf(glycol)
	return units.Celsius(linear(c.mass, c.freeze, massPct)), nil
}

// FreezingOfLabel returns the freezing point at a handbook vol %, the basis in
// which labels are printed (volume of glycol in the volume of the mix, ASHRAE
// column), not the as-poured vol % of a garage.
func (t *Tables) FreezingOfLabel(glycol string, strength units.Percent) (units.Temperature, error) {
	volPct := strength.Percents()
	c := t.curveOf(glycol)
	mass := linear(c.vol, c.mass, volPct)
	if volPct > c.vol[len(c.vol)-1] {
		return units.Temperature{}, ErrOverStrength
	}
	return t.freezingOfMass(glycol, mass)
}

func (t *Tables) curveOf(glycol string) curve {
	if glycol == propyleneID {
		return t.curves[propyleneID]
	}
	return t.curves[ethyleneID]
}

// massAt returns the mass % of glycol at vol % as poured, with the share s of
// propylene in the glycol by mass: w = v·ρg / (v·ρg + (100-v)·ρw).
func (t *Tables) massAt(v, s float64) float64 {
	glycol := v / ((1-s)/t.fluids[ethyleneID].density + s/t.fluids[propyleneID].density)
	return 100 * glycol / (glycol + (100-v)*t.fluids[waterID].density)
}
