package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newCapacity(e *env) *cobra.Command {
	var q app.CapacitySaid
	c := &cobra.Command{
		Use:   "capacity",
		Short: "How much a system holds, without the book",
		Long: `Work out how much a cooling system holds from its strength before and after a
measured drain and refill. Read the strength, drain into a jug, refill with
water (or with a coolant of known strength), run it hot with the heater on until
the thermostat has opened, let it cool, and read the strength again. The more
comes out, the nearer the answer. Never open a hot cap.
` + exits(exitCannotSay),
		Example: `  fitfill fill capacity --before 50% --drained 3L --after 31%
  fitfill fill capacity --before "-18 C" --drained 4L --with BX-1 --after "-34 C"`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.Capacity(cmd.Context(), q)
				if err != nil {
					return err
				}
				if e.asJSON {
					if err := writeJSON(e.Out, a); err != nil {
						return err
					}
				} else {
					e.printCapacity(a)
				}
				if !a.Known {
					return answered(exitCannotSay)
				}
				return nil
			})
		},
	}
	f := c.Flags()
	f.StringVar(&q.Before, "before", "", "strength before: vol %, or what a refractometer reads")
	f.StringVar(&q.After, "after", "", "strength after, mixed hot: vol %, or what a refractometer reads")
	f.StringVar(&q.Scale, "scale", "", "the refractometer's scale: ethylene (default) or propylene")
	f.StringVar(&q.Drained, "drained", "", "how much came out, such as 3L")
	f.StringVar(&q.Refilled, "refilled", "", "how much went in (default: as much as came out)")
	f.StringVar(&q.With, "with", "", "what went in: water (default), or a product number")
	f.StringVar(&q.WithStrength, "with-strength", "", "its strength in vol % as poured (default: by its label)")
	f.StringVar(&q.Engine, "engine", "", "engine family, to compare with what is on file")
	f.StringVar(&q.Circuit, "circuit", "", "circuit, where the engine has several")
	return c
}

func (e *env) printCapacity(a app.CapacityAnswer) {
	mark := "+"
	if !a.Known {
		mark = "?"
	}
	fmt.Fprintln(e.Out, e.style.strong(mark+" "+a.First))
	for _, s := range a.Steps {
		fmt.Fprint(e.Out, wrap("    ", 6, s))
	}
	if a.OnFile != "" {
		fmt.Fprint(e.Out, wrap("  ", 4, a.OnFile))
	}
	fmt.Fprint(e.Out, wrap("  ", 4, a.Next))
}
