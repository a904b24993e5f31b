package cli

import (
	"fmt"
	"io"
	"strings"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

// outcomeMark is a mark of shape before the words of a verdict, so that a list
// can be scanned without colour.
var outcomeMark = app.Marks

// mostCited is how many places are named in text; --json has them all.
const mostCited = 3

// cite names where a finding comes from, in brackets; only the first few places.
func cite(list []compat.Evidence) string { return citeUpTo(list, mostCited) }

func citeUpTo(list []compat.Evidence, most int) string {
	var parts []string
	seen := map[string]bool{}
	for _, e := range list {
		var text string
		switch {
		case e.Sheet != "" && e.Line == 0: // said or measured just now
			text = e.Sheet + ": " + e.Text
		case e.Sheet != "":
			text = place(e)
		case e.Mark == string(compat.FromMemory):
			text = e.Title + ", from memory"
		case e.Title != "":
			text = e.Title
		}
		if text != "" && !seen[text] {
			seen[text] = true
			parts = append(parts, text)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	if len(parts) > most {
		parts = append(parts[:most], fmt.Sprintf("and %d more", len(parts)-most))
	}
	return "[" + strings.Join(parts, "; ") + "]"
}

// place names a line of a sheet, or an entry of the garage's own log.
func place(e compat.Evidence) string {
	if e.SHA256 == "" {
		return fmt.Sprintf("%s, entry %d", e.Sheet, e.Line)
	}
	return fmt.Sprintf("%s line %d", e.Sheet, e.Line)
}

// findings prints findings as one indented paragraph each.
func (e *env) findings(w io.Writer, list []compat.Finding, steps bool) {
	for _, f := range list {
		mark, says := outcomeMark[f.Outcome], f.Says
		if f.NotChecked {
			mark = "-"
			if f.Missing != "" || f.Grade == "" {
				says = "not checked: " + says
			}
		}
		if f.Grade != "" {
			says += " (" + string(f.Grade) + ")"
		}
		most := mostCited
		if steps {
			most = len(f.Origin)
		}
		if c := citeUpTo(f.Origin, most); c != "" {
			says += " " + c
		}
		fmt.Fprint(w, wrap("    "+mark+" ", 6, says))
		if steps {
			for _, s := range f.Steps {
				fmt.Fprint(w, wrap("        ", 10, s))
			}
		}
	}
}
