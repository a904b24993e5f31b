package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newDoctor(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "doctor",
		Short: "Look through the whole catalogue for damage",
		Long: `Look through the whole catalogue: the database, the kept sheets read once more
against what was committed of them, and the search indexes. Nothing is changed.
` + exits(exitNo),
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return e.with(nil, func(shop *app.Shop) error {
				h, err := shop.Doctor(cmd.Context(), progress(e.Err, "rows"))
				if err != nil {
					return err
				}
				if e.asJSON {
					if err := writeJSON(e.Out, h); err != nil {
						return err
					}
				} else {
					fmt.Fprintf(e.Out, "%s, %s and %s looked through: %s\n", app.Plural(h.Sheets, "sheet", "sheets"), app.Plural(h.Rows, "row", "rows"),
						app.Plural(h.Parts, "part", "parts"), app.Plural(len(h.Wrong), "thing is wrong", "things are wrong"))
					for _, w := range h.Wrong {
						fmt.Fprint(e.Out, wrap("  x ", 4, w))
					}
				}
				if len(h.Wrong) > 0 {
					return answered(exitNo)
				}
				return nil
			})
		},
	}
}
