package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newHeld(e *env) *cobra.Command {
	var out string
	var sheet int64
	var all, vehicles bool
	c := &cobra.Command{
		Use:   "held",
		Short: "The rows that were not taken, and why",
		Long: `List the rows of imported sheets that were held back: where they stand, what is
wrong with them and what to do. Rows with the same problem stand together.

To put them right, write them to a file, correct its cells in any program for
tables, and import that file: each row goes back to the line it came from. One
cell is put right with held fix; a row that may stay out is waived.
` + exits(),
		Example: `  fitfill held --sheet 3 --out to-correct.csv
  fitfill import to-correct.csv
  fitfill held fix 3 214 "Price"="12.50"
  fitfill held waive 3 --problem unit-missing --reason "gaskets by the sheet, not sold"`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return e.with(nil, func(shop *app.Shop) error {
				if out != "" {
					var file bytes.Buffer
					n, err := shop.WriteHeld(cmd.Context(), &file, sheet, vehicles)
					if err != nil {
						return err
					}
					return e.heldWritten(out, n, file.Bytes())
				}
				read := shop.Held
				if all {
					read = shop.HeldAndWaived
				}
				list, err := read(cmd.Context(), sheet)
				if err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, list)
				}
				e.heldList(list, all)
				return nil
			})
		},
	}
	c.Flags().StringVar(&out, "out", "", "write them to this file (.csv or .xlsx), to correct and import")
	c.Flags().BoolVar(&vehicles, "with-vehicles", false, "write rows that name vehicles too")
	c.Flags().Int64Var(&sheet, "sheet", 0, "only those of the sheet with this number")
	c.Flags().BoolVar(&all, "all", false, "every row on a line of its own, those that were waived too")
	c.AddCommand(newHeldFix(e), newHeldWaive(e))
	return c
}

func (e *env) heldWritten(out string, n int, file []byte) error {
	if n == 0 {
		return e.said(map[string]any{"file": "", "rows": 0}, "No row is held back.")
	}
	if err := writeTable(out, file); err != nil {
		return err
	}
	return e.said(map[string]any{"file": out, "rows": n}, "%s: %s to correct; then: fitfill import %s", out, app.Plural(n, "row", "rows"), out)
}

func newHeldFix(e *env) *cobra.Command {
	var accept []string
	c := &cobra.Command{
		Use:   `fix SHEET LINE "HEADING"=VALUE...`,
		Short: "Put right the cells of one held row",
		Long: `Put values into columns of one held row, by the sheet's own headings, and take
the row if it is right now. Its line in the sheet stays the origin of its facts.
` + exits(exitHeld, exitStaged),
		Example: `  fitfill held fix 3 214 "Price"="12.50" "Unit"=each`,
		Args:    cobra.MinimumNArgs(3),
		RunE: func(cmd *cobra.Command, args []string) error {
			id, line, err := sheetAndLine(args[0], args[1])
			if err != nil {
				return err
			}
			values, err := app.Pairs("a value such as", args[2:])
			if err != nil {
				return err
			}
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.FixHeld(cmd.Context(), id, line, values, accept)
				if err != nil {
					return err
				}
				return e.importDone([]app.ImportAnswer{a})
			})
		},
	}
	c.Flags().StringArrayVar(&accept, "accept", nil, "go on although a gate asks: its name stands beside the question")
	return c
}

func newHeldWaive(e *env) *cobra.Command {
	var reason, problem string
	c := &cobra.Command{
		Use:   "waive SHEET [LINE]",
		Short: "Put on record that held rows stay out",
		Long: `Put on record that a held row, or every row of a sheet with the same problem,
stays out, and why. They stay counted as held.
` + exits(),
		Example: `  fitfill held waive 3 214 --reason "no longer made"
  fitfill held waive 3 --problem unit-missing --reason "not sold here"`,
		Args: cobra.RangeArgs(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if (len(args) == 2) == (problem != "") {
				return &app.UsageError{Problem: "say which rows: a line, or a problem", Hint: "fitfill held waive SHEET LINE, or fitfill held waive SHEET --problem NAME"}
			}
			id, line, err := sheetAndLine(args[0], slices.Concat(args[1:], []string{"1"})[0])
			if err != nil {
				return err
			}
			return e.with(nil, func(shop *app.Shop) error {
				n, err := shop.WaiveHeld(cmd.Context(), id, line, problem, reason)
				if err != nil {
					return err
				}
				which := fmt.Sprintf("Line %d of sheet %d stays", line, id)
				if problem != "" {
					which = fmt.Sprintf("%s of sheet %d with %s stay", app.Plural(n, "row", "rows"), id, problem)
				}
				said := map[string]any{"sheet": id, "rows": n, "waived": reason}
				if problem == "" {
					said["line"] = line
				}
				return e.said(said, "%s out: %s", which, reason)
			})
		},
	}
	c.Flags().StringVar(&reason, "reason", "", "why they may stay out")
	c.Flags().StringVar(&problem, "problem", "", "the name that stands in brackets behind the problem")
	return c
}

func sheetAndLine(sheet, line string) (int64, int, error) {
	id, err := sheetNumber(sheet)
	if err != nil {
		return 0, 0, err
	}
	n, err := strconv.Atoi(line)
	if err != nil || n < 1 {
		return 0, 0, &app.UsageError{Problem: fmt.Sprintf("%q is not the number of a line", line), Hint: "sheet and line stand in: fitfill held"}
	}
	return id, n, nil
}
