package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

func newFit(e *env) *cobra.Command {
	var q app.FitQuestion
	var explain, all bool
	c := &cobra.Command{
		Use:   "fit ENGINE",
		Short: "Which parts go into this engine",
		Long: `Judge which parts go into an engine: what lists say, what cross-references lead
to, and what the sizes say. A size that cannot work is a no, whoever lists the
part. The exit code is that of the best part (or of the one asked for).
` + exits(exitNo, exitCannotSay),
		Example: `  fitfill fit KR6 --type thermostat
  fitfill fit KR6 --part TX-4711 --explain`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			q.Engine = args[0]
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.Fit(cmd.Context(), q)
				if err != nil {
					return err
				}
				if e.asJSON {
					if err := writeJSON(e.Out, a); err != nil {
						return err
					}
				} else {
					e.printFit(a, explain, all || q.Part != "")
				}
				return outcomeExit(a.Outcome())
			})
		},
	}
	c.Flags().StringVar(&q.Type, "type", "", "only this type of part: thermostat, seal ...")
	c.Flags().StringVar(&q.Part, "part", "", "only this part number")
	c.Flags().StringVar(&q.Supplier, "supplier", "", "only this supplier's parts")
	c.Flags().IntVar(&q.Year, "year", 0, "model year of the vehicle")
	c.Flags().StringVar(&q.VIN8, "vin8", "", "letter or digit at position 8 of the VIN")
	c.Flags().BoolVar(&explain, "explain", false, "show each computation line by line")
	c.Flags().BoolVar(&all, "all", false, "show the reasons of every part, not only of the first few")
	return c
}

func (e *env) printFit(a app.FitAnswer, explain, all bool) {
	what := a.Type
	if what == "" {
		what = "parts"
	}
	fmt.Fprintf(e.Out, "%s for %s: %s\n", app.Capital(what), a.Engine, app.Plural(len(a.Answers), "part judged", "parts judged"))
	if a.Hint != "" {
		fmt.Fprint(e.Out, wrap("  ", 2, a.Hint))
	}
	for i, p := range a.Answers {
		head := fmt.Sprintf("%s %s  %s", outcomeMark[p.Outcome], p.Number, p.Supplier)
		if a.Type == "" && p.Type != "" {
			head += "  (" + p.Type + ")"
		}
		full := all || explain || i == 0
		if i <= 1 || full {
			fmt.Fprintln(e.Out)
		}
		fmt.Fprintln(e.Out, e.style.strong(head))
		if full {
			fmt.Fprint(e.Out, wrap("    ", 4, p.First))
			e.findings(e.Out, shown(p.Findings, all || explain), explain)
			for _, ask := range p.Ask {
				fmt.Fprint(e.Out, wrap("    > ", 6, ask))
			}
			continue
		}
		fmt.Fprint(e.Out, wrap("    ", 4, p.First+" "+cite(deciding(p))))
	}
	if !all && !explain && len(a.Answers) > 1 {
		fmt.Fprintln(e.Out, "\nThe reasons for every part: --all. Each computation: --explain.")
	}
	e.waiting(a.Waiting)
}

// waiting says that held rows are about what was asked for: the answer lacks
// what they would say.
func (e *env) waiting(rows []app.HeldNote) {
	for _, h := range rows {
		fmt.Fprint(e.Out, wrap("Note: ", 2, fmt.Sprintf("a row about %s is held back (%s line %d): %s", h.Number, h.Sheet, h.Line, h.Reason)))
	}
}

// deciding returns where the finding comes from that an answer of one line
// rests on: the first with the outcome of the part.
func deciding(p app.PartFit) []compat.Evidence {
	for _, f := range p.Findings {
		if !f.NotChecked && f.Outcome == p.Outcome && len(f.Origin) > 0 {
			return f.Origin
		}
	}
	return nil
}

// shown leaves out what was not checked, unless everything is asked for: it
// moves no answer.
func shown(list []compat.Finding, all bool) []compat.Finding {
	if all {
		return list
	}
	var out []compat.Finding
	var missing []string
	for _, f := range list {
		if !f.NotChecked {
			out = append(out, f)
		} else if f.Missing != "" {
			missing = append(missing, f.Missing)
		}
	}
	if len(missing) > 0 {
		out = append(out, compat.NotChecked("not-checked", "", "for want of "+strings.Join(missing, ", ")))
	}
	return out
}
