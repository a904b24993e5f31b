package coolant

import (
	"errors"
	"math"
	"strconv"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// ErrNoDensity is returned where the density fits do not reach.
var ErrNoDensity = errors.New("outside what the densities are known for")

// kelvinAtZero is 0 °C in kelvins.
const kelvinAtZero = 273.15

// densityFit is a fit of one glycol's density: kg/m³, by powers of the
// temperature and of the strength about their bases.
type densityFit [4][6]float64

func (t *Tables) loadDensities(rows []catalog.RefRow) error {
	t.densities = map[string]densityFit{}
	for _, r := range rows {
		power, err := strconv.Atoi(r.Get("power"))
		f := t.densities[r.Get("glycol")]
		if err != nil || power < 0 || power >= len(f) {
			return unreadable(r, "power", "must be 0 to 3")
		}
		for j := range f[power] {
			if f[power][j], err = r.Float("c" + strconv.Itoa(j)); err != nil {
				return err
			}
		}
		t.densities[r.Get("glycol")] = f
	}
	for _, need := range []string{ethyleneID, propyleneID} {
		if _, ok := t.densities[need]; !ok {
			return unreadable(rows[0], "glycol", "leaves out "+need)
		}
	}
	return nil
}

// Density returns the density of a charge in kg/m³,
// ρ = ΣiΣj cij·(T-Tb)^i·(x-xb)^j, x the handbook volume fraction of glycol;
// between the two glycols linear in their masses. ErrNoDensity outside 10 to
// 60 vol %.
func (t *Tables) Density(c Charge, at units.Temperature) (float64, error) {
	w, s, rho := c.massPct(), c.PropyleneShare(), 0.0
	for glycol, part := range map[string]float64{ethyleneID: 1 - s, propyleneID: s} {
		if part == 0 {
			continue
		}
		curve, fit := t.curves[glycol], t.densities[glycol]
		x := linear(curve.mass, curve.vol, w)
		if w > t.lim.freezeMaxMass || x < t.limits["density_strength_min"].value || x > t.limits["density_strength_max"].value {
			return 0, ErrNoDensity
		}
		dx, dt := (x-t.limits["density_base_strength"].value)/100, at.Sub(units.Celsius(0)).Kelvins()+kelvinAtZero-t.limits["density_base_temp"].value
		for i, row := range fit {
			for j, cij := range row {
				rho += part * cij * math.Pow(dt, float64(i)) * math.Pow(dx, float64(j))
			}
		}
	}
	return rho, nil
}

// Expansion returns by how much of its volume a charge grows between two
// temperatures, in per cent: ρ(from)/ρ(to) - 1.
func (t *Tables) Expansion(c Charge, from, to units.Temperature) (float64, error) {
	cold, err := t.Density(c, from)
	if err != nil {
		return 0, err
	}
	hot, err := t.Density(c, to)
	if err != nil {
		return 0, err
	}
	return 100 * (cold/hot - 1), nil
}

// headRoom is what a system of a volume needs to have free above its coolant
// when it is filled cold.
func (t *Tables) headRoom(c Charge, volume, strengthPM float64) (density *float64, grows *Figure[units.Volume, units.Volume], free *units.Volume) {
	from, to := units.Celsius(t.limits["fill_temp"].value), units.Celsius(t.limits["hot_temp"].value)
	rho, err := t.Density(c, from)
	if err != nil {
		return nil, nil, nil
	}
	pct, err := t.Expansion(c, from, to)
	if err != nil {
		return &rho, nil, nil
	}
	pm := t.limits["expansion_uncertainty"].value
	for _, d := range []float64{-strengthPM, strengthPM} {
		if there, err := t.Expansion(t.stronger(c, d), from, to); err == nil {
			pm = max(pm, t.limits["expansion_uncertainty"].value+math.Abs(there-pct))
		}
	}
	more := volume * pct / 100
	room := litres(more * t.limits["headroom_factor"].value)
	wrong := more*t.lim.volumePM/100 + volume*pm/100
	return &rho, &Figure[units.Volume, units.Volume]{litres(more), litres(wrong)}, &room
}

// stronger returns one kilogram of a charge whose strength is d vol % higher.
func (t *Tables) stronger(c Charge, d float64) Charge {
	s := c.PropyleneShare()
	w := t.massAt(min(max(t.strength(c)+d, 0), 100), s) / 100
	return Charge{Ethylene: w * (1 - s), Propylene: w * s, Water: 1 - w}
}
