package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

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

// heldTogether is from how many rows on those with the same problem are shown as
// one.
const heldTogether = 4

func (e *env) heldList(list []app.HeldLine, all bool) {
	if len(list) == 0 {
		fmt.Fprintln(e.Out, "No row is held back.")
		return
	}
	waiting := 0
	for _, h := range list {
		if h.Waived == "" {
			waiting++
		}
	}
	text := fmt.Sprintf("%s held back", app.Plural(waiting, "row", "rows"))
	if n := len(list) - waiting; n > 0 {
		text += fmt.Sprintf(", %d waived", n)
	}
	fmt.Fprintln(e.Out, text)
	shown := map[int64]bool{}
	var sheets []string
	for _, h := range list {
		if shown[h.ID] {
			continue
		}
		shown[h.ID] = true
		sheets = append(sheets, fmt.Sprint(h.ID))
		var rows []app.HeldLine
		for _, o := range list {
			if o.ID == h.ID {
				rows = append(rows, o)
			}
		}
		fmt.Fprintf(e.Out, "\n%s (sheet %d)\n", e.style.strong(h.Sheet), h.ID)
		e.heldSheet(rows, all)
	}
	out := "--out FILE.csv"
	if len(sheets) > 1 {
		out = fmt.Sprintf("--sheet %s --out FILE.csv (one file for each of the sheets %s)", sheets[0], strings.Join(sheets, ", "))
	}
	fmt.Fprint(e.Out, wrap("\n", 0, fmt.Sprintf("To put them right: fitfill held %s, correct the file, fitfill import FILE.csv.", out)))
}

// alikeRows are held rows that are shown together: of one reason, or of one problem
// in one column where there are many.
type alikeRows struct {
	rows []app.HeldLine
	many bool
}

// together puts held rows of one sheet together, in the order of their first lines.
func together(rows []app.HeldLine) (groups []alikeRows) {
	type problem struct{ code, column string }
	count := map[problem]map[string]bool{} // reasons of each problem
	for _, h := range rows {
		p := problem{h.Code, h.Column}
		if count[p] == nil {
			count[p] = map[string]bool{}
		}
		count[p][h.Reason] = true
	}
	at := map[string]int{}
	for _, h := range rows {
		p := problem{h.Code, h.Column}
		key, many := h.Reason+"\x00"+h.Column+"\x00"+h.Waived, len(count[p]) >= heldTogether
		if many {
			key = "\x00" + h.Code + "\x00" + h.Column + "\x00" + h.Waived
		}
		i, ok := at[key]
		if !ok {
			i = len(groups)
			at[key], groups = i, append(groups, alikeRows{many: many})
		}
		groups[i].rows = append(groups[i].rows, h)
	}
	return groups
}

// heldSheet prints the held rows of one sheet, those with the same problem
// together unless all are asked for.
func (e *env) heldSheet(rows []app.HeldLine, all bool) {
	if all {
		for _, h := range rows {
			reason := h.Reason
			if h.Waived != "" {
				reason = "stays out: " + h.Waived + " (" + reason + ")"
			}
			e.heldRow(h.Line, h.Column, h.Text, reason)
		}
		return
	}
	for _, g := range together(rows) {
		e.heldGroup(g)
	}
}

// heldGroup prints held rows that are shown together.
func (e *env) heldGroup(g alikeRows) {
	first := g.rows[0]
	if len(g.rows) == 1 {
		e.heldRow(first.Line, first.Column, first.Text, first.Reason)
		return
	}
	const named = 5
	var lines []string
	for _, s := range g.rows[:min(named, len(g.rows))] {
		lines = append(lines, strconv.Itoa(s.Line))
	}
	where := strings.Join(lines, ", ")
	if len(g.rows) > named {
		where += " ..."
	}
	column := ""
	if first.Column != "" {
		column = fmt.Sprintf(", column %q", first.Column)
	}
	if !g.many && len(g.rows) >= heldTogether {
		fmt.Fprint(e.Out, wrap(fmt.Sprintf("  %d rows (lines %s)%s: ", len(g.rows), where, column), 4, fmt.Sprintf("%s [%s]", first.Reason, first.Code)))
		return
	}
	if !g.many {
		fmt.Fprint(e.Out, wrap("  lines "+where+column+": ", 4, fmt.Sprintf("%s [%s]", first.Reason, first.Code)))
		return
	}
	fmt.Fprint(e.Out, wrap(fmt.Sprintf("  %d rows (lines %s)%s, ", len(g.rows), where, column), 4,
		fmt.Sprintf("such as %q: %s [%s]", shorten(first.Text), first.Reason, first.Code)))
}

// heldRow prints where a held row stands, what stands there and what is wrong.
func (e *env) heldRow(line int, column, text, reason string) {
	where := fmt.Sprintf("line %d", line)
	if column != "" {
		where += fmt.Sprintf(", column %q", column)
	}
	fmt.Fprint(e.Out, wrap("  "+where+": ", 4, fmt.Sprintf("%q: %s", shorten(text), reason)))
}

// shorten cuts a long text for the screen.
func shorten(text string) string {
	const most = 60
	if r := []rune(text); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return text
}
