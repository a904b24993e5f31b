package coolant

import (
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

const checkCoolant = "what the engine asks for"

// require checks the bottle against what the engine's maker asks for. An
// approval that the label says is approved beats the chemistry; one that it
// only says it meets is caution at best; one that is merely recommended lifts
// nothing.
func (s *situation) require() {
	if s.loop == nil || s.t.is(&s.add, waterID) {
		return
	}
	if s.lowConductivityLoop() {
		s.onlyTheNamed()
		return
	}
	e := s.q.Engine.Family
	as, name := standingFor(s.add.approvals, s.asked)
	f := compat.Finding{Check: checkCoolant, Grade: compat.Label, Origin: s.requirementOrigin()}
	chem, told := s.chemistryAsked()
	switch {
	case as == catalog.Approved:
		f.Outcome, f.Says = compat.Yes, e+" asks for "+name+", and the label says it is approved to that."
	case as == catalog.Meets:
		f.Outcome, f.Says = compat.Caution, e+" asks for "+name+"; the label says it meets that, not that it is approved."
	case told && chem.Outcome != compat.Yes:
		f = chem
	case len(s.asked) > 0 && len(s.add.approvals) > 0 && as == catalog.NoStanding && !s.sameProduct:
		f.Outcome, f.Says = compat.Caution, e+" asks for "+s.asked[0].Name+", which the label does not name."
	case told:
		f = chem
		if as == catalog.Recommended && s.q.Add.ByApproval != "" {
			f.Says += " Read how its label puts it: approved to " + name + ", or only meets or recommended."
		} else if as == catalog.Recommended {
			f.Says += " Its label only recommends it for " + name + "."
		}
	case len(s.asked) > 0:
		f = compat.NotChecked(checkCoolant, "the approvals on the label", e+" asks for "+s.asked[0].Name+": see whether the label names it.")
	default:
		f = compat.NotChecked(checkCoolant, "the coolant that "+e+" asks for", "Nothing is on file of what "+e+" asks for: see the maker's manual.")
	}
	s.note(f)
}

// chemistryAsked compares what the bottle may be with the chemistries that the
// engine asks for.
func (s *situation) chemistryAsked() (compat.Finding, bool) {
	if len(s.want) == 0 {
		return compat.Finding{}, false
	}
	f := compat.Finding{Check: checkCoolant, Outcome: compat.Yes, Grade: compat.CommonPractice, Origin: s.requirementOrigin()}
	wanted := s.t.names(s.want, "or")
	others := slices.DeleteFunc(slices.Clone(s.add.may), func(i int) bool { return slices.Contains(s.want, i) })
	switch {
	case len(others) == 0:
		f.Says = s.q.Engine.Family + " asks for " + wanted + ", and that is what is in the bottle."
	case len(others) == len(s.add.may) && len(others) == 1:
		f.Outcome = compat.Caution
		f.Says = s.q.Engine.Family + " asks for " + wanted + "; in the bottle is " + s.t.families[others[0]].name + "."
	default:
		f.Outcome = compat.Caution
		f.Says = s.q.Engine.Family + " asks for " + wanted + "; what is in the bottle is not known to be that."
	}
	return f, true
}

// lowConductivityLoop reports whether the loop is one that must not conduct:
// by its maker or by what is in it.
func (s *situation) lowConductivityLoop() bool {
	i := s.t.byID[lowConductivityID]
	return len(s.want) == 1 && s.want[0] == i || s.t.is(&s.fill, lowConductivityID)
}

// onlyTheNamed is the rule of a low-conductivity loop: the named fluid or none.
func (s *situation) onlyTheNamed() {
	r := s.t.reasons[lowCond]
	f := compat.Finding{Check: checkCoolant, Outcome: compat.No, Grade: r.grade, Origin: append(s.requirementOrigin(), compat.Cite(r.row))}
	f.Says = "This is a low-conductivity loop: it takes only the fluid its maker names. " + r.says
	if s.named {
		f.Outcome, f.Grade, f.Says = compat.Yes, compat.Label, "This is the fluid that the loop's maker names. Trained people only."
	}
	s.note(f)
}

func (s *situation) requirementOrigin() []compat.Evidence {
	var list []compat.Evidence
	if s.loop == nil {
		return nil
	}
	if s.loop.CoolantApproval.Origin.Known() {
		list = append(list, compat.From(s.loop.CoolantApproval.Origin))
	}
	if s.loop.CoolantChem.Origin.Known() {
		list = append(list, compat.From(s.loop.CoolantChem.Origin))
	}
	return list
}

// names lists trade names: "OAT, Si-OAT or P-HOAT".
func (t *Tables) names(list []int, last string) string {
	var b strings.Builder
	for n, i := range list {
		switch {
		case n > 0 && n == len(list)-1:
			b.WriteString(" " + last + " ")
		case n > 0:
			b.WriteString(", ")
		}
		b.WriteString(t.families[i].name)
	}
	return b.String()
}
