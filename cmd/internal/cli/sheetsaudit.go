package cli

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
	"fitfill/compat/audit"
)

func newSheetsAudit(e *env) *cobra.Command {
	var supplier, out string
	var limit int
	c := &cobra.Command{
		Use:   "audit",
		Short: "What the sheets say against each other and against the sizes",
		Long: `Look for what cannot be right in the sheets: listings that sizes, ratings or
years on file refute, facts of one part that all other lists contradict, two
suppliers who contradict each other, cross-references that join two parts which
cannot be one, supersessions in a circle, columns that hold another temperature,
copied lists, and torque figures that no bolt can mean.

The most costly stands first: about the part of which you bought the most pieces,
then the most engines, then the most parts. With --out, a sheet for the supplier:
one row for each of its lines, nothing of vehicles or customers.
` + exits(exitNo),
		Example: `  fitfill sheets audit
  fitfill sheets audit --supplier Ostrel --out ostrel-wrong.csv`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.Audit(cmd.Context(), supplier, progress(e.Err, "engines"))
				if err != nil {
					return err
				}
				rows := 0
				if out != "" {
					var table bytes.Buffer
					if rows, err = a.Write(&table); err != nil {
						return err
					}
					if err := writeTable(out, table.Bytes()); err != nil {
						return err
					}
				}
				return e.printAudit(a, limit, out, rows)
			})
		},
	}
	c.Flags().StringVar(&supplier, "supplier", "", "only what this supplier's sheets say")
	c.Flags().StringVar(&out, "out", "", "write the lines to this file (.csv or .xlsx), to be sent back")
	c.Flags().IntVar(&limit, "limit", 20, "how many to show (0: all); --json and --out have all")
	return c
}

func (e *env) printAudit(a app.AuditAnswer, limit int, out string, rows int) error {
	var end error
	if len(a.Findings) > 0 {
		end = answered(exitNo)
	}
	if e.asJSON {
		if err := writeJSON(e.Out, a); err != nil {
			return err
		}
		return end
	}
	looked := fmt.Sprintf("%s for %s looked through", app.Plural(a.Listings, "listing", "listings"), app.Plural(a.Engines, "engine", "engines"))
	if len(a.Findings) == 0 {
		fmt.Fprintf(e.Out, "%s: nothing contradicts the sizes or the other sheets\n", looked)
		return end
	}
	whose := ""
	if a.Supplier != "" {
		whose = " in the sheets of " + a.Supplier
	}
	fmt.Fprint(e.Out, wrap("", 2, fmt.Sprintf("%s cannot be right%s (%s)", app.Plural(len(a.Findings), "thing", "things"), whose, looked)))
	fmt.Fprint(e.Out, e.style.faint(wrap("", 2, app.Capital(a.Rule)+".")))
	for i, f := range a.Findings {
		if limit > 0 && i >= limit {
			fmt.Fprintf(e.Out, "\n%d more: --limit 0\n", len(a.Findings)-limit)
			break
		}
		e.auditLine(f)
	}
	if out != "" {
		fmt.Fprintf(e.Out, "\n%s: %s to send back\n", out, app.Plural(rows, "line", "lines"))
	}
	return end
}

// auditLine prints one finding: whose, what, what speaks against it and how much
// hangs on it.
func (e *env) auditLine(f audit.Finding) {
	whose := f.Supplier
	if whose == "" {
		whose = "Your own sheet"
	}
	head := whose
	if f.Number != "" {
		head += " " + f.Number
	}
	if f.Engine != "" {
		head += " for " + f.Engine
	}
	fmt.Fprintf(e.Out, "\nx %s  %s\n", e.style.strong(head), e.style.faint(f.Check))
	fmt.Fprint(e.Out, wrap("    ", 4, f.Says))
	where := "In " + linesText(f.Lines)
	if c := cite(f.Against); c != "" {
		where += "; against it " + c
	}
	if f.Cost.Bought > 0 {
		where += fmt.Sprintf("; %s bought", app.Plural(f.Cost.Bought, "piece", "pieces"))
	}
	fmt.Fprint(e.Out, wrap("    ", 4, where+"."))
	for _, o := range f.Own {
		fmt.Fprint(e.Out, wrap("    ", 4, "Seen here: "+o.Says+" "+cite(o.Origin)))
	}
}

// linesText names the lines of each sheet: "ostrel.csv line 2, 3".
func linesText(list []compat.Evidence) string {
	var sheets []string
	lines := map[string][]string{}
	for _, l := range list {
		if lines[l.Sheet] == nil {
			sheets = append(sheets, l.Sheet)
		}
		lines[l.Sheet] = append(lines[l.Sheet], strconv.Itoa(l.Line))
	}
	var out []string
	for _, s := range sheets {
		n := lines[s]
		more := ""
		if len(n) > mostCited+2 {
			n, more = n[:mostCited+1], fmt.Sprintf(" and %d more", len(n)-mostCited-1)
		}
		out = append(out, s+" line "+strings.Join(n, ", ")+more)
	}
	return strings.Join(out, "; ")
}
