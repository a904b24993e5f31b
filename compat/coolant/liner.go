package coolant

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

const (
	checkLiner    = "wet liners"
	checkNitrite  = "nitrite for the liners"
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
	switch {
	case full || s.linerWords():
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

func (s *situation) linerWords() bool {
	p := s.add.fluid.Product
	return p != nil && strings.Contains(catalog.Fold(p.Description.Value+" "+p.Notes.Value+" "+p.Approvals.Value), "liner")
}

// nitriteFloor follows the nitrite of a fill that guards its liners with it.
func (s *situation) nitriteFloor(a float64, poured bool) {
	floor, ok := s.floor()
	if !ok {
		return
	}
	if !s.q.Nitrite.Known || !poured {
		missing := s.amountFact()
		if !s.q.Nitrite.Known {
			missing = "the nitrite in the fill"
		}
		s.note(compat.NotChecked(checkNitrite, missing, "Dip a nitrite strip: pouring nitrite-free coolant or water thins it."))
		return
	}
	level := s.nitriteAfter(a)
	f := compat.Finding{Check: checkNitrite, Outcome: compat.Yes, Grade: compat.Standard, Origin: []compat.Evidence{compat.Cite(floor.row)}}
	f.Says = fmt.Sprintf("Nitrite would be about %.0f mg/kg, at least the %.0f the liners need.", level, floor.value)
	if s.nitriteLow(a) {
		f.Outcome = compat.Caution
		f.Says = fmt.Sprintf("Nitrite would be about %.0f mg/kg, below the %.0f the liners need: restore it.", level, floor.value)
	}
	s.note(f)
}

// floor returns the nitrite that the fill needs, where wet liners are guarded
// by nitrite.
func (s *situation) floor() (limit, bool) {
	fam, ok := s.fill.only()
	e := s.q.Engine
	if !ok || e == nil || !e.WetLiner.Known || !e.WetLiner.Value || s.t.families[fam].liner != nitriteID {
		return limit{}, false
	}
	l, ok := s.t.limits["nitrite_floor_"+s.t.families[fam].id]
	return l, ok
}

func (s *situation) nitriteAfter(a float64) float64 {
	if only, ok := s.add.only(); ok && s.t.families[only].holds[nitriteID] == plus {
		return s.q.Nitrite.Value
	}
	return Diluted(s.q.Nitrite.Value, s.vol.before(a), a)
}

// nitriteLow reports whether an amount leaves too little nitrite.
func (s *situation) nitriteLow(a float64) bool {
	floor, ok := s.floor()
	return ok && s.q.Nitrite.Known && s.nitriteAfter(a) < floor.value
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
}
