package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"fitfill/catalog/units"
	"fitfill/cmd/internal/app"
)

func newFind(e *env) *cobra.Command {
	var q app.FindQuestion
	c := &cobra.Command{
		Use:   "find WORDS...",
		Short: "Find parts by number, by half a number or by words",
		Long: `Find parts by their number (capitals, spaces and dashes do not matter), by the
beginning of it, or by words of their description, type, make or engine. A
number that is one letter or digit off is offered, and said to be.
` + exits(exitCannotSay),
		Example: `  fitfill find TX-4711
  fitfill find thermostat 82 --engine KR6`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			q.Words = strings.Join(args, " ")
			return e.with(nil, func(shop *app.Shop) error {
				a, err := shop.Find(cmd.Context(), q)
				if err != nil {
					return err
				}
				return e.printFind(a, shop.Settings.Units)
			})
		},
	}
	c.Flags().StringVar(&q.Type, "type", "", "only parts of this type: thermostat, seal, hose ...")
	c.Flags().StringVar(&q.Engine, "engine", "", "only parts listed for this engine")
	c.Flags().StringVar(&q.Supplier, "supplier", "", "only this supplier's parts")
	c.Flags().IntVar(&q.Limit, "limit", 20, "how many parts to show")
	return c
}

func (e *env) printFind(a app.FindAnswer, u units.System) error {
	var end error
	if a.Total == 0 {
		end = answered(exitCannotSay)
	}
	if e.asJSON {
		if err := writeJSON(e.Out, a); err != nil {
			return err
		}
		return end
	}
	defer func() { e.waiting(a.Waiting) }()
	if a.Total == 0 {
		fmt.Fprintf(e.Out, "Nothing found for %q.\n", a.Query)
		fmt.Fprint(e.Out, wrap("  ", 2, a.Hint))
		return end
	}
	shown := ""
	if len(a.Hits) < a.Total {
		shown = fmt.Sprintf(", the first %d", len(a.Hits))
	}
	fmt.Fprintf(e.Out, "%s for %q, read as %s%s\n\n", app.Plural(a.Total, "part", "parts"), a.Query, a.ReadAs, shown)
	why := ""
	for _, h := range a.Hits {
		if h.Why != why {
			why = h.Why
			fmt.Fprintln(e.Out, e.style.faint("  "+why+":"))
		}
		fmt.Fprintf(e.Out, "  %s  %s  %s\n", e.style.strong(fmt.Sprintf("%-16s", h.Number)), fmt.Sprintf("%-18s", h.Supplier), h.Type)
		line := h.Description
		for _, more := range []string{price(h), h.Pack(u), labelled("stock ", h.Stock), labelled("delivery ", h.Delivery), labelled("as of ", h.StockDate)} {
			if more != "" {
				line += "; " + more
			}
		}
		fmt.Fprint(e.Out, wrap("      ", 6, strings.TrimPrefix(line, "; ")))
		e.supersededBy(h.Superseded)
	}
	if len(a.Hits) < a.Total {
		fmt.Fprintln(e.Out)
		printFacet(e, "--type", a.Facets.Type)
		printFacet(e, "--supplier", a.Facets.Supplier)
		printFacet(e, "--engine", a.Facets.Engine)
	}
	return nil
}

func price(h app.Hit) string {
	if h.Price == "" {
		return ""
	}
	if h.PricePer != "" && h.PricePer != "each" {
		return h.Price + " per " + h.PricePer
	}
	return h.Price
}

func labelled(label, value string) string {
	if value == "" {
		return ""
	}
	return label + value
}

// printFacet shows how to narrow a long answer, the fullest values first.
func printFacet(e *env, flag string, values []app.FacetValue) {
	if len(values) < 2 {
		return
	}
	const most = 6
	var parts []string
	for _, v := range values[:min(most, len(values))] {
		parts = append(parts, fmt.Sprintf("%s (%d)", v.Value, v.Count))
	}
	if more := len(values) - most; more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more", more))
	}
	fmt.Fprint(e.Out, wrap("  narrow by "+flag+": ", 6, strings.Join(parts, ", ")))
}
