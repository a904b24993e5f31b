package fit

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

const materialCheck = "seal material"

// material judges the rubber of a seal in this coolant at this temperature. A
// rubber that lasts less long is a caution, never a no: no is only for what hot
// coolant dissolves, hardens or swells at once. The temperature at the seal is
// that of the fully open thermostat, or a common one where the engine's rating
// is not on file.
func (t trial) material() []result {
	p := t.c.Part
	if t.kind == Thermostat && !(p.SealIncluded.Known && p.SealIncluded.Value && p.Material.Known) {
		return nil
	}
	if !p.Material.Known {
		return []result{unchecked(materialCheck, "material of the seal", "The sheet states no material for the seal.")}
	}
	chemistry := t.q.CoolantChemistry
	if chemistry == "" {
		if c, ok := t.q.Engine.Circuit(catalog.DefaultCircuit); ok {
			chemistry = c.CoolantChem.Value
		}
	}
	r, called, ok := t.rubberOf(p.Material.Value, chemistry)
	if !ok {
		return []result{unchecked(materialCheck, "material of the seal", fmt.Sprintf("The material %q is not on file.", oneLine(p.Material.Value)))}
	}
	word, known := t.elastomers.coolant(r, chemistry)
	at := t.sealTemperature()
	f := compat.Finding{
		Check: materialCheck, Outcome: word.outcome, Grade: compat.CommonPractice,
		Says:   fmt.Sprintf("Seal of %s %s.", called, word.says),
		Origin: cite(from(p.Material.Origin), r.origin, word.origin),
	}
	if !known {
		f.Says = fmt.Sprintf("Seal of %s %s (coolant not named: read against every kind).", called, word.says)
	}
	res := result{Finding: f, ask: "Is there a seal of EPDM for it?"}
	limit, stated := r.coolantLimit()
	switch {
	case word.outcome == compat.No:
		res.role, res.short = against, r.code+" seal does not stand coolant"
	case word.outcome == compat.Caution:
		res.role, res.short = doubt, "short life, prefer EPDM"
	case stated && at.Compare(limit) > 0:
		res.role, res.Outcome, res.short = doubt, compat.Caution, "short life, prefer EPDM"
		res.Says = fmt.Sprintf("Seal of %s: good to %s in hot coolant, and it sees %s: short life, prefer EPDM.", r.name, t.show.temperature(limit), t.show.temperature(at))
		res.Steps = []string{fmt.Sprintf("coolant at the seal %s, limit of the rubber %s", t.show.temperature(at), t.show.temperature(limit))}
	default:
		res.ask = ""
	}
	return []result{res}
}

// sealTemperature returns how hot the coolant at the seal gets.
func (t trial) sealTemperature() units.Temperature {
	if e := t.q.Engine.OpeningTemp; e.Known {
		return e.Value.Add(units.Kelvins(t.limits.of(fullOpenHigh)))
	}
	return units.Celsius(t.limits.of(sealTemperature))
}

// coolantLimit returns the temperature up to which the rubber stands coolant:
// its own limit in coolant, or that in hot water.
func (r rubber) coolantLimit() (units.Temperature, bool) {
	if r.coolantMax > 0 {
		return units.Celsius(r.coolantMax), true
	}
	return units.Celsius(r.hotWater), r.hotWaterKnown
}

// StandsHotWater reports whether a rubber stands hot water of that temperature,
// by the published table; known is false where the rubber is not on file.
func (t *Tables) StandsHotWater(material string, at units.Temperature) (stands, known bool) {
	r, ok := t.elastomers.find(material)
	return ok && r.hotWaterKnown && at.Compare(units.Celsius(r.hotWater)) <= 0, ok
}

// StandsSteam reports the same for steam.
func (t *Tables) StandsSteam(material string, at units.Temperature) (stands, known bool) {
	r, ok := t.elastomers.find(material)
	return ok && r.steamKnown && at.Compare(units.Celsius(r.steam)) <= 0, ok
}

// StandsOil reports whether a rubber stands mineral oil.
func (t *Tables) StandsOil(material string) (stands, known bool) {
	r, ok := t.elastomers.find(material)
	return ok && r.oil != "no", ok
}

// Material returns the code of a rubber for any of its trade names: "nitrile"
// is NBR. An unknown name is returned with false.
func (t *Tables) Material(name string) (code string, known bool) {
	r, ok := t.elastomers.find(name)
	if !ok {
		return name, false
	}
	return r.code, true
}
