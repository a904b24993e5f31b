package coolant

import (
	"fitfill/compat"
)

// rung is the verdict on one amount: two amounts stand on the same rung if
// theirs are equal.
type rung struct {
	outcome compat.Outcome
	cause   string // name of the check that decides, checkMixing for the pair
	says    string // the pair's words
	family  int    // the family it may be that does not mix, for cannot-say
	top     int
	spent   bool // cannot-say because one of the kinds would have to come out
}

// fixed is the worst of the checks that no amount changes.
type fixed struct {
	outcome compat.Outcome
	cause   string
}

func (s *situation) fixed() fixed {
	f := fixed{compat.Yes, ""}
	for _, x := range s.findings {
		if x.Outcome.Worse(f.outcome) {
			f = fixed{x.Outcome, x.Check}
		}
	}
	return f
}

// rung judges an amount above nothing with everything that depends on it.
func (s *situation) rung(a float64, f fixed) rung {
	chem := s.chemistry(s.shares(a), s.strongMix(a))
	r := rung{outcome: chem.outcome, cause: checkMixing}
	if chem.link != nil {
		r.says = chem.link.words(chem.pct)
	}
	switch {
	case chem.outcome == compat.CannotSay && chem.world.spent:
		r.says, r.spent = "don't pour yet: "+s.spentWords(chem.world), true
	case chem.outcome == compat.CannotSay:
		r.family, r.top = chem.link.rule.a, chem.link.rule.b
	}
	worse := func(o compat.Outcome, cause string) {
		if o.Worse(r.outcome) {
			r = rung{outcome: o, cause: cause}
		}
	}
	worse(f.outcome, f.cause)
	if c := s.cold(a); c.weak {
		worse(compat.Caution, checkCold)
	} else if c.over {
		worse(compat.Caution, checkStrength)
	}
	if s.tooThin(a) {
		worse(compat.Caution, checkThin)
	}
	if s.tooHot(a) {
		worse(compat.Caution, checkHeat)
	}
	if s.nitriteLow(a) {
		worse(compat.Caution, checkNitrite)
	}
	return r
}

// words returns what the class says of a share.
func (l *link) words(pct float64) string {
	r := &l.rule
	_, band := r.judge(pct, false)
	switch {
	case r.forbid != "":
		return doesNotMix
	case band < 0:
		return mixes
	}
	return r.pair.class.bands[band].says
}

const (
	mixes      = "mixes"
	doesNotMix = "does not mix"
	condemned  = "change what is in it"
)

// why words a rung for the ladder.
func (s *situation) whyOf(r rung) string {
	switch {
	case r.outcome == compat.Yes && s.thinnedUnknown():
		return mixes + "; nobody knows how cold it then holds"
	case r.outcome == compat.Yes:
		return mixes
	case r.outcome == compat.No && s.condemned():
		return condemned
	case r.cause != checkMixing:
		return s.causeWords(r.cause)
	case r.outcome == compat.CannotSay && r.spent:
		return r.says
	case r.outcome == compat.CannotSay:
		return "don't pour yet: " + s.mayBe(r.family, r.top)
	case r.outcome == compat.No:
		return doesNotMix
	case r.says == "" || r.says == mixes:
		return s.causeWords(checkMixing)
	case r.says == doesNotMix:
		return "only the label says that it mixes"
	}
	return r.says
}

// mayBe names the pair that makes pouring unsafe.
func (s *situation) mayBe(fill, top int) string {
	f, t := s.t.families[fill].name, s.t.families[top].name
	if s.fill.rest > 0 {
		return "part of it may be " + f + ", which does not mix with " + t
	}
	_, one := s.fill.only()
	_, other := s.add.only()
	switch {
	case len(s.fill.mixed) > 0 || one:
		return "the bottle may be " + t + ", which does not mix with " + f
	case other:
		return "it may be " + f + ", which does not mix with " + t
	}
	return "it may be " + f + " and the bottle " + t + ", which do not mix"
}
