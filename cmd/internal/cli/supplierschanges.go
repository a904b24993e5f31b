package cli

import (
	"fmt"

	"fitfill/cmd/internal/app"
)

// printSince shows what changed since a day.
func (e *env) printSince(a app.SuppliersAnswer) {
	what := "all part types"
	if a.Type != "" {
		what = a.Type
	}
	fmt.Fprintf(e.Out, "What changed from %s to %s, %s\n", a.Since, a.AsOf, what)
	if len(a.Changed) == 0 {
		fmt.Fprintln(e.Out, "  Every supplier stands where it stood, and none is getting worse.")
	}
	for _, c := range a.Changed {
		fmt.Fprint(e.Out, wrap("  ", 4, c))
	}
	fmt.Fprintln(e.Out)
	var rows [][]string
	for _, s := range a.Suppliers {
		then, words := app.ThenScore{}, "new: "+s.Words
		if s.Then != nil && s.Then.Sold > 0 {
			then, words = *s.Then, s.Then.Words
			if s.Words != then.Words {
				words += ", now " + s.Words
			}
		}
		before, after, trend := "", "", "too new"
		if t := s.Trend; t != nil {
			before, after, trend = stretch(t.Before), stretch(t.After), "-"
			if t.Ratio != nil {
				trend = fmt.Sprintf("%.1f (%.1f-%.1f)", t.Ratio.Est, t.Ratio.Low, t.Ratio.High)
			}
		}
		rows = append(rows, []string{s.Supplier, fmt.Sprintf("+%d", s.Sold-then.Sold), before, after, trend, words})
	}
	columns(e.Out, e.style, []string{"supplier", ">bought", ">before", ">since", ">times as often", "against the rest"}, rows)
	fmt.Fprintln(e.Out)
	fmt.Fprint(e.Out, wrap("  ", 2, "Before, since: faulty/usual for the same part types at the same age, by the day they came back. Where 1 lies between the limits, chance alone may do."))
}

func stretch(s app.Stretch) string { return fmt.Sprintf("%.0f/%.1f", s.Faulty, s.Usual) }
