package cli

import (
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

func newFill(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:   "fill",
		Short: "Log what went into a vehicle's cooling system",
		Long:  "Log what went into which vehicle, so that the next question has an answer.\n" + exits(exitCannotSay),
	}
	c.AddCommand(newFillAdd(e), newFillList(e), newTakeBack(e, catalog.LogFill), newCapacity(e))
	return c
}

func newFillAdd(e *env) *cobra.Command {
	var q app.FillSaid
	var number, chemistry, colour string
	c := &cobra.Command{
		Use:   "add MARK [water]",
		Short: "Log a filling or a top-off",
		Long: `Log what went into a vehicle: what it was, how much, and what had come out. The
answer says what is in there now, whether air may be left in, and whether the
system loses coolant.

Without --number, --chemistry or --colour it is the house coolant. Water poured
along with a concentrate goes into --water; water alone is logged with the word
water. A mistyped entry is taken back with: fitfill fill undo
` + exits(exitCannotSay),
		Example: `  fitfill fill add "AB 123" --number BX-500 --volume 3.6L --drained 4.4L
  fitfill fill add "AB 123" --number BX-1 --volume 2.2L --water 2.2L --drained 4.4L
  fitfill fill add "AB 123" water --volume 0.5L --date 2026-03-20`,
		Args: cobra.RangeArgs(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			q.Vehicle = args[0]
			var said []string
			for _, what := range append([]string{number, chemistry, colour}, args[1:]...) {
				if what != "" {
					said = append(said, what)
				}
			}
			if len(said) > 1 {
				return &app.UsageError{Problem: fmt.Sprintf("both %s and %s went in?", said[0], said[1]), Hint: "log each with its own volume"}
			}
			if len(said) == 1 {
				q.What = said[0]
			}
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.AddFill(cmd.Context(), q)
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, a)
				}
				e.printFillLogged(a, shop.Settings.Units)
				return nil
			})
		},
	}
	f := c.Flags()
	f.StringVar(&number, "number", "", "product number of what went in")
	f.StringVar(&chemistry, "chemistry", "", "its chemistry, where there is no number")
	f.StringVar(&colour, "colour", "", "its colour, where nothing else is known")
	f.StringVar(&q.Strength, "strength", "", "its strength in vol % as poured (default: by its label)")
	f.StringVar(&q.Volume, "volume", "", "how much went in, such as 3.6L")
	f.StringVar(&q.Water, "water", "", "how much water went in with it")
	f.StringVar(&q.Drained, "drained", "", "how much had come out")
	f.StringVar(&q.Circuit, "circuit", "", "circuit, where the engine has several")
	f.StringVar(&q.Date, "date", "", "day, YYYY-MM-DD (default: today)")
	f.StringVar(&q.Note, "note", "", "a remark")
	return c
}

func (e *env) printFillLogged(a app.FillLogged, u units.System) {
	fmt.Fprintln(e.Out, e.style.strong(fmt.Sprintf("Logged for %s as entry %d", a.Vehicle, a.Fill.Entry)))
	fmt.Fprint(e.Out, wrap("  ", 4, a.Fill.Date+", "+a.Fill.Circuit+": "+a.Fill.Says(u)))
	e.printCircuit(a.Now, false, u)
}

// printCircuit prints the state of a circuit, and its last filling.
func (e *env) printCircuit(n app.CircuitNow, last bool, u units.System) {
	fmt.Fprint(e.Out, wrap("  In the "+n.Circuit+" circuit now: ", 4, n.State))
	if n.Asks != "" {
		fmt.Fprint(e.Out, wrap("    It asks for: ", 6, n.Asks))
	}
	if last && n.Last != nil {
		fmt.Fprint(e.Out, wrap("    Last: ", 6, n.Last.Date+", "+n.Last.Says(u)))
	}
	for _, text := range n.Says() {
		fmt.Fprint(e.Out, wrap("    ! ", 6, text))
	}
}

func newFillList(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "list MARK",
		Short:   "What went into a vehicle, what is in it now, what it loses",
		Long:    "List what went into a vehicle, what is in it now by that log, and what it loses.\n" + exits(exitCannotSay),
		Example: `  fitfill fill list "AB 123"`,
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.Fills(cmd.Context(), args[0])
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, a)
				}
				e.printFills(a, shop.Settings.Units)
				return nil
			})
		},
	}
}

func (e *env) printFills(a app.FillsAnswer, u units.System) {
	title := a.Vehicle
	if a.Engine != "" {
		title += " (" + a.Engine + ")"
	}
	fmt.Fprintln(e.Out, e.style.strong(title+": "+app.Plural(len(a.Fills), "filling", "fillings")+" on file"))
	several := len(a.Circuits) > 1
	for _, f := range a.Fills {
		lead := "  " + f.Date + "  "
		text := f.Says(u)
		if several {
			text = f.Circuit + ": " + text
		}
		if f.Note != "" {
			text += "; " + f.Note
		}
		fmt.Fprint(e.Out, wrap(lead, len(lead), text+" "+whereLogged(f.Origin)))
	}
	for _, n := range a.Circuits {
		if n.Last != nil {
			e.printCircuit(n, false, u)
			if n.Loss != nil && len(n.Says()) == 0 {
				fmt.Fprint(e.Out, wrap("    ", 6, n.Loss.Says))
			}
		}
	}
}

func whereLogged(at compat.Evidence) string {
	if at.Sheet == "" {
		return ""
	}
	return "[" + place(at) + "]"
}

// newTakeBack builds the command that takes a mistyped entry out of the log.
func newTakeBack(e *env, kind catalog.LogKind) *cobra.Command {
	return &cobra.Command{
		Use:   "undo [ENTRY]",
		Short: "Take a mistyped entry back (default: the last one)",
		Long:  "Take an entry out of the log that was mistyped; without a number, the last one.\n" + exits(),
		Args:  cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			entry := int64(0)
			if len(args) == 1 {
				var err error
				if entry, err = strconv.ParseInt(args[0], 10, 64); err != nil || entry < 1 {
					return &app.UsageError{Problem: fmt.Sprintf("%q is not the number of an entry", args[0]), Hint: "the number was shown when it was logged"}
				}
			}
			return e.with(nil, func(shop *app.Shop) error {
				entry, err := shop.TakeBack(cmd.Context(), kind, entry)
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, map[string]any{"entry": entry, "kind": kind, "status": "taken back"})
				}
				_, err = fmt.Fprintf(e.Out, "Entry %d is taken back.\n", entry)
				return err
			})
		},
	}
}
