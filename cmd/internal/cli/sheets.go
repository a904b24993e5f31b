package cli

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newSheets(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:   "sheets",
		Short: "The sheets the catalogue is built from",
		Long:  "List the imported sheets, look for what cannot be right in them, or write an empty\none to fill in.\n" + exits(),
		Args:  cobra.NoArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return e.listSheets(cmd) },
	}
	c.AddCommand(
		&cobra.Command{
			Use: "list", Short: "List the imported sheets", Long: "List the imported sheets.\n" + exits(), Args: cobra.NoArgs,
			RunE: func(cmd *cobra.Command, _ []string) error { return e.listSheets(cmd) },
		},
		newTemplate(e), newSheetsShow(e), newSheetsAccept(e), newSheetsDrop(e), newSheetsUndo(e), newSheetsAudit(e), newSheetsNotes(e), newTables(e),
	)
	return c
}

func (e *env) listSheets(cmd *cobra.Command) error {
	return e.with(nil, func(shop *app.Shop) error {
		list, err := shop.Sheets(cmd.Context())
		if err != nil {
			return err
		}
		if e.asJSON {
			return writeJSON(e.Out, list)
		}
		if len(list) == 0 {
			fmt.Fprintln(e.Out, "No sheet has been imported yet: fitfill import FILE --supplier NAME")
			return nil
		}
		var rows [][]string
		for _, s := range list {
			rows = append(rows, []string{fmt.Sprint(s.ID), s.Sheet, s.Supplier, string(s.Kind), s.ImportedAt[:10],
				fmt.Sprint(s.RowsTaken), fmt.Sprint(s.RowsHeld), s.State})
		}
		columns(e.Out, e.style, []string{">id", "sheet", "supplier", "kind", "imported", ">taken", ">held", "state"}, rows)
		return nil
	})
}

func newTemplate(e *env) *cobra.Command {
	var fromLists bool
	var out string
	c := &cobra.Command{
		Use:   "template engines",
		Short: "Write an engines sheet to fill in",
		Long: `Write an engines sheet with a column for every fact that can be stated of an
engine family. With --from-lists it has a row for every engine that suppliers'
lists name and that no sheet of yours describes, most parts first. Fill in what
you know or measure, and import it with --as engines.
` + exits(),
		Example:   "  fitfill sheets template engines --from-lists --out engines.csv",
		Args:      cobra.MatchAll(cobra.ExactArgs(1), cobra.OnlyValidArgs),
		ValidArgs: []string{"engines"},
		RunE: func(cmd *cobra.Command, _ []string) error {
			return e.with(nil, func(shop *app.Shop) error {
				if out == "" {
					_, err := shop.EnginesTemplate(cmd.Context(), e.Out, fromLists)
					return err
				}
				var table bytes.Buffer
				n, err := shop.EnginesTemplate(cmd.Context(), &table, fromLists)
				if err == nil {
					err = writeTable(out, table.Bytes())
				}
				if err != nil {
					return err
				}
				return e.templateWritten(out, n)
			})
		},
	}
	c.Flags().BoolVar(&fromLists, "from-lists", false, "with a row for every engine that lists name")
	c.Flags().StringVar(&out, "out", "", "write to this file instead of standard output")
	return c
}

func (e *env) templateWritten(name string, n int) error {
	if e.asJSON {
		return writeJSON(e.Out, map[string]any{"file": name, "engines": n})
	}
	fmt.Fprintf(e.Out, "%s: %s to fill in; then: fitfill import %s --as engines\n", name, app.Plural(n, "engine", "engines"), name)
	return nil
}
