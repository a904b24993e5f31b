package coolant_test

import (
	"math"
	"testing"

	"fitfill/catalog/units"
)

// fit is a published fit of a freezing curve: kelvins by a polynomial about
// base, or by its exponential.
type fit struct {
	base float64
	exp  bool
	a    [6]float64
}

func (f fit) freeze(x float64) float64 {
	sum, p := 0.0, 1.0
	for _, a := range f.a {
		sum += a * p
		p *= x - f.base
	}
	if f.exp {
		sum = math.Exp(sum)
	}
	return sum - 273.15
}

// Fits of the ASHRAE tables (by vol %) and of Melinder, Properties of
// Secondary Working Fluids, 2010 (by mass %), as an open library of fluid
// properties carries them.
var (
	ashraeEG    = fit{0.35, true, [6]float64{5.534468, -0.3574293, -0.6535113, -0.9039166, 1.048048, 4.622116}}
	ashraePG    = fit{0.35, true, [6]float64{5.546103, -0.3262770, -0.6666873, -0.8800598, -1.071417, -1.875782}}
	melinderEG2 = fit{0.28, true, [6]float64{5.561002, -0.2845158, -0.5327994, -0.3669494, 0.1827083, -1.110697}}
	melinderEG  = fit{0.308462, false, [6]float64{257.9, -80.8, -133.4, -72.93, 100.6, 11.4}}
	melinderPG  = fit{0.307031, false, [6]float64{259.9, -66.31, -109.4, -228.3, -340.9, 146.5}}
)

// The fits are copied right: values worked out from them elsewhere.
func TestTheSecondOpinionIsCopiedRight(t *testing.T) {
	for _, c := range []struct {
		f       fit
		x, want float64
	}{
		{ashraeEG, 0.50, -37.115}, {ashraeEG, 0.30, -15.700}, {ashraeEG, 0.60, -52.020},
		{ashraePG, 0.50, -33.661}, {ashraePG, 0.60, -51.057},
		{melinderEG, 0.40, -23.813}, {melinderEG, 0.50, -35.994},
		{melinderPG, 0.30, -12.789}, {melinderPG, 0.50, -32.193},
		{melinderEG2, 0.30, -14.598},
	} {
		near(t, "fit, °C", c.f.freeze(c.x), c.want, 0.005)
	}
}

// The tables in use against the fits of the same handbook, and against the
// other literature, which is up to 2.9 K colder.
func TestFreezingTablesAgreeWithTheSecondOpinion(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		glycol string
		byVol  fit
		within float64
		byMass fit
		colder float64
	}{{"ethylene", ashraeEG, 0.35, melinderEG, 2.95}, {"propylene", ashraePG, 0.12, melinderPG, 1.5}} {
		worst, apart := 0.0, 0.0
		for p := 10.0; p <= 57.5; p += 0.5 {
			vol, err := tb.FreezingOfLabel(c.glycol, units.Percents(p))
			if err != nil {
				t.Fatal(err)
			}
			mass, err := tb.FreezingOfMass(c.glycol, units.Percents(p))
			if err != nil {
				t.Fatal(err)
			}
			worst = max(worst, math.Abs(vol.Celsius()-c.byVol.freeze(p/100)))
			apart = max(apart, math.Abs(mass.Celsius()-c.byMass.freeze(p/100)))
		}
		t.Logf("%s: at most %.2f K from the fit of the table, %.2f K from the other literature", c.glycol, worst, apart)
		if worst > c.within || apart > c.colder {
			t.Errorf("%s: %.2f K from the fit (at most %.2f), %.2f K from the other literature (at most %.2f)", c.glycol, worst, c.within, apart, c.colder)
		}
	}
}
