package coolant

import (
	"fitfill/catalog/units"
	"fitfill/compat"
)

const checkHeat = "heat"

type boilFigure = Figure[units.Temperature, units.TempDelta]

// boiling returns the boiling points of a charge, open and under the cap; nil
// where a fact is missing or the mix is too strong for a figure.
func (s *situation) boiling(c Charge, strengthPM float64) (open, capped *boilFigure) {
	air, err := s.t.Ambient(s.q.Altitude)
	if err != nil {
		return nil, nil
	}
	at := func(p units.Pressure) *boilFigure {
		b, pm, err := s.t.Boiling(c, p, units.Percents(strengthPM))
		if err != nil {
			return nil
		}
		return &boilFigure{b, pm}
	}
	open = at(air)
	if gauge, ok := s.capPressure(); ok {
		capped = at(units.PressureOf(air.Millipascals() + gauge.Millipascals()))
	}
	return open, capped
}

// capPressure returns the gauge pressure of the cap: as said, else the
// engine's own.
func (s *situation) capPressure() (units.Pressure, bool) {
	if s.q.CapPressure.Known {
		return s.q.CapPressure.Value, true
	}
	if e := s.q.Engine; e != nil && e.CapPressure.Known {
		return e.CapPressure.Value, true
	}
	return units.Pressure{}, false
}

// heat checks the boiling point under the cap against the temperature the
// thermostat holds: the engine runs at least that hot.
func (s *situation) heat(a float64) {
	e := s.q.Engine
	c, ok := s.charge(a)
	if !ok || s.special() || e == nil || !e.OpeningTemp.Known {
		return
	}
	show, margin := s.q.Show, units.Kelvins(s.t.lim.boilMargin)
	open, capped := s.boiling(c, 0)
	if open == nil {
		return
	}
	if capped == nil {
		s.note(compat.NotChecked(checkHeat, "the cap's pressure", "It boils at about "+show.FormatTemperature(open.Value)+" without pressure; the cap's pressure is not known."))
		return
	}
	f := compat.Finding{
		Check: checkHeat, Outcome: compat.Yes, Grade: compat.Standard,
		Says:   "It boils at about " + show.FormatTemperature(capped.Value) + " if the cap holds, " + show.FormatTemperature(open.Value) + " if not.",
		Origin: append(cite(e.OpeningTemp.Origin), compat.Cite(s.t.limits["boil_margin"].row)),
	}
	if s.tooHot(a) {
		f.Outcome = compat.Caution
		f.Says += " That is less than " + show.FormatTempDelta(margin) + " above the " + show.FormatTemperature(e.OpeningTemp.Value) + " at which the thermostat opens."
	}
	s.note(f)
}

// tooHot reports whether an amount leaves too little between the thermostat's
// opening temperature and the boiling point under the cap.
func (s *situation) tooHot(a float64) bool {
	e := s.q.Engine
	if e == nil || !e.OpeningTemp.Known || s.special() {
		return false
	}
	c, ok := s.charge(a)
	gauge, capped := s.capPressure()
	air, err := s.t.Ambient(s.q.Altitude)
	if !ok || !capped || err != nil {
		return false
	}
	b, _, err := s.t.Boiling(c, units.PressureOf(air.Millipascals()+gauge.Millipascals()), units.Percent{})
	return err == nil && b.Sub(e.OpeningTemp.Value).Compare(units.Kelvins(s.t.lim.boilMargin)) < 0
}
