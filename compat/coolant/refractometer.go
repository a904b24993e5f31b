package coolant

import (
	"errors"
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

const checkRefractometer = "refractometer"

// StrengthOn returns the strength as poured of a drop of glycol that a
// refractometer with that scale reads, and how far the reading is off: below
// zero it promises more protection than there is. The reading is turned into
// the refractive index by the scale's own glycol and back by the drop's; the
// uncertainty is that of a reading (ASTM D3321: 1 K), carried through both
// tables. ErrTooCold beyond the end of the freezing table, and an error beyond
// that of the indices.
func (t *Tables) StrengthOn(scale, glycol string, reads units.Temperature) (value, pm units.Percent, off units.TempDelta, err error) {
	if scale == glycol {
		value, pm, err = t.StrengthRead(scale, reads)
		return value, pm, off, err
	}
	value, truth, err := t.otherScale(scale, glycol, reads)
	if err != nil {
		return value, pm, off, err
	}
	warm, _, err := t.otherScale(scale, glycol, reads.Add(units.Kelvins(t.lim.fractPM)))
	if err != nil {
		return value, pm, off, err
	}
	return value, units.Percents(value.Percents() - warm.Percents()), reads.Sub(truth), nil
}

// otherScale returns the strength and the freezing point of a drop that is read
// on the scale of the other glycol.
func (t *Tables) otherScale(scale, glycol string, reads units.Temperature) (v units.Percent, truth units.Temperature, err error) {
	on, err := t.massNeeded(scale, reads.Celsius())
	if err != nil {
		return v, truth, err
	}
	lit, drop := t.refraction[scale], t.refraction[glycol]
	if len(lit.mass) == 0 || len(drop.mass) == 0 || on > lit.mass[len(lit.mass)-1] {
		return v, truth, fmt.Errorf("no refractive index of %s glycol at %g mass %% on file", scale, on)
	}
	index := linear(lit.mass, lit.index, on)
	if index > drop.index[len(drop.index)-1] {
		return v, truth, fmt.Errorf("%s glycol that reads %.1f °C on the %s scale is beyond the table", glycol, reads.Celsius(), scale)
	}
	mass := linear(drop.index, drop.mass, index)
	if truth, err = t.freezingOfMass(glycol, mass); err != nil {
		return v, truth, err
	}
	c := Charge{Ethylene: mass, Water: 100 - mass}
	if glycol == propyleneID {
		c = Charge{Propylene: mass, Water: 100 - mass}
	}
	return t.Strength(c), truth, nil
}

// scaleAndGlycol returns the scale that was read and the glycol in the fill, as
// far as they are known: each stands in for the other.
func (s *situation) scaleAndGlycol() (scale, glycol string) {
	scale, glycol = s.q.Scale, s.q.Fill.Glycol
	if glycol == "" && s.q.Fill.Product != nil {
		glycol = s.q.Fill.Product.Glycol.Value
	}
	if glycol == "" && s.q.Fill.Presumed && s.loop != nil {
		glycol = s.loop.CoolantGlycol.Value
	}
	if glycol == "" {
		glycol = scale
	}
	if scale == "" {
		scale = glycol
	}
	if scale == "" {
		scale, glycol = ethyleneID, ethyleneID
	}
	return scale, glycol
}

// readStrength takes the strength of the fill from a refractometer: what was
// measured goes before what was said.
func (s *situation) readStrength() {
	if !s.q.FreezeReads.Known {
		return
	}
	scale, glycol := s.scaleAndGlycol()
	v, pm, _, err := s.t.StrengthOn(scale, glycol, s.q.FreezeReads.Value)
	if err != nil {
		s.q.Fill.Strength, s.q.Fill.StrengthPM = catalog.Stated[units.Percent]{}, units.Percent{}
		return
	}
	s.q.Fill.Strength = catalog.Say(v, s.q.FreezeReads.Text, catalog.Origin{})
	s.q.Fill.StrengthPM = pm
}

// refractometer words what the reading means, and how much a wrong scale hides.
func (s *situation) refractometer() {
	if !s.q.FreezeReads.Known {
		return
	}
	show, reads := s.q.Show, s.q.FreezeReads.Value
	scale, glycol := s.scaleAndGlycol()
	f := compat.Finding{Check: checkRefractometer, Outcome: compat.Yes, Grade: compat.Measured,
		Origin: []compat.Evidence{compat.Cite(s.t.limits["refractometer_uncertainty"].row)}}
	v, pm, off, err := s.t.StrengthOn(scale, glycol, reads)
	switch {
	case errors.Is(err, ErrTooCold):
		s.note(compat.NotChecked(checkRefractometer, "a reading inside the scale", "It reads "+show.FormatTemperature(reads)+", beyond the end of the table: thin the drop with as much water and read again."))
		return
	case err != nil:
		s.note(compat.NotChecked(checkRefractometer, "a reading on the right scale", "It reads "+show.FormatTemperature(reads)+" on the "+scale+" scale: no figure for "+glycol+" glycol there."))
		return
	}
	f.Says = fmt.Sprintf("The refractometer reads %s: about %.0f %% (±%.1f).", show.FormatTemperature(reads), v.Percents(), pm.Percents())
	if s.q.Scale == "" {
		s.note(compat.NotChecked(checkRefractometer, "which scale was read", "Which scale did it read? It is taken for "+scale+" glycol."))
	}
	switch {
	case scale != glycol:
		truth := reads.Add(units.Kelvins(-off.Kelvins()))
		f.Says = "Wrong scale: " + show.FormatTemperature(reads) + " on the " + scale + " scale is really about " + show.FormatTemperature(truth) +
			" in " + glycol + " glycol" + s.offWords(off) + fmt.Sprintf(". That is about %.0f %% (±%.1f).", v.Percents(), pm.Percents())
	case s.q.Fill.Glycol == "" && (s.q.Fill.Product == nil || !s.q.Fill.Product.Glycol.Known):
		f.Says += s.ifOtherGlycol(scale)
	}
	s.note(f)
}

// ifOtherGlycol says what the reading would mean in the other glycol.
func (s *situation) ifOtherGlycol(scale string) string {
	other := propyleneID
	if scale == propyleneID {
		other = ethyleneID
	}
	reads := s.q.FreezeReads.Value
	_, _, off, err := s.t.StrengthOn(scale, other, reads)
	if err != nil {
		return ""
	}
	return " Should " + other + " glycol be in it, it really freezes at about " + s.q.Show.FormatTemperature(reads.Add(units.Kelvins(-off.Kelvins()))) + s.offWords(off) + "."
}

// offWords says how far a wrong scale is off.
func (s *situation) offWords(off units.TempDelta) string {
	if off.Kelvins() < 0 {
		return ": " + s.q.Show.FormatTempDelta(units.Kelvins(-off.Kelvins())) + " less than it promises"
	}
	return ": " + s.q.Show.FormatTempDelta(off) + " better than it reads"
}
