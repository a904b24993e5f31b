package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newFind(e *env) *cobra.Command {
	var q app.FindQuestion
	c := &cobra.Command{
		Use:   "find WORDS...",
		Short: "Find parts by whatever the customer says",
		Long: `Find parts by whatever was said or scanned: a part number or half of one, a
barcode, a VIN, a trouble code, the mark of a car on file, or words: the part,
make, model, engine size, year, rating, a size in any unit. The answer says how
the words were read. Where an engine is meant, each part is judged for it.
Numbers that only look alike are offered, and said to be.
` + exits(exitCannotSay),
		Example: `  fitfill find TX-4711
  fitfill find thermostat for a Sandrel 3.8 2001
  fitfill find o-ring 63.09 x 3.53
  fitfill find it has a P0128`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			q.Words = strings.Join(args, " ")
			app.PrepareFind()
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.Find(cmd.Context(), q)
				if err != nil {
					return err
				}
				return e.printFind(a, shop.Settings.Units)
			})
		},
	}
	c.Flags().StringVar(&q.Type, "type", "", "only parts of this type: thermostat, seal, hose ...")
	c.Flags().StringVar(&q.Engine, "engine", "", "for this engine: its name, a VIN, a car on file, or words such as \"Sandrel 3.8\"")
	c.Flags().StringVar(&q.Supplier, "supplier", "", "only this supplier's parts")
	c.Flags().IntVar(&q.Limit, "limit", 20, "how many parts to show")
	return c
}
