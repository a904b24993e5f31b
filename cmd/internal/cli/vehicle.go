package cli

import (
	"cmp"
	"fmt"

	"github.com/spf13/cobra"

	"fitfill/catalog"
	"fitfill/cmd/internal/app"
)

func newVehicle(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:   "vehicle",
		Short: "Vehicles: have we had this one before",
		Long:  "Put vehicles on file by the shop's own mark or plate, and show what was done to them.\n" + exits(exitCannotSay),
	}
	c.AddCommand(newVehicleAdd(e), newVehicleShow(e), newVehicleList(e), newVehicleForget(e), newVehicleTag(e), newTakeBack(e, catalog.LogVehicle))
	return c
}

func newVehicleAdd(e *env) *cobra.Command {
	var q app.VehicleSaid
	c := &cobra.Command{
		Use:   "add MARK",
		Short: "Put a vehicle on file, or what is new about it",
		Long: `Put a vehicle on file by its plate or a mark of your own. Said again, it adds or
changes what the flags name. A mistyped entry is taken back with: fitfill vehicle undo
` + exits(exitCannotSay),
		Example: `  fitfill vehicle add "AB 123" --engine KR6
  fitfill vehicle add "AB 123" --vin Z0XNR18B951000101 --first-fill factory`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			q.Mark = args[0]
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.AddVehicle(cmd.Context(), q)
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, a)
				}
				fmt.Fprintln(e.Out, e.style.strong(fmt.Sprintf("%s is on file (entry %d)", a.Vehicle, a.Entry)))
				fmt.Fprint(e.Out, wrap("  ", 4, fmt.Sprintf("engine %s; VIN %s; first fill %s", cmp.Or(a.Engine, "not known"), cmp.Or(a.VIN, "not known"), cmp.Or(a.FirstFill, "not known"))))
				return nil
			})
		},
	}
	c.Flags().StringVar(&q.VIN, "vin", "", "its VIN")
	c.Flags().StringVar(&q.Engine, "engine", "", "its engine family")
	c.Flags().StringVar(&q.FirstFill, "first-fill", "", "what was in it at first: factory, a chemistry, a colour or a product number, with its day behind it where known; a day alone: factory")
	return c
}

// printNotKept says that an answer is not on record, where that is so.
func (e *env) printNotKept(why string) {
	if why != "" {
		fmt.Fprint(e.Out, wrap("  ", 4, why))
	}
}

func newVehicleList(e *env) *cobra.Command {
	return &cobra.Command{
		Use: "list", Short: "List the vehicles on file", Long: "List the vehicles on file.\n" + exits(), Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return e.with(nil, func(shop *app.Shop) error {
				list, err := shop.Vehicles(cmd.Context())
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, list)
				}
				if len(list) == 0 {
					fmt.Fprintln(e.Out, "No vehicle is on file yet: fitfill vehicle add MARK --engine CODE")
					return nil
				}
				var rows [][]string
				for _, v := range list {
					rows = append(rows, []string{v.Vehicle, v.Engine, v.VIN, v.FirstFill})
				}
				columns(e.Out, e.style, []string{"vehicle", "engine", "VIN", "first fill"}, rows)
				return nil
			})
		},
	}
}
