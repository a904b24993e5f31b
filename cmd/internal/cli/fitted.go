package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"fitfill/catalog"
	"fitfill/cmd/internal/app"
)

func newFitted(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:   "fitted",
		Short: "Log a part that was put into a vehicle",
		Long:  "Log a part that was put into a vehicle.\n" + exits(exitCannotSay),
	}
	c.AddCommand(newFittedAdd(e), newTakeBack(e, catalog.LogFitted))
	return c
}

func newFittedAdd(e *env) *cobra.Command {
	var q app.FittedSaid
	c := &cobra.Command{
		Use:   "add MARK NUMBER",
		Short: "Log a part that was put into a vehicle",
		Long: `Log a part that was put into a vehicle, with what was measured on it or on the
engine. A mistyped entry is taken back with: fitfill fitted undo
` + exits(exitCannotSay),
		Example: `  fitfill fitted add "AB 123" TX-4711
  fitfill fitted add "AB 123" TX-4711 --supplier Quillmar --measured "flange 53.9 mm"`,
		Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			q.Vehicle, q.Number = args[0], args[1]
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.AddFitted(cmd.Context(), q)
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, a)
				}
				fmt.Fprintln(e.Out, e.style.strong(fmt.Sprintf("Logged as entry %d", a.Entry)))
				text := a.Date + ", " + q.Vehicle + ": " + a.Supplier + " " + a.Number
				if a.Type != "" {
					text += ", " + a.Type
				}
				if a.Measured != "" {
					text += "; measured " + a.Measured
				}
				fmt.Fprint(e.Out, wrap("  ", 4, text))
				return nil
			})
		},
	}
	c.Flags().StringVar(&q.Supplier, "supplier", "", "from whom, where several sell the number")
	c.Flags().StringVar(&q.Date, "date", "", "day, YYYY-MM-DD (default: today)")
	c.Flags().StringVar(&q.Measured, "measured", "", "sizes taken then, such as \"flange 53.9 mm; bore 54.8 mm\"")
	return c
}
