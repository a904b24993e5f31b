package coolant

import (
	"slices"

	"fitfill/catalog"
	"fitfill/compat"
)

const checkReading = "test of the fill"

// readings words what the tests of the fill say: which kinds they rule out,
// whether they condemn it, and where they contradict what is said of it.
func (s *situation) readings() {
	for n, r := range s.fill.fluid.Readings {
		if r.Of != phID && r.Of != reserveID || r.Of == reserveID && !r.Level.Known {
			s.note(s.kindFinding(r, s.fill.ruledOut[n], s.fill.against[n]))
		}
		if r.Level.Known && (r.Of == phID || r.Of == reserveID) {
			s.note(s.stateFinding(r))
		}
	}
}

// kindFinding words what a reading says of the kind of coolant.
func (s *situation) kindFinding(r Reading, out []int, against bool) compat.Finding {
	f := compat.Finding{Check: checkReading, Outcome: compat.Yes, Grade: compat.CommonPractice}
	if x := s.t.testOf(r.Of); x != nil {
		f.Origin = []compat.Evidence{compat.Cite(x.row)}
	}
	shows, none := "shows "+r.Of, "no "+r.Of
	if r.Of == reserveID {
		shows, none = "has much acid reserve", "little acid reserve"
	}
	sign := s.t.sign(r)
	switch {
	case against && sign == Seen:
		f.Outcome = compat.Caution
		f.Says = "It " + shows + ", and " + s.t.names(s.fill.may, "or") + " has none of it: it is mixed, or it is something else. Test again."
		if r.Of == reserveID {
			f.Says = "It " + shows + ", more than " + s.t.names(s.fill.may, "or") + " has: it is mixed, or it is something else. Test again."
		}
	case against:
		f.Outcome = compat.Caution
		f.Says = "It shows " + none + ", though " + s.t.names(s.fill.may, "or") + " has it while in date: used up early, or something else. Test again."
	case sign == Seen && len(out) > 0:
		f.Says = "It " + shows + ": that rules out " + s.t.names(out, "and") + "."
	case sign == Seen:
		f.Says = "It " + shows + ", as it should."
	case sign == None && len(out) > 0:
		f.Says = "It shows " + none + " and is in date: that rules out " + s.t.names(out, "and") + "."
	case sign == None && s.usedUp(r):
		f.Says = "It shows " + none + ". That rules out nothing: it may only be used up, since nobody knows it to be in date."
	case sign == None:
		f.Says = "It shows " + none + ", as it should."
	default:
		f.Says = "It shows a trace of " + r.Of + " (" + figure(r.Level.Value) + " mg/kg): that rules out nothing."
	}
	return f
}

// usedUp reports whether one of the kinds in question would show it when fresh.
func (s *situation) usedUp(r Reading) bool {
	return slices.ContainsFunc(s.fill.may, func(i int) bool { return s.t.families[i].holds[r.Of] == plus })
}

// stateFinding words what a reading says of the state of the fill. It may
// condemn it; it never says how long it lasts (ASTM D1287).
func (s *situation) stateFinding(r Reading) compat.Finding {
	name := "pH " + figure(r.Level.Value)
	if r.Of == reserveID {
		name = figure(r.Level.Value) + " % of its acid reserve"
	}
	f := compat.Finding{Check: checkReading, Outcome: compat.Yes, Grade: compat.CommonPractice, Says: name + " does not condemn it. It does not tell how long it lasts."}
	for _, i := range s.fill.may {
		if s.spentAll {
			break
		}
		if s.t.spent(r, i) {
			f.Outcome, f.Says, f.Origin = compat.Caution, name+s.ifItIs(i, " is too low if it is ")+s.t.limitOf(r.Of, i).no+".", s.limitOrigin(r, i)
			return f
		}
	}
	for _, i := range s.fill.may {
		l := s.t.limitOf(r.Of, i)
		switch {
		case l == nil:
		case s.t.spent(r, i):
			f.Outcome, f.Says, f.Origin = compat.No, name+": "+l.no+".", s.limitOrigin(r, i)
			return f
		case f.Outcome == compat.Caution:
		case r.Level.Value < l.watchBelow:
			f.Outcome, f.Says, f.Origin = compat.Caution, name+s.ifItIs(i, " is low if it is ")+l.watch+".", s.limitOrigin(r, i)
		case l.watchAbove > 0 && r.Level.Value > l.watchAbove:
			f.Outcome, f.Says, f.Origin = compat.Caution, name+s.ifItIs(i, " is high if it is ")+l.watchHigh+".", s.limitOrigin(r, i)
		}
	}
	if f.Origin == nil {
		if x := s.t.testOf(r.Of); x != nil {
			f.Origin = []compat.Evidence{compat.Cite(x.row)}
		}
	}
	return f
}

func (s *situation) limitOrigin(r Reading, family int) []compat.Evidence {
	return []compat.Evidence{compat.Cite(s.t.limitOf(r.Of, family).row)}
}

// ifItIs names the kind that a limit belongs to, where it may be another.
func (s *situation) ifItIs(family int, words string) string {
	if len(s.fill.may) == 1 {
		return ": "
	}
	return words + s.t.families[family].name + ": "
}

// condemnedBy reports whether a reading says that the fill has to come out
// if it is of that family, and which.
func (s *situation) condemnedBy(family int) (Reading, bool) {
	for _, r := range s.fill.fluid.Readings {
		if s.t.spent(r, family) {
			return r, true
		}
	}
	return Reading{}, false
}

// condemned reports whether the fill has to come out whatever it is.
func (s *situation) condemned() bool {
	look, ok := s.look()
	return s.spentAll || ok && look.outcome == compat.No
}

// spentFinding words what a test says of one of the kinds that it may be.
func (s *situation) spentFinding(f compat.Finding, c chemistry) compat.Finding {
	f.Says = "Don't pour yet: " + s.spentWords(c.world) + "."
	family := mostOf(c.world.comps)
	if r, ok := s.condemnedBy(family); ok {
		f.Origin = append(f.Origin, compat.Cite(s.t.limitOf(r.Of, family).row))
	}
	return f
}

func (s *situation) spentWords(w *world) string {
	return "if it is " + s.t.families[mostOf(w.comps)].name + ", it is used up and has to come out"
}

// nitriteRead returns the nitrite of the fill: as said, else as the strip reads.
func nitriteRead(q *Question) catalog.Stated[float64] {
	if q.Nitrite.Known {
		return q.Nitrite
	}
	for _, r := range q.Fill.Readings {
		if r.Of == nitriteID && r.Level.Known {
			return r.Level
		}
	}
	return catalog.Stated[float64]{}
}
