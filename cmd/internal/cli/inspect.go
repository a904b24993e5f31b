package cli

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newInspect(e *env) *cobra.Command {
	var rows, withHeld, ledger bool
	var set []string
	c := &cobra.Command{
		Use:   "inspect FILE",
		Short: "How a sheet is read, before anything is made of it",
		Long: `Show how a sheet is read: encoding, separator, heading and the class of every
line, with the evidence. No catalogue is used or changed, and every suggestion
is accepted.
` + exits(),
		Example: `  fitfill inspect ostrel.csv
  fitfill inspect ostrel.csv --rows > clean.csv`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			settings, err := app.Pairs("--set", set)
			if err != nil {
				return err
			}
			sheet, err := openSheet(args[0])
			if err != nil {
				return err
			}
			defer sheet.Close()
			in, err := app.Inspect(cmd.Context(), filepath.Base(args[0]), sheet, settings, progress(e.Err, "kB unpacked"))
			if err != nil {
				return err
			}
			defer in.Close()
			switch {
			case rows:
				return in.WriteRows(e.Out, withHeld)
			case ledger:
				return in.WriteLedger(e.Out)
			case e.asJSON:
				return writeJSON(e.Out, in)
			}
			e.printInspection(in)
			return nil
		},
	}
	c.Flags().BoolVar(&rows, "rows", false, "write heading and accepted rows as CSV, exactly as read")
	c.Flags().BoolVar(&withHeld, "with-held", false, "with --rows: the held rows too, where they stand")
	c.Flags().BoolVar(&ledger, "ledger", false, "write one line of JSON for every stretch of the file")
	c.Flags().StringArrayVar(&set, "set", nil, "encoding, separator, header ...=VALUE; may be repeated")
	c.MarkFlagsMutuallyExclusive("rows", "ledger")
	return c
}

// rowsShown is how many rows and held rows an inspection prints.
const rowsShown = 3

// mostOfRow bounds what an inspection prints of one row: a file that is no table may
// have all of itself in it.
const mostOfRow = 2000

func inOneLine(cells []string) string {
	text := []rune(strings.Join(cells[:min(len(cells), mostOfRow)], " | "))
	if len(text) > mostOfRow {
		return string(text[:mostOfRow]) + " ... (all of it: --rows)"
	}
	return string(text)
}

func (e *env) printInspection(in app.Inspection) {
	fmt.Fprint(e.Out, wrap("", 2, e.style.strong(in.Name)+": "+in.Sentence()))
	for _, p := range in.Proof {
		fmt.Fprint(e.Out, wrap("  "+p.What+": ", 4, p.Value+" ("+p.Why+")"))
	}
	for _, q := range in.Accepted {
		fmt.Fprint(e.Out, wrap("  ? ", 4, q.Question+" Read as suggested; decide with "+q.Command))
	}
	for _, n := range in.Notes {
		fmt.Fprint(e.Out, wrap("  note: ", 4, n.Text))
	}
	fmt.Fprint(e.Out, wrap("  heading: ", 4, inOneLine(in.Header)))
	shown := 0
	for line, cells := range in.Rows() {
		if shown++; shown > rowsShown {
			break
		}
		fmt.Fprint(e.Out, wrap(fmt.Sprintf("  line %d: ", line), 4, inOneLine(cells)))
	}
	shown = 0
	for h := range in.Held() {
		if shown++; shown > rowsShown {
			fmt.Fprintln(e.Out, "  more held rows: --ledger")
			break
		}
		fmt.Fprint(e.Out, wrap(fmt.Sprintf("  held, line %d: ", h.Line), 4, h.Reason))
	}
}
