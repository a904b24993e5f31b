package cli

import (
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newHeld(e *env) *cobra.Command {
	c := &cobra.Command{
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
				fmt.Fprintf(e.Out, "%s held back\n", app.Plural(len(list), "row", "rows"))
				sheet := ""
				for _, h := range list {
					if h.Sheet != sheet {
						sheet = h.Sheet
						fmt.Fprintf(e.Out, "\n%s (sheet %d)\n", e.style.strong(sheet), h.ID)
					}
					e.heldRow(h.Line, h.Column, h.Text, h.Reason)
				}
				return nil
			})
		},
	}
	c.AddCommand(newHeldWaive(e))
	return c
}

func newHeldWaive(e *env) *cobra.Command {
	var reason string
	c := &cobra.Command{
		Use:     "waive SHEET LINE",
		Short:   "Put on record that a held row stays out",
		Long:    "Put on record that a held row stays out, and why. It stays counted as held.\n" + exits(),
		Example: `  fitfill held waive 3 214 --reason "no longer made"`,
		Args:    cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			id, err := sheetNumber(args[0])
			if err != nil {
				return err
			}
			line, err := strconv.Atoi(args[1])
			if err != nil || line < 1 {
				return &app.UsageError{Problem: fmt.Sprintf("%q is not the number of a line", args[1]), Hint: "sheet and line stand in: fitfill held"}
			}
			return e.with(nil, func(shop *app.Shop) error {
				if err := shop.WaiveHeld(cmd.Context(), id, line, reason); err != nil {
					return err
				}
				return e.said(map[string]any{"sheet": id, "line": line, "waived": reason}, "Line %d of sheet %d stays out: %s", line, id, reason)
			})
		},
	}
	c.Flags().StringVar(&reason, "reason", "", "why the row may stay out")
	return c
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
