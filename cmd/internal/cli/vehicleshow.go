package cli

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/catalog/units"
	"fitfill/cmd/internal/app"
)

// shownOfEach is how many fillings, parts, comebacks and answers the card shows:
// the last ones, so that it stays on one screen.
const shownOfEach = 4

func newVehicleShow(e *env) *cobra.Command {
	var all bool
	c := &cobra.Command{
		Use:   "show MARK",
		Short: "Have we had this vehicle before",
		Long: `Show what is on file of a vehicle: its engine, what is in each circuit now, the
last fillings and parts, what came back, and what was told. MARK may be its VIN.
` + exits(exitCannotSay),
		Example: `  fitfill vehicle show "AB 123"`,
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return e.with(nil, func(shop *app.Shop) error {
				c, err := shop.Vehicle(cmd.Context(), args[0])
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, c)
				}
				e.printCard(c, all, shop.Settings.Units)
				return nil
			})
		},
	}
	c.Flags().BoolVar(&all, "all", false, "show every filling, part and answer, not only the last ones")
	return c
}

func (e *env) printCard(c app.VehicleCard, all bool, u units.System) {
	fmt.Fprintln(e.Out, e.style.strong(c.First))
	about := "VIN " + cmp.Or(c.VIN, "not on file")
	if c.Make != "" {
		about = c.Make + " " + c.Model + "; " + about
	}
	if c.Engine == "" {
		about += "; engine not on file"
	}
	if c.FirstFill != "" {
		about += "; first fill " + c.FirstFill
	}
	fmt.Fprint(e.Out, wrap("  ", 4, about))
	if c.Again != "" {
		fmt.Fprint(e.Out, wrap("  x ", 4, c.Again))
	}
	for _, n := range c.Circuits {
		if n.Last != nil || n.Asks != "" {
			e.printCircuit(n, false, u)
		}
	}
	e.printLast("Filled", len(c.Fills), all, func(i int) string {
		f := c.Fills[i]
		text := f.Date + " " + f.Says(u)
		if len(c.Circuits) > 1 {
			text += ", " + f.Circuit
		}
		return text + " " + whereLogged(f.Origin)
	})
	e.printLast("Fitted", len(c.Fitted), all, func(i int) string {
		f := c.Fitted[i]
		text := f.Date + " " + f.Supplier + " " + f.Number
		if f.Type != "" {
			text += ", " + f.Type
		}
		if f.Measured != "" {
			text += "; measured " + f.Measured
		}
		return text + " " + whereLogged(f.Origin)
	})
	e.printLast("Came back", len(c.Comebacks), all, func(i int) string {
		b := c.Comebacks[i]
		text := b.Date + " " + b.Supplier + " " + b.Number + ": " + b.Reason
		if b.Note != "" {
			text += "; " + b.Note
		}
		if b.Told != nil {
			text += fmt.Sprintf("; told on %s: %s", b.Told.Date, b.Told.First)
		}
		return text + " " + whereLogged(b.Origin)
	})
	e.printLast("Told", len(c.Told), all, func(i int) string {
		d := c.Told[i]
		return strings.TrimSpace(d.Date+" "+d.Supplier) + " " + d.Number + ": " + d.First
	})
}

// printLast prints the last lines of a list, or all, under a heading.
func (e *env) printLast(title string, n int, all bool, line func(int) string) {
	if n == 0 {
		return
	}
	from := max(0, n-shownOfEach)
	if all {
		from = 0
	}
	if from > 0 {
		title += fmt.Sprintf(" (the last %d of %d; the rest: --all)", n-from, n)
	}
	fmt.Fprintf(e.Out, "  %s:\n", title)
	for i := from; i < n; i++ {
		fmt.Fprint(e.Out, wrap("    ", 6, line(i)))
	}
}
