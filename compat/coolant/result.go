package coolant

import (
	"math"

	"fitfill/catalog/units"
	"fitfill/compat"
)

// result computes the system after a litres are poured.
func (s *situation) result(a float64, c chemistry) Result {
	var r Result
	if c.outcome == compat.Yes || c.outcome == compat.Caution {
		r.Months, r.Due = s.toNextChange(c)
	}
	if s.fill.exact && s.add.exact || a == 0 {
		p := units.Percents(s.foreignShare(a))
		r.ForeignShare = &p
		r.ForeignPM = units.Percents(s.sharePM(a))
	}
	charge, ok := s.charge(a)
	if !ok || s.special() {
		return r
	}
	r.Charge = &charge
	r.Glycol = s.t.GlycolOf(charge)
	pm := s.strengthPM(a)
	r.Strength = &Figure[units.Percent, units.Percent]{s.t.Strength(charge), units.Percents(pm)}
	if f, d, err := s.t.Freezing(charge, units.Percents(pm)); err == nil {
		r.Freeze = &boilFigure{f, units.Kelvins(d.Kelvins() + s.glycolDoubt(charge))}
	}
	r.BoilOpen, r.BoilCapped = s.boiling(charge, pm)
	r.Density, r.Grows, r.HeadRoom = s.t.headRoom(charge, s.vol.before(a)+a, pm)
	return r
}

// strengthPM carries the uncertainty of both strengths and both volumes into
// the strength of the mix: the volumes in it weigh the strengths, and a wrong
// volume moves it along the difference of the two.
func (s *situation) strengthPM(a float64) float64 {
	v := s.vol.before(a)
	if v+a <= 0 {
		return 0
	}
	f, p := v/(v+a), a/(v+a)
	pm := 0.0
	if s.fill.high > 0 && !s.t.is(&s.fill, waterID) {
		pm += f * s.fill.pm
	}
	if s.add.high > 0 && s.q.Add.Strength.Known {
		pm += p * s.add.pm
	}
	return pm + 2*f*p*math.Abs(s.add.high-s.fill.high)*s.t.lim.volumePM/100
}

// glycolDoubt is how far apart the two glycols freeze where none is stated.
func (s *situation) glycolDoubt(c Charge) float64 {
	if s.glycolKnown() {
		return 0
	}
	v := s.t.strength(c)
	eg, pg := s.t.massAt(v, 0), s.t.massAt(v, 1)
	if max(eg, pg) > s.t.lim.freezeMaxMass {
		return 0
	}
	return math.Abs(s.t.freezeAt(eg, 0) - s.t.freezeAt(pg, 1))
}

// foreignShare is the bottle's part in the concentrate where it is of another
// kind than the fill, the smaller of the two parts, in per cent.
func (s *situation) foreignShare(a float64) float64 {
	top, known := s.add.only()
	old, one := s.fill.only()
	if known && (one && top == old || s.t.families[top].id == waterID) || s.sameProduct || a == 0 {
		return 0
	}
	sh := s.shares(a).concentrate.high
	if known {
		for _, comp := range s.fill.mixed {
			if comp.family == top {
				return 100 * (1 - comp.share) * (1 - sh)
			}
		}
	}
	return 100 * min(sh, 1-sh)
}

// sharePM is how far the foreign share may be off: both volumes and both
// strengths at the ends that move it most.
func (s *situation) sharePM(a float64) float64 {
	here := s.foreignShare(a)
	if here == 0 {
		return 0
	}
	vpm := s.t.lim.volumePM / 100
	rel := func(sub *substance, stated bool) float64 {
		if sub.high <= 0 || !stated {
			return 0
		}
		return sub.pm / sub.high
	}
	// The ratio of the bottle's glycol to the fill's is off by all four.
	off := (1 + vpm) / (1 - vpm) * (1 + rel(&s.add, s.q.Add.Strength.Known)) / max(1-rel(&s.fill, true), 0.01)
	f := here / 100
	more, less := f*off/(1-f+f*off), f/off/(1-f+f/off)
	return 100 * max(more-f, f-less)
}
