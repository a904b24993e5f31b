package cli

import (
	"fmt"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

// printTorque prints what is on file about the bolts: one line, what is wrong
// with it, and what has to be minded; every computation where it is asked for.
func (e *env) printTorque(t *app.TorqueAnswer, explain, all bool) {
	if t == nil {
		return
	}
	first := "Bolts: " + t.First
	if t.By != "" && t.By != "as told" {
		first += " [" + t.By + "]"
	}
	fmt.Fprintln(e.Out)
	fmt.Fprint(e.Out, wrap("", 2, first))
	var list []compat.Finding
	for _, f := range t.Findings {
		if all || f.Check != boltsCheck && t.Stated != nil && (f.Outcome != compat.Yes || t.Outcome == compat.CannotSay) {
			list = append(list, f)
		}
	}
	e.findings(e.Out, list, explain)
	for i, ask := range t.Ask {
		fmt.Fprint(e.Out, wrap("    > ", 6, ask+answerWith(t.With[i])))
	}
	if !all {
		mind := ""
		for _, f := range t.Findings {
			if f.Check == boltsCheck {
				mind += f.Says + " "
			}
		}
		fmt.Fprint(e.Out, wrap("  Mind: ", 8, mind))
	}
}

const boltsCheck = "bolts"
