package coolant

import (
	"errors"
	"fmt"
	"slices"

	"fitfill/catalog/units"
	"fitfill/compat"
)

// before judges the fill as it is, so that an old fault is not put down to the
// new bottle.
func (s *situation) before() Before {
	b := Before{Outcome: compat.Yes}
	say := func(o compat.Outcome, text string) {
		b.Outcome = compat.Worst(b.Outcome, o)
		b.Says = append(b.Says, text)
	}
	if look, ok := s.look(); ok && look.outcome != compat.Yes {
		say(look.outcome, look.says)
	}
	for _, r := range s.fill.fluid.Readings {
		if r.Level.Known && (r.Of == phID || r.Of == reserveID) {
			if f := s.stateFinding(r); f.Outcome != compat.Yes {
				say(f.Outcome, f.Says)
			}
		}
	}
	s.mixedBefore(say)
	if i, ok := s.fill.only(); ok && len(s.want) > 0 && !slices.Contains(s.want, i) && s.t.families[i].id != waterID {
		say(compat.Caution, "In the engine is "+s.t.families[i].name+"; it asks for "+s.t.names(s.want, "or")+".")
	}
	if !s.fill.exact || s.special() {
		return b
	}
	c := s.t.pour(s.fill.glycol, 1, s.fill.low/100)
	strength := s.t.Strength(c)
	b.Strength = &strength
	f, err := s.t.freeze(c)
	if errors.Is(err, ErrOverStrength) {
		say(compat.Caution, "It is over-strength: protection no longer rises.")
		return b
	}
	freeze := units.Celsius(f)
	b.Freeze = &freeze
	if s.fill.high < s.t.limits["strength_min"].value && s.fill.high > 0 {
		say(compat.Caution, fmt.Sprintf("It is too thin: under %.0f %% too little is left against rust.", s.t.limits["strength_min"].value))
	}
	if s.q.Coldest.Known {
		if short := f - (s.q.Coldest.Value.Celsius() - s.t.lim.freezeMargin); short > 1e-9 {
			show := s.q.Show
			say(compat.Caution, "It freezes at about "+show.FormatTemperature(freeze)+", "+show.FormatTempDelta(units.Kelvins(short))+
				" short for "+show.FormatTemperature(s.q.Coldest.Value)+".")
		}
	}
	return b
}

// mixedBefore names the worst pair of a fill that is a mix already.
func (s *situation) mixedBefore(say func(compat.Outcome, string)) {
	if len(s.fill.mixed) < 2 || len(s.worlds) == 0 {
		return
	}
	var worst *link
	for i := range s.worlds[0].links {
		if l := &s.worlds[0].links[i]; l.j >= 0 && (worst == nil || l.before.Worse(worst.before)) {
			worst = l
		}
	}
	if worst.before == compat.Yes {
		return
	}
	text := s.t.families[worst.rule.a].name + " and " + s.t.families[worst.rule.b].name + " are in it together. " + s.t.why(&worst.rule)[0].says
	if worst.before == compat.No {
		text += " Drain and flush it."
	}
	say(worst.before, upper(text))
}
