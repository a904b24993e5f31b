package coolant

import (
	"errors"
	"fmt"

	"fitfill/catalog/units"
	"fitfill/compat"
)

const (
	checkCold     = "cold"
	checkStrength = "strength"
	checkThin     = "inhibitors"
	checkGlycol   = "glycol"
)

// cold is what pouring an amount does to the protection against frost.
type cold struct {
	over  bool    // over-strength: no figure
	known bool    // the coldest day and both strengths are known
	weak  bool    // freezes above the coldest day less the margin
	short float64 // kelvins that are missing
	at    float64 // freezing point, °C

	atBest bool // the fill's strength is not known: taken as strong as fills usually are
}

func (s *situation) cold(a float64) cold {
	c, ok := s.charge(a)
	if s.special() {
		return cold{}
	}
	if !ok {
		return s.coldAtBest(a)
	}
	f, err := s.t.freeze(c)
	if errors.Is(err, ErrOverStrength) {
		return cold{over: true}
	}
	r := cold{at: f, known: s.q.Coldest.Known}
	if r.known {
		r.short = f - (s.q.Coldest.Value.Celsius() - s.t.lim.freezeMargin)
		r.weak = r.short > 1e-9
	}
	return r
}

// coldAtBest is what pouring an amount does where nobody knows how strong the
// fill is: if it is as strong as fills usually are at most (limit
// fill_strength_high). That proves an amount too weak, and never strong enough.
func (s *situation) coldAtBest(a float64) cold {
	if s.fill.exact || !s.add.exact || !s.q.Coldest.Known {
		return cold{}
	}
	f, err := s.t.freeze(s.t.pour(s.fill.glycol, s.vol.before(a), s.fill.high/100).Add(s.t.pour(s.add.glycol, a, s.add.low/100)))
	if err != nil { // stronger than the tables hold: not weak
		return cold{}
	}
	r := cold{at: f, atBest: true, short: f - (s.q.Coldest.Value.Celsius() - s.t.lim.freezeMargin)}
	r.weak = r.short > 1e-9
	return r
}

// thinnedUnknown reports whether something goes in that thins a fill of which
// nobody knows the strength, while frost is coming: how much of it the fill
// stands is open below the amount that is proved too weak.
func (s *situation) thinnedUnknown() bool {
	return s.q.Coldest.Known && !s.fill.exact && s.add.exact && s.add.high < s.fill.low && !s.special()
}

// tooThin reports whether pouring thins the coolant below the least strength
// that keeps its inhibitors at work.
func (s *situation) tooThin(a float64) bool {
	c, ok := s.charge(a)
	return ok && !s.special() && s.add.high < s.fill.low && s.t.strength(c) < s.t.lim.strengthMin
}

// strongMix reports whether silicate may fall out for strength alone.
func (s *situation) strongMix(a float64) bool {
	c, ok := s.charge(a)
	return ok && s.t.strength(c) > s.t.lim.silicateMax
}

// coldFindings words the frost check at an amount.
func (s *situation) coldFindings(a float64) {
	show, lim := s.q.Show, &s.t.lim
	if s.special() {
		s.note(compat.NotChecked(checkCold, "the label's freezing point", "The freezing point of this fluid stands on its label only."))
		return
	}
	if c := s.cold(a); c.atBest && c.weak {
		s.note(compat.Finding{
			Check: checkCold, Outcome: compat.Caution, Grade: compat.Standard,
			Says: fmt.Sprintf("Even if %.0f %% is in there it would freeze at about %s: too weak for %s with %s to spare.", s.fill.high,
				show.FormatTemperature(units.Celsius(c.at)), show.FormatTemperature(s.q.Coldest.Value), show.FormatTempDelta(units.Kelvins(lim.freezeMargin))),
			Origin: []compat.Evidence{compat.Cite(s.t.freezeRow), compat.Cite(s.t.limits["fill_strength_high"].row), compat.Cite(s.t.limits["freeze_margin"].row)},
		})
	}
	if !s.fill.exact || !s.add.exact {
		what := s.strengthMissing()
		s.note(compat.NotChecked(checkCold, what, "Measure "+what+" to know what it freezes at."))
		return
	}
	if s.tooThin(a) {
		min := s.t.limits["strength_min"]
		s.note(compat.Finding{
			Check: checkThin, Outcome: compat.Caution, Grade: compat.CommonPractice,
			Says:   fmt.Sprintf("It would be thinner than %.0f %%: too little is left against rust.", min.value),
			Origin: []compat.Evidence{compat.Cite(min.row)},
		})
	}
	c := s.cold(a)
	switch {
	case c.over:
		s.note(compat.Finding{
			Check: checkStrength, Outcome: compat.Caution, Grade: compat.Standard,
			Says:   "Over-strength: protection no longer rises and it cools worse. Thin it with water.",
			Origin: []compat.Evidence{compat.Cite(s.t.limits["freeze_max_mass"].row)},
		})
	case !c.known:
		s.note(compat.NotChecked(checkCold, "the coldest day expected", "It freezes at about "+show.FormatTemperature(units.Celsius(c.at))+"; name the coldest day to check that."))
	case c.weak:
		s.note(compat.Finding{
			Check: checkCold, Outcome: compat.Caution, Grade: compat.Standard,
			Says: "It would freeze at about " + show.FormatTemperature(units.Celsius(c.at)) + ": " + show.FormatTempDelta(units.Kelvins(c.short)) +
				" short for " + show.FormatTemperature(s.q.Coldest.Value) + " with " + show.FormatTempDelta(units.Kelvins(lim.freezeMargin)) + " to spare.",
			Origin: []compat.Evidence{compat.Cite(s.t.freezeRow), compat.Cite(s.t.limits["freeze_margin"].row)},
		})
	default:
		s.note(compat.Finding{
			Check: checkCold, Outcome: compat.Yes, Grade: compat.Standard,
			Says:   "It freezes at about " + show.FormatTemperature(units.Celsius(c.at)) + ", enough for " + show.FormatTemperature(s.q.Coldest.Value) + ".",
			Origin: []compat.Evidence{compat.Cite(s.t.freezeRow)},
		})
	}
}
