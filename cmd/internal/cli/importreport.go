package cli

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/cmd/internal/app"
)

// reportShown is how many examples of each kind of change are printed; --json
// has them all.
const reportShown = 3

// printReport prints what a new version of a sheet changes.
func (e *env) printReport(r *app.ChangeReport) {
	if r == nil {
		return
	}
	var fields []string
	for f, n := range r.Fields {
		fields = append(fields, fmt.Sprintf("%s (%d)", f, n))
	}
	slices.Sort(fields)
	if len(fields) > 0 {
		fmt.Fprint(e.Out, wrap("  parts that change: ", 4, strings.Join(fields, ", ")))
	}
	if p := r.Prices; p != nil {
		text := fmt.Sprintf("%s; the middle one is %.2f times the last", app.Plural(p.Parts, "price moves", "prices move"), p.Median)
		for _, way := range []struct {
			name string
			list []string
		}{{"up most", p.Up}, {"down most", p.Down}} {
			if len(way.list) > 0 {
				text += "; " + way.name + ": " + way.list[0]
			}
		}
		fmt.Fprint(e.Out, wrap("  ", 4, text))
	}
	e.few("no longer listed: ", r.Withdrawn)
	e.few("superseded: ", r.Superseded)
	e.few("superseded in a circle, which cannot be meant: ", r.Loops)
}

func (e *env) few(label string, list []string) {
	if len(list) == 0 {
		return
	}
	text := strings.Join(list[:min(reportShown, len(list))], "; ")
	if more := len(list) - reportShown; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	fmt.Fprint(e.Out, wrap("  "+label, 4, text))
}
