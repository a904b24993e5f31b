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
	if s.overdue() {
		say(compat.Caution, s.overdueSays())
	}
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

// holds reports whether both families of a pair are known to be in the fill.
func (s *situation) holds(l *link) bool {
	in := func(family int) bool {
		return slices.ContainsFunc(s.fill.mixed, func(c component) bool { return c.family == family })
	}
	return in(l.rule.a) && in(l.rule.b)
}

// mixedForSure returns the worst pair of a fill of which both are known to be in
// it, as bad as it is at best, whatever the rest may be; nil where there is none.
func (s *situation) mixedForSure() (worst *link) {
	best := map[[2]int]*link{}
	var pairs [][2]int // in the order in which they are met
	for i := range s.worlds {
		for j := range s.worlds[i].links {
			l := &s.worlds[i].links[j]
			pair := [2]int{min(l.rule.a, l.rule.b), max(l.rule.a, l.rule.b)}
			if l.j < 0 || !s.holds(l) {
				continue
			}
			switch have := best[pair]; {
			case have == nil:
				best[pair], pairs = l, append(pairs, pair)
			case have.before.Worse(l.before):
				best[pair] = l
			}
		}
	}
	for _, pair := range pairs {
		if l := best[pair]; l.before != compat.Yes && (worst == nil || l.before.Worse(worst.before)) {
			worst = l
		}
	}
	return worst
}

// mixedBefore names the worst pair of a fill that is a mix already.
func (s *situation) mixedBefore(say func(compat.Outcome, string)) {
	var worst *link
	better := false
	for i := range s.worlds {
		here := compat.Yes
		for j := range s.worlds[i].links {
			l := &s.worlds[i].links[j]
			if l.j < 0 {
				continue
			}
			here = compat.Worst(here, l.before)
			if worst == nil || l.before.Worse(worst.before) {
				worst = l
			}
		}
		better = better || here != compat.No
	}
	if worst == nil || worst.before == compat.Yes {
		return
	}
	if sure := s.mixedForSure(); sure != nil && !worst.before.Worse(sure.before) {
		worst = sure
	}
	text, out := upper(s.t.families[worst.rule.a].name+" and "+s.t.families[worst.rule.b].name)+" are in it together. ", worst.before
	if s.fill.rest > 0 && !s.holds(worst) {
		open := worst.rule.a
		if slices.ContainsFunc(s.fill.mixed, func(c component) bool { return c.family == open }) {
			open = worst.rule.b
		}
		text = fmt.Sprintf("%.0f %% of it is not known. Should that be %s: ", 100*s.fill.rest, s.t.families[open].name)
		if out == compat.No && better {
			out = compat.CannotSay
		}
	}
	text += s.pairReason(&worst.rule, out)
	if out == compat.No {
		text += " Drain and flush it."
	}
	say(out, text)
}
