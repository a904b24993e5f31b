package cli

import (
	"errors"
	"fmt"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

// sheetNumber reads the number of a sheet.
func sheetNumber(text string) (int64, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil || id < 1 {
		return 0, &app.UsageError{Problem: fmt.Sprintf("%q is not the number of a sheet", text), Hint: "the numbers stand in: fitfill sheets list"}
	}
	return id, nil
}

// onSheet runs do for the sheet whose number is the command's argument.
func (e *env) onSheet(do func(cmd *cobra.Command, shop *app.Shop, id int64) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		id, err := sheetNumber(args[0])
		if err != nil {
			return err
		}
		return e.with(nil, func(shop *app.Shop) error { return do(cmd, shop, id) })
	}
}

func newSheetsShow(e *env) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use: "show ID", Short: "Show a sheet: its sums, what is open, what was decided",
		Long: `Show a sheet: its sums, what is open about it and what was decided. With --out
the file itself is written, as it came: of a list that was a workbook the
workbook, of one in an archive the list inside. Of the garage's own workbooks
only the rows are kept, so that a vehicle can be forgotten.
` + exits(),
		Args: cobra.ExactArgs(1),
		RunE: e.onSheet(func(cmd *cobra.Command, shop *app.Shop, id int64) error {
			if out != "" {
				return e.writeSheetFile(cmd, shop, id, out)
			}
			s, err := shop.Sheet(cmd.Context(), id)
			if err != nil {
				return err
			}
			if e.asJSON {
				return writeJSON(e.Out, s)
			}
			whose := string(s.Kind)
			if s.Supplier != "" {
				whose += " sheet of " + s.Supplier
			}
			fmt.Fprintf(e.Out, "%d %s: %s, %s since %s\n", s.ID, e.style.strong(s.Sheet), whose, s.State, s.ImportedAt)
			fmt.Fprintf(e.Out, "  %s: %d taken, %d held back, %d skipped\n", app.Plural(s.RowsRead, "row", "rows"), s.RowsTaken, s.RowsHeld, s.RowsSkipped)
			e.skipped(s.Skipped)
			for _, d := range s.Decisions {
				fmt.Fprintln(e.Out, "  "+d)
			}
			if len(s.Open) > 0 {
				e.printOpen(app.ImportAnswer{ID: s.ID, Open: s.Open})
			}
			return nil
		}),
	}
	c.Flags().StringVar(&out, "out", "", "write the sheet as it came to this file")
	return c
}

// writeSheetFile writes a kept sheet to a file that must not be there yet.
func (e *env) writeSheetFile(cmd *cobra.Command, shop *app.Shop, id int64, name string) error {
	f, err := createNew(name)
	if err != nil {
		return err
	}
	if err := errors.Join(shop.WriteSheetFile(cmd.Context(), id, f), f.Close()); err != nil {
		return errors.Join(err, os.Remove(name)) // half a file is none
	}
	if e.asJSON {
		return writeJSON(e.Out, map[string]any{"id": id, "file": name})
	}
	fmt.Fprintf(e.Out, "%s: sheet %d as it came\n", name, id)
	return nil
}

// skippedShown is how many of the skipped lines are printed; --json has them all.
const skippedShown = 20

func (e *env) skipped(lines []app.SetAside) {
	for _, k := range lines[:min(skippedShown, len(lines))] {
		fmt.Fprint(e.Out, wrap("  skipped, ", 4, fmt.Sprintf("line %d, %s: %q", k.Line, k.Class, shorten(k.Text))))
	}
	if n := len(lines) - skippedShown; n > 0 {
		fmt.Fprintf(e.Out, "  and %d more skipped lines: --json\n", n)
	}
}

func newSheetsAccept(e *env) *cobra.Command {
	var f importFlags
	c := &cobra.Command{
		Use: "accept ID", Short: "Import a sheet that waits for a decision",
		Long: `Import a sheet that waits, exactly as it was staged. The gates that it ran into
are accepted; questions about its columns are answered with the same flags as
for import.
` + exits(exitHeld, exitStaged),
		Args: cobra.ExactArgs(1),
		RunE: e.onSheet(func(cmd *cobra.Command, shop *app.Shop, id int64) error {
			q, err := f.question()
			if err != nil {
				return err
			}
			q.Progress, q.Unpacking = progress(e.Err, "rows"), progress(e.Err, "kB unpacked")
			a, err := shop.AcceptStaged(cmd.Context(), id, q)
			if err != nil {
				return err
			}
			return e.importDone([]app.ImportAnswer{a})
		}),
	}
	f.add(c)
	return c
}

func newSheetsDrop(e *env) *cobra.Command {
	return &cobra.Command{
		Use: "drop ID", Short: "Forget a sheet that waits for a decision",
		Long: "Forget a sheet that waits for a decision; the catalogue stays as it is.\n" + exits(),
		Args: cobra.ExactArgs(1),
		RunE: e.onSheet(func(cmd *cobra.Command, shop *app.Shop, id int64) error {
			if err := shop.DropStaged(cmd.Context(), id); err != nil {
				return err
			}
			return e.said(map[string]any{"dropped": id}, "Sheet %d is dropped; the catalogue is as it was.", id)
		}),
	}
}

func newSheetsUndo(e *env) *cobra.Command {
	return &cobra.Command{
		Use: "undo ID", Short: "Take an imported sheet back",
		Long: `Take an imported sheet back. The sheets whose place it took are in use again; the
import before the last one is kept for that, older ones are not.
` + exits(),
		Args: cobra.ExactArgs(1),
		RunE: e.onSheet(func(cmd *cobra.Command, shop *app.Shop, id int64) error {
			u, err := shop.UndoSheet(cmd.Context(), id)
			if err != nil {
				return err
			}
			text := fmt.Sprintf("%s is taken back.", u.Name)
			if len(u.BackName) > 0 {
				text += " In use again: " + strings.Join(u.BackName, ", ") + "."
			}
			return e.said(map[string]any{"undone": id, "in_use_again": u.Back}, "%s", text)
		}),
	}
}

// said prints a sentence, or its JSON twin.
func (e *env) said(twin map[string]any, format string, args ...any) error {
	if e.asJSON {
		return writeJSON(e.Out, twin)
	}
	_, err := fmt.Fprint(e.Out, wrap("", 0, fmt.Sprintf(format, args...)))
	return err
}
