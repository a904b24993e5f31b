package coolant

import (
	"fmt"
	"math"
	"strconv"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

func (t *Tables) loadSteam(rows []catalog.RefRow) error {
	if len(rows) != len(t.steam) {
		return fmt.Errorf("table coolant_if97: %d rows where region 4 has %d coefficients", len(rows), len(t.steam))
	}
	for i, r := range rows {
		if r.Get("n") != strconv.Itoa(i+1) {
			return unreadable(r, "n", "is out of order")
		}
		v, err := r.Float("value")
		if err != nil {
			return err
		}
		t.steam[i] = v
	}
	return nil
}

// SaturationPressure returns the vapour pressure of water, kPa to 1e-6, from
// 273.15 to 647.096 K; outside it is an error. IAPWS-IF97, equation 30.
func (t *Tables) SaturationPressure(at units.Temperature) (units.Pressure, error) {
	k := at.Kelvin()
	if k < t.lim.saturationMin || k > t.lim.saturationMax {
		return units.Pressure{}, fmt.Errorf("water has no vapour pressure at %.2f K: the formula holds from %g to %g K", k, t.lim.saturationMin, t.lim.saturationMax)
	}
	return units.Kilopascals(t.steamPressure(k)), nil
}

// steamPressure returns kPa at kelvins. IAPWS-IF97, equations 29b and 30.
func (t *Tables) steamPressure(k float64) float64 {
	n := &t.steam
	th := k + n[8]/(k-n[9])
	a := th*th + n[0]*th + n[1]
	b := n[2]*th*th + n[3]*th + n[4]
	c := n[5]*th*th + n[6]*th + n[7]
	p := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	p *= p
	return 1000 * p * p
}

// SaturationTemperature returns the boiling point of water at an absolute
// pressure. IAPWS-IF97, equation 31. An error outside the range of region 4.
func (t *Tables) SaturationTemperature(p units.Pressure) (units.Temperature, error) {
	if p.Kilopascals() < t.steamPressure(t.lim.saturationMin) || p.Kilopascals() > t.steamPressure(t.lim.saturationMax) {
		return units.Temperature{}, fmt.Errorf("water has no boiling point at %.3f kPa: the formula ends at the critical point and at freezing", p.Kilopascals())
	}
	return kelvins(t.steamTemperature(p.Kilopascals())), nil
}

// steamTemperature returns kelvins at kPa. IAPWS-IF97, equations 29a and 31.
func (t *Tables) steamTemperature(kPa float64) float64 {
	n := &t.steam
	beta := math.Pow(kPa/1000, 0.25)
	e := beta*beta + n[2]*beta + n[5]
	f := n[0]*beta*beta + n[3]*beta + n[6]
	g := n[1]*beta*beta + n[4]*beta + n[7]
	d := 2 * g / (-f - math.Sqrt(f*f-4*e*g))
	return (n[9] + d - math.Sqrt((n[9]+d)*(n[9]+d)-4*(n[8]+n[9]*d))) / 2
}

// kelvins is an absolute temperature.
func kelvins(k float64) units.Temperature { return units.Celsius(k - units.Celsius(0).Kelvin()) }
