package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
)

func newSuppliers(e *env) *cobra.Command {
	var q app.SuppliersQuestion
	var all bool
	var compare, labour, csvFile, plotFile string
	c := &cobra.Command{
		Use:   "suppliers [--compare A B]",
		Short: "Whose parts come back, and is that more than luck",
		Long: `Compare the suppliers by what came back of what was bought: same part types, same
time in service. Wrong orders, changed minds and old cores are counted apart.

A supplier who takes parts back for a limited time is a row of your own table
returns_warranties: supplier, part_type (empty: all) and days; what fails later is
listed and not counted. Import it with: import FILE --as table --table
returns_warranties.

--compare A B sets the parts of one type in money: a comeback costs labour and
fluid (the tables of the program; the shop's own rates are settings), and the
answer says at which price gap the two are level. Without a labour rate it tells how
often both come back, and at what cost of a comeback they are level. --since DATE tells what changed
and who is getting worse. --explain NAME lists the rows behind a supplier's
figures, and those that were set aside, with the reason. --csv and --plot write
files that hold figures by supplier only: no customer, vehicle or document.
` + exits(),
		Example: `  fitfill suppliers
  fitfill suppliers --type thermostat
  fitfill suppliers --explain Ostrel
  fitfill suppliers --since 2026-01-01
  fitfill suppliers --type thermostat --compare Ostrel Quillmar --labour-rate 60EUR`,
		Args: func(_ *cobra.Command, args []string) error {
			if compare == "" && len(args) > 0 || compare != "" && len(args) != 1 {
				return errors.New("two suppliers are compared with --compare A B; nothing else stands behind the command")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if compare != "" {
				q.Compare = [2]string{compare, args[0]}
			}
			if err := plotFormat(plotFile); err != nil {
				return err
			}
			q.Curves, q.WithoutRows = plotFile != "", !e.asJSON
			return e.with(map[string]string{"labour_rate": labour}, func(shop *app.Shop) error {
				a, err := shop.Suppliers(cmd.Context(), q)
				if err != nil {
					return err
				}
				if err := e.saveSuppliers(a, csvFile, plotFile); err != nil || e.asJSON && err == nil {
					if err != nil {
						return err
					}
					return writeJSON(e.Out, a)
				}
				switch {
				case a.Compare != nil:
					e.printRivals(a.Compare)
				case a.Explain != nil:
					e.printSupplierRows(a, all)
				case a.Since != "":
					e.printSince(a)
				default:
					e.printSuppliers(a, q.Days)
				}
				return nil
			})
		},
	}
	c.Flags().StringVar(&q.Type, "type", "", "only this type of part")
	c.Flags().StringVar(&q.AsOf, "as-of", "", "count up to this day, YYYY-MM-DD (default: the last day that purchases and returns cover)")
	c.Flags().StringVar(&q.Since, "since", "", "what changed from this day on, YYYY-MM-DD, and who is getting worse")
	c.Flags().StringVar(&q.From, "bought-from", "", "count only what was bought from this day on, YYYY-MM-DD")
	c.Flags().IntSliceVar(&q.Days, "days", nil, "share that came back within so many days; may be repeated")
	c.Flags().StringVar(&q.Explain, "explain", "", "show the rows behind this supplier's figures")
	c.Flags().StringVar(&csvFile, "csv", "", "write the table to this new file (.csv or .xlsx)")
	c.Flags().StringVar(&plotFile, "plot", "", "draw the table and the shares by day into this new file, .svg or .png")
	c.Flags().StringVar(&compare, "compare", "", "set this supplier's parts against another's in money: --compare A B")
	c.Flags().StringVar(&labour, "labour-rate", "", "what an hour of labour costs the shop, such as 60EUR (default: the setting labour_rate)")
	c.Flags().BoolVar(&all, "all", false, "with --explain: every row")
	c.AddCommand(newSuppliersAlias(e))
	return c
}

func newSuppliersAlias(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "alias NAME OTHER",
		Short:   "Say that a supplier is also known under another name",
		Long:    "Say that a supplier is also known under another name.\n" + exits(),
		Example: `  fitfill suppliers alias "Ostrel" "Ostrel Parts Ltd"`,
		Args:    cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return e.with(nil, func(shop *app.Shop) error {
				if err := shop.AddSupplierName(cmd.Context(), args[0], args[1]); err != nil {
					return err
				}
				if e.asJSON {
					return writeJSON(e.Out, map[string]string{"supplier": args[0], "other_name": args[1]})
				}
				_, err := fmt.Fprintf(e.Out, "%s is also known as %s.\n", args[0], args[1])
				return err
			})
		},
	}
}
