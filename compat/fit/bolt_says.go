package fit

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

// say puts the judgements of the possible threads into findings and a first
// line. One thread on which the figure is plausible is enough not to call it
// wrong; more than one thread leaves the question open.
func (v *Torque) say(judged []torqued, stated bool, b *Bolt) {
	show := showIn(b.Show)
	for _, j := range judged {
		f := compat.Finding{Check: torqueCheck, Grade: compat.Measured, Origin: j.from, Steps: j.steps, Outcome: j.outcome, Says: j.says}
		if !stated {
			f.Says = fmt.Sprintf("Bolts %s class %s: oiled, bolt and thread never bear more than %s", j.name, j.classSaid, bracket(show, j.above, j.above))
			if j.sure != j.above {
				f.Says += fmt.Sprintf(", and over %s the thread may strip", bracket(show, j.sure, j.sure))
			}
			f.Says += ". That is no setting."
			f.Steps = append(j.steps[:j.strength:j.strength], j.wrong) // nothing that could be taken for a setting
		}
		v.Findings = append(v.Findings, f)
		if len(v.Findings) == 1 || v.Outcome.Worse(j.outcome) {
			v.Outcome = j.outcome
		}
	}
	for _, j := range judged {
		if j.shallow != "" {
			v.Findings = append(v.Findings, compat.Finding{Check: torqueCheck, Grade: compat.Standard, Outcome: compat.Caution, Says: j.shallow, Origin: j.shallowFrom})
		}
	}
	above, where := "", " on file"
	if b.Torque.Origin.Line == 0 {
		where = " as told"
	}
	if v.HasAbove {
		above = bracket(show, v.Above, v.Above)
	}
	switch {
	case !stated && v.Basis == BasisSheet:
		v.First = "on file, not to be judged: maker's manual"
	case !stated:
		v.First = "none on file: maker's manual"
		if above != "" {
			v.First += "; oiled, over " + above + " is wrong"
		}
	case len(judged) == 0:
		v.First = bracket(show, v.Low, v.High) + where + ", not judged: thread unknown"
	case len(judged) > 1:
		v.Outcome, v.First = compat.CannotSay, bracket(show, v.Low, v.High)+where+": hangs on the thread"
	case judged[0].outcome == compat.Yes:
		v.First = bracket(show, v.Low, v.High) + where + ", plausible"
	case judged[0].perhaps:
		v.First = bracket(show, v.Low, v.High) + where + ": too much for the thread"
	case judged[0].outcome == compat.No:
		v.First = bracket(show, v.Low, v.High) + where + ": surely wrong"
	default:
		v.First = bracket(show, v.Low, v.High) + where + ": check it"
	}
	v.First = cut(v.First)
}

// TorqueWarning is what stands beside every torque.
func (t *Tables) TorqueWarning() string { return t.boltNote("always").says }

// warn adds what has to be minded whatever the figure: the words of the table.
func (v *Torque) warn(t *Tables, b *Bolt) {
	when := []string{}
	if holds(b.Housing, "plastic", "pa66", "pa6", "polyamide", "nylon") {
		when = append(when, "plastic")
	}
	if holds(b.Hole, "blind") {
		when = append(when, "blind")
	}
	if holds(b.Hole, "water", "through", "jacket") {
		when = append(when, "water")
	}
	for _, w := range append(when, "always") {
		if n := t.boltNote(w); n.says != "" {
			var o []catalog.Origin
			switch w {
			case "plastic":
				o = append(o, b.Housing.Origin)
			case "blind", "water":
				o = append(o, b.Hole.Origin)
			}
			v.Findings = append(v.Findings, compat.Finding{Check: "bolts", Outcome: compat.Caution, Grade: compat.CommonPractice, Says: n.says, Origin: cite(from(o...), n.origin)})
		}
	}
}

// holds reports whether a text has one of the words.
func holds(s catalog.Stated[string], words ...string) bool {
	text := strings.Fields(catalog.Fold(s.Value))
	for _, w := range words {
		for _, have := range text {
			if s.Known && have == w {
				return true
			}
		}
	}
	return false
}
