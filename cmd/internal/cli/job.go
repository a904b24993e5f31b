package cli

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
	"fitfill/cmd/internal/shelf"
	"fitfill/compat/job"
)

func newJob(e *env) *cobra.Command {
	var q app.JobQuestion
	var out, labour string
	var explain bool
	c := &cobra.Command{
		Use:   "job [ENGINE] JOB",
		Short: "Everything that a job takes, on one list",
		Long: `Put the parts, the fluids and what has to be minded on one list: each place
with the best part that fits, the next best one, and the sheet lines behind it.
Parts that go on one another are chosen as a set. Among parts that fit equally
well decides what a fitted one costs in the end, where enough came back to say;
else the price. What no sheet lists is named, not left out. Without a JOB the
program names those that it knows.
` + exits(exitNo, exitCannotSay),
		Example: `  fitfill job KR6 thermostat
  fitfill job --vehicle "D 01" thermostat
  fitfill job KR6 "water pump" --year 2004 --drained 4.4L
  fitfill job KR6 thermostat --take thermostat=TX-4711 --out shelf.html`,
		Args: cobra.RangeArgs(0, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case len(args) == 2:
				q.Engine, q.Job = args[0], args[1]
			case len(args) == 1 && q.Vehicle.Vehicle != "":
				q.Job = args[0]
			case len(args) == 1:
				q.Engine = args[0]
			}
			if out != "" && jobSheets[strings.ToLower(filepath.Ext(out))] == nil {
				return &app.UsageError{Problem: "--out " + out + " is neither a page nor a table", Hint: "name it like shelf.html or shelf.csv"}
			}
			return e.with(map[string]string{"labour_rate": labour}, func(shop *app.Shop) error {
				a, err := shop.Job(cmd.Context(), q)
				if err != nil {
					return err
				}
				if out != "" {
					if err := writeJobSheet(out, a); err != nil {
						return err
					}
				}
				switch {
				case e.asJSON:
					err = writeJSON(e.Out, a)
				case out != "":
					fmt.Fprintf(e.Out, "%s: %s on %s, %s\n", out, a.Title, a.Engine, app.Plural(len(a.Lines), "line", "lines"))
				default:
					e.printJob(a, explain)
				}
				if err != nil {
					return err
				}
				return outcomeExit(a.Outcome())
			})
		},
	}
	f := c.Flags()
	f.StringArrayVar(&q.Take, "take", nil, "a part that is wanted for a place, such as seal=QM-2038")
	f.StringVar(&q.Vehicle.Vehicle, "vehicle", "", "the shop's own mark or plate: its engine and what is in it; the list is kept as said")
	f.StringVar(&q.Vehicle.Year, "year", "", "model year of the vehicle")
	f.StringVar(&q.Vehicle.VIN8, "vin8", "", "letter or digit at position 8 of the VIN")
	f.StringVar(&q.Vehicle.Built, "built", "", "month of build, such as 2004-03")
	f.StringArrayVar(&q.Vehicle.With, "with", nil, "it has what a note names, such as A/C")
	f.StringArrayVar(&q.Vehicle.Without, "without", nil, "it has not what a note names, such as HD")
	f.StringArrayVar(&q.Vehicle.Measured, "measured", nil, "a size read off the old part or the engine, such as \"flange 53.9 mm\"")
	f.StringVar(&q.Fill.What, "fill", "", "what is in it (default: the engine's own coolant)")
	f.StringVar(&q.Fill.Strength, "fill-strength", "", "its strength in vol % as poured")
	f.StringVar(&q.Add, "add", "", "the coolant that is wanted, by its number")
	f.StringVar(&q.Drained, "drained", "", "what came out (default: what the engine's sheet says)")
	f.BoolVar(&q.Rounds, "rinse", false, "get the old coolant out, with rinses")
	f.StringVar(&labour, "labour-rate", "", "what an hour of labour costs the shop, such as 60EUR (default: the setting labour_rate)")
	f.StringVar(&out, "out", "", "write the list as a page to print (.html) or as a table (.csv, .xlsx)")
	f.BoolVar(&explain, "explain", false, "show the reasons of every line")
	return c
}

func (e *env) printJob(a app.JobAnswer, explain bool) {
	defer func() { e.own(a.Own) }()
	fmt.Fprintln(e.Out, e.style.strong(fmt.Sprintf("%s on %s: %s", a.Title, a.Engine, shelf.Total(a))))
	fmt.Fprintln(e.Out)
	if n := a.Next; n != nil {
		fmt.Fprintln(e.Out, wrap("> Ask first: ", 2, n.Ask+" ("+n.AnswerWith+")"))
	}
	for _, l := range a.Lines {
		e.jobLine(l, explain)
	}
	for _, p := range a.Problems {
		fmt.Fprint(e.Out, wrap("! ", 2, p))
	}
	if len(a.Maybe) > 0 {
		fmt.Fprint(e.Out, wrap("  ", 2, "Not in the total, because only perhaps needed: "+strings.Join(a.Maybe, " and ")+"."))
	}
	e.printTorque(a.Torque, explain, false)
	phase := job.Phase("")
	for _, n := range a.Notes {
		if n.Phase != phase {
			phase = n.Phase
			fmt.Fprintf(e.Out, "\n%s:\n", shelf.PhaseTitle[phase])
		}
		text := n.Text
		if explain {
			text += " (" + string(n.Grade) + ") " + cite(n.Origin)
		}
		fmt.Fprint(e.Out, wrap("  - ", 4, text))
	}
	if len(a.Cautions) > 0 {
		fmt.Fprint(e.Out, e.style.faint(wrap("  Mind: ", 8, strings.Join(a.Cautions, " "))))
	}
	if len(a.TellWith) > 0 {
		fmt.Fprint(e.Out, "\n", wrap("> ", 2, "Firmer with: "+strings.Join(a.TellWith, ", ")))
	}
	if a.Hint != "" {
		fmt.Fprintf(e.Out, "\n%s\n", a.Hint)
	}
	if !explain {
		fmt.Fprintln(e.Out, "\nThe reasons of every line: --explain. To print: --out shelf.html")
	}
}

func (e *env) jobLine(l app.JobLine, explain bool) {
	head := fmt.Sprintf("%s %s: %s", outcomeMark[l.Outcome], l.Role, shelf.Amount(l))
	if l.Number != "" {
		head += " " + l.Number + " of " + l.Supplier
	}
	if l.Sum != "" {
		head += "  " + l.Sum
	}
	if l.Need != "" {
		head += "  (" + l.Need + ")"
	}
	fmt.Fprint(e.Out, e.style.strong(wrap("", 4, head)))
	why := l.Why
	offer := app.PartFit{Stock: l.Stock, StockDate: l.StockDate, Delivery: l.Delivery}.Offer()
	if offer != "" {
		why += "; " + offer
	}
	fmt.Fprint(e.Out, wrap("    ", 4, why))
	if r := l.RunnerUp; r != nil {
		fmt.Fprint(e.Out, wrap("    ", 4, "else "+r.Words()))
	}
	if explain {
		e.findings(e.Out, l.Findings, false)
	}
}
