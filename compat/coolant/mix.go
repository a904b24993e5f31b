package coolant

import (
	"fitfill/catalog/units"
	"fitfill/compat"
)

const (
	checkMixing = "mixing"
	checkRoom   = "room"
)

// Mix judges whether the bottle may go on top of the fill: whether it is what
// the engine asks for, whether it mixes, and whether the result stands the
// cold and the heat. The worst of the checks that could be made is the
// outcome; a check that lacks its fact moves nothing. Only the chemistry, or a
// loop that is not named, can make it cannot-say. Pouring nothing is yes,
// unless the fill is condemned. Without an amount the ladder tells how far
// each verdict reaches, and the outcome is the one for the amount that mixes
// worst.
func (t *Tables) Mix(q Question) Answer {
	s := t.situation(&q)
	ans := Answer{LadderNote: s.vol.note, PerLitre: s.vol.perLitre}
	s.require()
	s.exclude()
	s.liners()
	s.radiator()
	s.water()
	s.strange()
	s.logFinding()
	s.lookFinding()
	s.readings()
	s.refractometer()
	if s.ask != "" {
		return s.askFirst(ans)
	}
	if s.condemned() {
		ans.LadderNote = ""
	} else {
		ans.Ladder = s.ladder(s.fixed())
	}
	chem := chemistry{outcome: compat.Yes}
	a, poured := s.poured()
	switch {
	case s.nothing():
		a, poured = 0, true
		s.pourNothing()
	case poured:
		chem = s.chemistry(s.shares(a), s.strongMix(a))
		s.mixing(chem)
		s.room(a)
		s.coldFindings(a)
		s.heat(a)
		s.nitriteFloor(a, true)
		s.reserveAfter(a)
	default:
		chem = s.worstChemistry(ans.Ladder)
		s.mixing(chem)
		s.coldOfAny()
		s.nitriteFloor(0, false)
		s.amountMissing()
	}
	ans.Outcome = s.fixed().outcome
	ans.Findings, ans.NotChecked = s.findings, s.missing
	ans.Candidates, ans.AddMayBe = s.ids(s.fill.may), s.ids(s.add.may)
	if ans.Poured = poured; poured {
		ans.Result = s.result(a, chem)
		if ans.Outcome == compat.No || ans.Outcome == compat.CannotSay {
			ans.Result.Months = 0
		}
	}
	if chem.outcome == compat.CannotSay {
		ans.Settle = s.settle()
	}
	if poured {
		ans.Mend = s.mend(a)
	}
	ans.Ask = s.ask
	ans.Before = s.before()
	ans.GetHome = s.getHome(ans.Outcome)
	ans.Cautions = s.cautions()
	ans.First = s.first(&ans, chem, poured)
	return ans
}

// askFirst is the answer while it is not known which loop is meant: the loops
// of one engine take different fluids, so nothing else is judged.
func (s *situation) askFirst(ans Answer) Answer {
	for _, f := range s.findings {
		if f.Check == checkCircuit {
			ans.Findings = append(ans.Findings, f)
		}
	}
	ans.Outcome, ans.Ask, ans.LadderNote = compat.CannotSay, s.ask, ""
	ans.Before = Before{Outcome: compat.CannotSay}
	ans.Cautions = s.cautions()
	ans.First = s.first(&ans, chemistry{outcome: compat.CannotSay}, true)
	return ans
}

// worstChemistry weighs the amount at which the fluids get on worst: where
// their shares are nearest to each other.
func (s *situation) worstChemistry(steps []Step) chemistry {
	at := units.VolumeOf(1).Litres()
	worst := s.chemistry(s.shares(at), false)
	for _, step := range steps {
		c := s.chemistry(s.shares(step.UpTo.Litres()), false)
		if c.outcome.Worse(worst.outcome) || c.outcome == worst.outcome && c.pct > worst.pct {
			worst, at = c, step.UpTo.Litres()
		}
	}
	worst = s.chemistry(s.shares(at), false)
	worst.any = true
	return worst
}

// coldOfAny checks the cold where no amount is known: the fill and the most
// that goes in are the two ends.
func (s *situation) coldOfAny() {
	low, high := s.cold(units.VolumeOf(1).Litres()), s.cold(s.vol.most)
	switch {
	case !s.q.Coldest.Known:
		s.note(compat.NotChecked(checkCold, "the coldest day expected", "Name the coldest day and the amount to know whether it stands the frost."))
	case high.weak:
		s.coldFindings(s.vol.most)
	case low.weak:
		s.coldFindings(units.VolumeOf(1).Litres())
	case low.known && high.over:
		s.coldFindings(units.VolumeOf(1).Litres())
	case low.known && high.known:
		s.coldFindings(s.vol.most)
	default:
		s.note(compat.NotChecked(checkCold, s.strengthMissing(), "Measure the strength to know whether it stands the frost."))
	}
}

// strengthMissing names the strength that is not known.
func (s *situation) strengthMissing() string {
	if s.fill.exact {
		return "the strength of what is in the bottle"
	}
	return "the strength of what is in the engine"
}

// room notes where more is to be poured than there is room for; more than the
// whole system holds cannot be meant.
func (s *situation) room(a float64) {
	full := s.vol.capacity * (1 + s.t.lim.volumePM/100)
	if s.vol.capacity == 0 || s.vol.before(a)+a <= full {
		return
	}
	f := compat.Finding{
		Check: checkRoom, Outcome: compat.Yes, Grade: compat.Measured, Origin: cite(s.loop.CoolantCapacity.Origin),
		Says: "There is room for about " + s.q.Show.FormatVolume(litres(s.vol.most)) + " only: check the amounts.",
	}
	if a > full {
		f.Outcome = compat.Caution
	}
	s.note(f)
}

// pourNothing leaves only what is about the fill: the bottle does nothing.
func (s *situation) pourNothing() {
	s.findings, s.missing, s.ask = nil, nil, ""
	s.lookFinding()
	if s.spentAll {
		s.readings()
	}
	s.note(compat.Finding{Check: checkMixing, Outcome: compat.Yes, Grade: compat.Measured, Says: "Nothing is poured, so nothing changes."})
}

func (s *situation) amountMissing() {
	switch {
	case s.q.AddVolume.Known:
		s.note(compat.NotChecked("share", s.amountFact(), "How much the engine holds is not known, so any share had to be judged."))
	default:
		s.note(compat.NotChecked("share", s.amountFact(), "How much goes in is not said, so any amount had to be judged; see up to where it holds."))
	}
}

// amountFact names what is not known of the amounts.
func (s *situation) amountFact() string {
	if s.q.AddVolume.Known {
		return "how much the engine holds"
	}
	return "how much goes in"
}

// strange notes what was said that is not on file, and a first fill that shows
// another colour.
func (s *situation) strange() {
	for _, sub := range []*substance{&s.fill, &s.add} {
		for _, id := range sub.odd {
			s.note(compat.NotChecked(checkMixing, "what "+id+" is", "Nothing is on file of "+id+": judged as not known."))
		}
	}
	if s.fill.fluid.Presumed && s.fill.how == byColour {
		s.note(compat.Finding{
			Check: "first fill", Outcome: compat.Yes, Grade: compat.Presumed,
			Says: "It does not show the colour of the first fill: somebody has changed it, so only the colour counts.",
		})
	}
}

func (s *situation) ids(list []int) []string {
	out := make([]string, len(list))
	for i, f := range list {
		out[i] = s.t.families[f].id
	}
	return out
}
