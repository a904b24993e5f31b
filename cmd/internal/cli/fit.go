package cli

import (
	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newFit(e *env) *cobra.Command {
	var q app.FitQuestion
	var explain, all bool
	c := &cobra.Command{
		Use:   "fit ENGINE|--vehicle MARK",
		Short: "Which parts go into this engine",
		Long: `Judge which parts go into an engine: what lists say, what cross-references lead
to, what the sizes say, and what was fitted and stayed or came back. The best
part stands first, with what to ask next and the flag that takes the answer.
What is measured is a size of the part asked for with --part, else of the old
part. The exit code is that of the best part (or of the one asked for).
With --vehicle the engine may be left out, and what was answered is kept on
record for it. A ring that was measured is named by the sizes of AS568, JIS B
2401 and ISO 3601-1, with an engine or without.
` + exits(exitNo, exitCannotSay),
		Example: `  fitfill fit KR6 --type thermostat
  fitfill fit KR6 --type thermostat --year 2004 --with A/C
  fitfill fit KR6 --part TX-4711 --measured "flange 53.9 mm"
  fitfill fit KR6 --part TX-4711 --explain
  fitfill fit --measured "ring 37.7 x 3.5 mm"`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				q.Engine, q.WithoutRows = args[0], !e.asJSON
			}
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
					e.printFit(a, explain, all)
					e.printNotKept(a.NotKept)
				}
				if a.Engine == "" && len(a.Rings) > 0 {
					return nil
				}
				return outcomeExit(a.Outcome())
			})
		},
	}
	c.Flags().StringVar(&q.Vehicle, "vehicle", "", "mark, plate or VIN of a vehicle on file")
	c.Flags().StringVar(&q.Type, "type", "", "only this type of part: thermostat, seal ...")
	c.Flags().StringVar(&q.Part, "part", "", "only this part number")
	c.Flags().StringVar(&q.Supplier, "supplier", "", "only this supplier's parts")
	c.Flags().StringVar(&q.Year, "year", "", "model year of the vehicle (2004.5: its second half)")
	c.Flags().StringVar(&q.VIN8, "vin8", "", "letter or digit at position 8 of the VIN")
	c.Flags().StringVar(&q.Built, "built", "", "month of build, such as 2004-03")
	c.Flags().StringVar(&q.Displacement, "displacement", "", "such as \"3.8 L\"")
	c.Flags().StringArrayVar(&q.With, "with", nil, "it has what a note names, such as A/C")
	c.Flags().StringArrayVar(&q.Without, "without", nil, "it has not what a note names, such as HD")
	c.Flags().StringVar(&q.Circuit, "circuit", "", "the loop that a coolant is for, where the engine has several")
	c.Flags().StringVar(&q.On, "on", "", "number of the thermostat that a seal is to go on")
	c.Flags().StringArrayVar(&q.Measured, "measured", nil, "a size read off the old part, the part asked for or the engine, such as \"flange 53.9 mm\"")
	c.Flags().StringVar(&q.Bolt, "bolt", "", "thread of the housing's bolts, such as M8x1.25")
	c.Flags().StringVar(&q.Torque, "torque", "", "a figure to be judged for them, such as \"15-22 lbf·ft\"")
	c.Flags().BoolVar(&explain, "explain", false, "show each computation line by line")
	c.Flags().BoolVar(&all, "all", false, "show the reasons of every part, not only of the first few")
	return c
}
