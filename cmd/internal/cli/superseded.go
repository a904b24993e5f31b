package cli

import (
	"fmt"
	"strings"

	"fitfill/cmd/internal/app"
)

// supersededBy says what became of a number, and how the new part differs from
// the old one.
func (e *env) supersededBy(s *app.Superseded) {
	if s == nil {
		return
	}
	fmt.Fprint(e.Out, wrap("    ! ", 6, strings.TrimSpace(s.Says+" "+cite(s.Origin))))
	for _, n := range s.Newest {
		var what []string
		if n.First != "" {
			what = append(what, n.First)
		}
		if len(n.Changed) > 0 {
			what = append(what, "not made alike: "+strings.Join(n.Changed, ", "))
		}
		if len(what) > 0 {
			fmt.Fprint(e.Out, wrap("      ", 8, n.Number+": "+strings.Join(what, "; ")))
		}
	}
}
