package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newChecks(e *env) *cobra.Command {
	var q app.ChecksQuestion
	c := &cobra.Command{
		Use:   "checks CODE...",
		Short: "What to look at for a trouble code before a part is sold",
		Long: `Say what a trouble code of the cooling system means, what else causes it, and
which checks come first: the level, then what is quick and likely. With several
codes of one car, the one that makes the others worth nothing comes first.
` + exits(exitCannotSay),
		Example: `  fitfill checks P0128
  fitfill checks P0128 --engine TKV38 --stamp "160 F"`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			q.Codes = args
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.Checks(cmd.Context(), q)
				if err != nil {
					return err
				}
				return e.printChecks(a)
			})
		},
	}
	c.Flags().StringVar(&q.Engine, "engine", "", "the engine: its warm-up temperature and its parts are named then")
	c.Flags().StringVar(&q.Stamp, "stamp", "", `what is stamped on the thermostat that is in it, such as "82 C"`)
	return c
}

func (e *env) printChecks(a app.ChecksAnswer) error {
	defer func() { e.own(a.Own) }()
	var end error
	if !a.Known() {
		end = answered(exitCannotSay)
	}
	if e.asJSON {
		if err := writeJSON(e.Out, a); err != nil {
			return err
		}
		return end
	}
	for i, c := range a.Codes {
		if i > 0 {
			fmt.Fprintln(e.Out)
		}
		e.printCode(c, a.Engine)
	}
	if len(a.Parts) > 0 {
		fmt.Fprintln(e.Out, "\n  Then, if that is what it was:")
		for _, p := range a.Parts {
			fmt.Fprintln(e.Out, "    "+p)
		}
	}
	return end
}

// printCode prints the advice on one code.
func (e *env) printCode(c app.CodeAdvice, engine string) {
	fmt.Fprintln(e.Out, e.style.strong(c.Code)+": "+c.Says)
	if !c.Known {
		return
	}
	says := c.Meaning + ". "
	switch {
	case c.NoPartYet:
		says += "A part is unlikely."
	case len(c.Parts) > 0:
		says += "In the end it may be the " + app.PartWords(c.Parts) + "."
	}
	fmt.Fprint(e.Out, wrap("  ", 2, says+" "+cite(c.Origin)))
	if c.Threshold != "" {
		fmt.Fprint(e.Out, wrap("  ", 2, engine+": "+c.Threshold+"."))
	}
	if c.TooCold {
		fmt.Fprint(e.Out, wrap("  ! ", 4, "The thermostat in it opens too early: that alone sets the code."))
	}
	fmt.Fprint(e.Out, wrap("  Mind: ", 8, strings.Join(c.Cautions, " ")))
	fmt.Fprintln(e.Out)
	for i, k := range c.Checks {
		fmt.Fprint(e.Out, wrap(fmt.Sprintf("  %d. ", i+1), 5, k.Do+" ("+minutes(k.Minutes, k.Cold)+")"))
		fmt.Fprint(e.Out, wrap("     Finds: ", 12, k.Finds+"."))
	}
}
