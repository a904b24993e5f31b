package fit

import (
	"errors"
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// stampRange is what a bare figure on a cap means.
type stampRange struct {
	span span
	unit units.Unit
}

// CapStamp reads the stamp of a cap: "15 lb", "1.1 bar", "108 kPa" as they
// stand, and a bare "15", "1,1" or "108" by the range in which figures of that
// unit lie (table fit_cap_stamps). The error is a *units.ParseError.
func (t *Tables) CapStamp(text string) (units.Pressure, error) {
	p, err := units.ParsePressure(text, "")
	if !errors.Is(err, units.ErrAmbiguous) {
		return p, err
	}
	number := firstNumber(text)
	for _, r := range t.stamps {
		if v := decimal(number); v >= r.span.lo && v <= r.span.hi {
			return units.ParsePressure(number, r.unit)
		}
	}
	return p, err
}

func newCapStamps(ref catalog.Tables) ([]stampRange, error) {
	rows, err := ref.Table("fit_cap_stamps")
	if err != nil {
		return nil, err
	}
	var out []stampRange
	for _, row := range rows {
		v, err := floats(row, "from", "to")
		if err != nil {
			return nil, err
		}
		out = append(out, stampRange{span{v[0], v[1]}, units.Unit(row.Get("unit"))})
	}
	return out, nil
}

// boilingPoint is a pressure at which water boils.
type boilingPoint struct{ kPa, celsius float64 }

func newSaturation(ref catalog.Tables) (out []boilingPoint, source compat.Evidence, err error) {
	rows, err := ref.Table("fit_saturation")
	if err != nil {
		return nil, source, err
	}
	for _, row := range rows {
		v, err := floats(row, "abs_kpa", "boils_c")
		if err != nil {
			return nil, source, err
		}
		out, source = append(out, boilingPoint{v[0], v[1]}), compat.Cite(row)
	}
	return out, source, nil
}

// boils returns where water boils under a gauge pressure at sea level, in °C
// (IAPWS-IF97, region 4; straight lines between the rows of the table, which
// are within 0.1 K of it). Coolant boils a few degrees higher, under any cap by
// much the same.
func (t *Tables) boils(gauge units.Pressure) (celsius float64, ok bool) {
	return t.boilsUnder(gauge.Kilopascals() + t.limits.of(atmosphere))
}

// boilsUnder is the same for an absolute pressure.
func (t *Tables) boilsUnder(abs float64) (celsius float64, ok bool) {
	for i := 1; i < len(t.saturation); i++ {
		a, b := t.saturation[i-1], t.saturation[i]
		if abs >= a.kPa && abs <= b.kPa {
			return a.celsius + (b.celsius-a.celsius)*(abs-a.kPa)/(b.kPa-a.kPa), true
		}
	}
	return 0, false
}

// boilingLost says how much earlier coolant boils under a weaker cap.
func (t trial) boilingLost(has, need units.Pressure) (says string, steps []string) {
	low, ok1 := t.boils(has)
	high, ok2 := t.boils(need)
	if !ok1 || !ok2 {
		return "", nil
	}
	show := func(c float64) string { return t.show.temperature(units.Celsius(c)) }
	lost := t.show.delta(units.Kelvins(high - low))
	return " by about " + lost, []string{strings.TrimSpace(fmt.Sprintf("water boils at %s under the engine's cap and at %s under this one: %s lost", show(high), show(low), lost))}
}
