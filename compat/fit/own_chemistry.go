package fit

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

// Coolant is the type of part that is judged by its chemistry.
const Coolant = "coolant"

// ownChemistry compares the chemistry of a coolant with what the circuits of the
// engine take. Another chemistry is a doubt whatever lists say, unless its label
// names an approval that the engine asks for; whether it may be poured on top of
// what is in there is another question.
func (t trial) ownChemistry() []result {
	if t.kind != Coolant {
		return nil
	}
	c, takes := t.c.Part.Chemistry, chemistriesOf(&t.q.Engine)
	f := compat.Finding{Check: "chemistry", Outcome: compat.Yes, Grade: compat.Label, Origin: from(c.Origin)}
	for _, circuit := range t.q.Engine.Circuits {
		f.Origin = cite(f.Origin, from(circuit.CoolantChem.Origin)...)
	}
	switch {
	case len(takes) == 0:
		return []result{unchecked("chemistry", "coolant chemistry of the engine", "Which coolant the engine takes is not on file.")}
	case !c.Known:
		return []result{unchecked("chemistry", "chemistry of the coolant", "The sheet does not state its chemistry; the engine takes "+strings.Join(takes, " or ")+".")}
	case slices.Contains(takes, c.Value):
		f.Says = fmt.Sprintf("Its chemistry is %s, as the engine takes.", c.Value)
		return []result{{Finding: f}}
	case t.approved():
		f.Says = fmt.Sprintf("Its chemistry is %s and the engine takes %s, but its label names the engine's approval.", c.Value, strings.Join(takes, " or "))
		return []result{{Finding: f}}
	}
	f.Outcome = compat.Caution
	f.Says = fmt.Sprintf("Its chemistry is %s; the engine takes %s.", c.Value, strings.Join(takes, " or "))
	return []result{{Finding: f, role: doubt, short: fmt.Sprintf("it is %s, engine takes %s", c.Value, strings.Join(takes, ", ")),
		ask: "What may be poured on top: fitfill mix --engine " + t.q.Engine.Family + " --fill WHAT --add " + t.c.Part.Number + "."}}
}

// chemistriesOf returns the chemistries that the circuits of an engine take;
// nothing unless every circuit's is on file.
func chemistriesOf(e *catalog.EngineFamily) []string {
	var out []string
	for _, c := range e.Circuits {
		if !c.CoolantChem.Known {
			return nil
		}
		if !slices.Contains(out, c.CoolantChem.Value) {
			out = append(out, c.CoolantChem.Value)
		}
	}
	return out
}

// approved reports whether the label names an approval that the engine asks for.
func (t trial) approved() bool {
	label := catalog.Key(t.c.Part.Approvals.Value)
	for _, c := range t.q.Engine.Circuits {
		if want := catalog.Key(c.CoolantApproval.Value); want != "" && strings.Contains(label, want) {
			return true
		}
	}
	return false
}
