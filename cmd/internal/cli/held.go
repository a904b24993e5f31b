package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newHeld(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "held",
		Short: "The rows that were not taken, and why",
		Long: `List the rows of imported sheets that were held back: where they stand, what is
wrong with them and what to do. Correct the sheet and import it again.
` + exits(),
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return e.with(nil, func(shop *app.Shop) error {
				list, err := shop.Held(cmd.Context())
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, list)
				}
				if len(list) == 0 {
					fmt.Fprintln(e.Out, "No row is held back.")
					return nil
				}
				fmt.Fprintf(e.Out, "%s held back\n", plural(len(list), "row", "rows"))
				sheet := ""
				for _, h := range list {
					if h.Sheet != sheet {
						sheet = h.Sheet
						fmt.Fprintf(e.Out, "\n%s\n", e.style.strong(sheet))
					}
					e.heldRow(h.Line, h.Column, h.Text, h.Reason)
				}
				return nil
			})
		},
	}
}

// heldRow prints where a held row stands, what stands there and what is wrong.
func (e *env) heldRow(line int, column, text, reason string) {
	where := fmt.Sprintf("line %d", line)
	if column != "" {
		where += fmt.Sprintf(", column %q", column)
	}
	const most = 60
	if r := []rune(text); len(r) > most {
		text = string(r[:most-1]) + "…"
	}
	fmt.Fprint(e.Out, wrap("  "+where+": ", 4, fmt.Sprintf("%q: %s", text, reason)))
}
