package cli

import (
	"encoding/csv"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newTables(e *env) *cobra.Command {
	list := func(cmd *cobra.Command, _ []string) error {
		return e.with(nil, func(shop *app.Shop) error {
			tables, err := shop.Tables(cmd.Context())
			if err != nil {
				return err
			}
			if e.asJSON {
				return writeJSON(e.Out, tables)
			}
			var rows [][]string
			for _, t := range tables {
				own := ""
				if t.Own > 0 {
					own = fmt.Sprintf("%d of %s", t.Own, t.Sheet)
				}
				rows = append(rows, []string{t.Table, fmt.Sprint(t.Rows), t.About, own})
			}
			columns(e.Out, e.style, []string{"table", ">rows", "about", "your own"}, rows)
			return nil
		})
	}
	c := &cobra.Command{
		Use:   "tables",
		Short: "The reference tables, and your own rows in them",
		Long: `List the tables of limits, kinds, pairs, sizes and words that answers rest on.
A sheet of your own with the same columns takes the place of the rows it names
and adds others: write a table with "show", keep the rows to change, and import
them with --as table. Every answer that rests on them says so.
` + exits(),
		Example: `  fitfill sheets tables show coolant_pairs > coolant_pairs.csv
  fitfill import coolant_pairs.csv --as table
  fitfill sheets tables drop coolant_pairs`,
		Args: cobra.NoArgs,
		RunE: list,
	}
	c.AddCommand(
		&cobra.Command{
			Use: "show TABLE", Short: "Write a table as it counts now", Long: "Write a table as it counts now, as separated text.\n" + exits(), Args: cobra.ExactArgs(1),
			RunE: func(cmd *cobra.Command, args []string) error {
				return e.with(nil, func(shop *app.Shop) error { return e.showTable(shop, args[0]) })
			},
		},
		&cobra.Command{
			Use: "drop TABLE", Short: "Go back to the shipped rows of a table", Long: "Take your own rows out of a table.\n" + exits(), Args: cobra.ExactArgs(1),
			RunE: func(cmd *cobra.Command, args []string) error {
				return e.with(nil, func(shop *app.Shop) error {
					if err := shop.DropOwnTable(cmd.Context(), args[0]); err != nil {
						return err
					}
					if e.asJSON {
						return writeJSON(e.Out, map[string]string{"table": args[0], "status": "dropped"})
					}
					fmt.Fprintf(e.Out, "The shipped rows of %s count again.\n", args[0])
					return nil
				})
			},
		},
	)
	return c
}

func (e *env) showTable(shop *app.Shop, name string) error {
	names, rows, err := shop.Table(name)
	if err != nil {
		return err
	}
	if e.asJSON {
		list := make([]map[string]string, len(rows))
		for i, r := range rows {
			list[i] = r.Map()
		}
		return writeJSON(e.Out, list)
	}
	w := csv.NewWriter(e.Out)
	if err := w.Write(names); err != nil {
		return err
	}
	for _, r := range rows {
		cells := make([]string, len(names))
		for i, n := range names {
			cells[i] = r.Cell(n)
		}
		if err := w.Write(cells); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

// printTable prints what became of a sheet of own rows.
func (e *env) printTable(a app.ImportAnswer) {
	fmt.Fprintf(e.Out, "%s: rows of your own for %s\n", e.style.strong(a.Sheet), a.Table)
	says := fmt.Sprintf("%s: %d in place of shipped ones, %d beside them.", app.Plural(a.RowsRead, "row", "rows"), a.Changes.Changed, a.Changes.Added)
	switch a.Status {
	case app.Unchanged:
		says = "Imported before, unchanged: nothing to do."
	case app.Staged:
		says += " Nothing was changed (--check)."
	default:
		says += " They count from now on; answers that rest on them say so. To go back: fitfill sheets tables drop " + a.Table
	}
	fmt.Fprint(e.Out, wrap("  ", 2, strings.TrimSpace(says)))
}

// own prints that an answer rests on the garage's own tables.
func (e *env) own(n *app.OwnNote) {
	if n != nil {
		fmt.Fprint(e.Out, wrap("  ", 4, n.Says()))
	}
}
