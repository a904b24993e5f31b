package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"fitfill/catalog"
	"fitfill/cmd/internal/app"
)

func newComeback(e *env) *cobra.Command {
	var q app.ComebackSaid
	c := &cobra.Command{
		Use:   "comeback NUMBER",
		Short: "Log a part that came back",
		Long: `Log one part that came back, with its reason. The answer says what was told about
it before it was fitted, and against whom it counts: "did not fit" is charged to
the supplier's listing only where that listing was followed. A part that a test
found sound (--bath ok) counts as not confirmed. A sheet of returns that tells of
the same part later does not count it twice. A mistyped entry is taken back with:
fitfill comeback undo
` + exits(exitCannotSay),
		Example: `  fitfill comeback TX-4711 --reason "did not fit" --vehicle "AB 123"
  fitfill comeback TX-4711 --reason failed --supplier Quillmar --bath ok --note "opened at 82 in the bath"`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			q.Number = args[0]
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.AddComeback(cmd.Context(), q)
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, a)
				}
				e.printComeback(a)
				return nil
			})
		},
	}
	c.Flags().StringVar(&q.Reason, "reason", "", "why it came back, in your own words")
	c.Flags().StringVar(&q.Vehicle, "vehicle", "", "mark, plate or VIN of the vehicle it was in")
	c.Flags().StringVar(&q.Supplier, "supplier", "", "from whom it was, where several sell the number")
	c.Flags().StringVar(&q.Date, "date", "", "day, YYYY-MM-DD (default: today)")
	c.Flags().StringVar(&q.Quantity, "quantity", "", "pieces (default 1)")
	c.Flags().StringVar(&q.Bath, "bath", "", "what a test of the part said: ok or faulty")
	c.Flags().StringVar(&q.Note, "note", "", "a remark")
	c.AddCommand(newTakeBack(e, catalog.LogReturn))
	return c
}

func (e *env) printComeback(a app.ComebackLogged) {
	fmt.Fprintln(e.Out, e.style.strong(fmt.Sprintf("Logged as entry %d: %s %s, %s", a.Entry, a.Supplier, a.Number, a.Reason)))
	told := "nothing is on record of what was told about it"
	if a.Told != nil {
		told = fmt.Sprintf("on %s for %s: %s", a.Told.Date, a.Told.Vehicle, a.Told.First)
		if a.Told.Listing.Line > 0 {
			told += " [" + place(a.Told.Listing) + "]"
		}
	}
	fmt.Fprint(e.Out, wrap("  Told: ", 4, told))
	fmt.Fprint(e.Out, wrap("  Counts as: ", 4, a.Counts))
	if a.Again != "" {
		fmt.Fprint(e.Out, wrap("  x ", 4, a.Again))
	}
}
