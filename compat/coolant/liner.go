package coolant

import (
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

const (
	checkLiner    = "wet liners"
	checkRadiator = "radiator"
)

// liners checks the bottle for an engine with wet liners. The nitrite floor
// binds only a fill whose liner protection is nitrite.
func (s *situation) liners() {
	e := s.q.Engine
	if e == nil || s.t.is(&s.add, waterID) {
		return
	}
	if !e.WetLiner.Known {
		s.note(compat.NotChecked(checkLiner, "whether the liners are wet", "Wet or dry liners: not on file for "+e.Family+"."))
		return
	}
	if !e.WetLiner.Value {
		return
	}
	f := compat.Finding{Check: checkLiner, Outcome: compat.Yes, Grade: compat.Label, Origin: cite(e.WetLiner.Origin)}
	kind := func(i int) string { return s.t.families[i].liner }
	charge := slices.IndexFunc(s.add.standards, func(st standard) bool { return st.liner == "charge" })
	full := slices.ContainsFunc(s.add.standards, func(st standard) bool { return st.liner == "yes" })
	unguarded := slices.ContainsFunc(s.add.may, func(i int) bool { return kind(i) != nitriteID && kind(i) != "organic" })
	claims, against := s.linerWords()
	switch {
	case against != "":
		f.Outcome, f.Says = compat.Caution, "Wet liners, and of them its label says: “"+against+"”."
	case full || claims:
		f.Says = "Its label claims protection for wet liners."
	case charge >= 0:
		st := s.add.standards[charge]
		f.Outcome, f.Grade = compat.Caution, compat.Standard
		f.Says = "Wet liners: a product to " + st.name + " " + st.note + "."
		f.Origin = append(f.Origin, compat.Cite(st.row))
	case unguarded:
		f.Outcome, f.Grade = compat.Caution, compat.CommonPractice
		f.Says = "Wet liners, and nothing says that the bottle protects them."
	default:
		f.Grade, f.Says = compat.CommonPractice, "Coolants of this kind protect wet liners."
	}
	s.note(f)
}

// linerWords returns whether a label claims something for liners, and what it
// says against them: "not for engines with wet liners" is no claim, and stands
// against any other.
func (s *situation) linerWords() (claims bool, against string) {
	for _, clause := range clauses(s.add.fluid.Product) {
		text := catalog.Fold(clause)
		if !strings.Contains(text, "liner") {
			continue
		}
		if _, denied := cutAtNegation(text); denied {
			return false, clause
		}
		claims = true
	}
	return claims, ""
}

// Diluted returns what a level in the fill falls to when added litres without
// any of it are poured onto volume litres: level·V/(V+a).
func Diluted(level, volume, added float64) float64 {
	if volume+added <= 0 {
		return 0
	}
	return level * volume / (volume + added)
}

// Replaced returns what a level falls to when drained litres of a system are
// replaced by coolant without any of it: level·(1 - d/V).
func Replaced(level, volume, drained float64) float64 {
	if volume <= 0 {
		return 0
	}
	return level * (1 - drained/volume)
}

// radiator checks a copper and brass radiator against organic coolant without
// silicate; the trade does not agree on it.
func (s *situation) radiator() {
	e := s.q.Engine
	if e == nil || !e.RadiatorMaterial.Known {
		return
	}
	material := catalog.Fold(e.RadiatorMaterial.Value)
	if !strings.Contains(material, "copper") && !strings.Contains(material, "brass") {
		return
	}
	for _, i := range s.add.may {
		if s.t.families[i].copperBrass == compat.Caution.String() {
			s.note(compat.Finding{
				Check: checkRadiator, Outcome: compat.Caution, Grade: compat.CommonPractice,
				Says:   "Copper and brass radiator: many will not put " + s.t.families[i].name + " in it. That is disputed; the maker's word decides.",
				Origin: append(cite(e.RadiatorMaterial.Origin), compat.Cite(s.t.families[i].row)),
			})
			return
		}
	}
	if len(s.add.may) > 0 && !s.t.is(&s.add, waterID) && !s.add.universal {
		s.note(compat.Finding{
			Check: checkRadiator, Outcome: compat.Yes, Grade: compat.CommonPractice,
			Says:   "Copper and brass radiator: " + s.t.names(s.add.may, "or") + " is commonly put in it. What goes into such radiators is disputed; the maker's word decides.",
			Origin: append(cite(e.RadiatorMaterial.Origin), compat.Cite(s.t.families[s.add.may[0]].row)),
		})
	}
}
