package cli

import (
	"fmt"
	"strconv"
	"strings"

	"fitfill/cmd/internal/app"
)

// printCosts shows what a fitted part of the type costs from each supplier.
func (e *env) printCosts(a app.SuppliersAnswer) {
	if a.Type == "" {
		return
	}
	if a.NoCost != "" {
		fmt.Fprint(e.Out, wrap("  ", 2, "Cost of a fitted part not told: "+a.NoCost+"."))
		return
	}
	var rows [][]string
	for _, s := range a.Suppliers {
		if c := s.CostPerJob; c != nil {
			rows = append(rows, []string{s.Supplier, fmt.Sprintf("%.2f", c.Price), fmt.Sprintf("%.2f (%.2f-%.2f)", c.Est, c.Low, c.High)})
		}
	}
	if len(rows) == 0 {
		return
	}
	columns(e.Out, e.style, []string{"supplier", ">price", ">with comebacks paid (95 % limits)"}, rows)
	fmt.Fprintln(e.Out)
	fmt.Fprint(e.Out, wrap("  ", 2, comebackText(*a.Comeback)))
}

// comebackText spells out what one comeback costs.
func comebackText(c app.Comeback) string {
	parts := []string{fmt.Sprintf("%g h at %.2f %s", c.Hours, c.LabourRate, c.Currency)}
	if c.CoolantL > 0 && c.CoolantPrice > 0 {
		parts = append(parts, fmt.Sprintf("%g L of coolant at %.2f %s", c.CoolantL, c.CoolantPrice, c.Currency))
	}
	if c.Each > 0 {
		parts = append(parts, fmt.Sprintf("%.2f %s of freight and handling", c.Each, c.Currency))
	}
	text := "A comeback: " + strings.Join(parts, ", ")
	if c.CreditShare < 1 {
		text += fmt.Sprintf(", %.0f %% of the price not credited", 100*(1-c.CreditShare))
	}
	return text + " " + cite(c.Origin) + "."
}

// pricesIn names the currency of the prices that are shown, if any are.
func pricesIn(r *app.Rivals) string {
	if r.Cheap.Price == 0 && r.Dear.Price == 0 {
		return ""
	}
	return strings.TrimRight(", prices in "+r.Currency, " ")
}

// printRivals shows two suppliers' parts in money.
func (e *env) printRivals(r *app.Rivals) {
	fmt.Fprintln(e.Out, r.Says[0])
	for _, s := range r.Says[1:] {
		fmt.Fprint(e.Out, wrap("  ", 2, s))
	}
	fmt.Fprintf(e.Out, "\n%s\n", app.Capital(r.Type)+pricesIn(r))
	var rows [][]string
	for _, x := range []app.Rival{r.Cheap, r.Dear} {
		price, back := "not known", "not known"
		if x.Price > 0 {
			price = fmt.Sprintf("%.2f", x.Price)
		}
		if x.BackPct != nil {
			back = fmt.Sprintf("%.1f (%.1f-%.1f)", x.BackPct.Est, x.BackPct.Low, x.BackPct.High)
		}
		row := []string{x.Supplier, price, back}
		if r.Comeback != nil {
			cost := "not known"
			if x.Cost != nil {
				cost = fmt.Sprintf("%.2f (%.2f-%.2f)", x.Cost.Est, x.Cost.Low, x.Cost.High)
			}
			row = append(row, cost)
		}
		rows = append(rows, row)
	}
	head := []string{"supplier", ">price", ">% faulty in a year", ">with comebacks paid"}
	columns(e.Out, e.style, head[:len(rows[0])], rows)
	fmt.Fprintln(e.Out)
	if r.Comeback != nil {
		fmt.Fprint(e.Out, wrap("  ", 2, comebackText(*r.Comeback)))
	}
	fmt.Fprint(e.Out, wrap("  ", 2, "Limits: 95 in 100. A supplier's rate is taken over all its part types, a type's over all suppliers."))
	fmt.Fprint(e.Out, wrap("  ", 2, fmt.Sprintf("The rows behind the counts, with sheet and line: fitfill suppliers --explain %s; --explain %s", strconv.Quote(r.Cheap.Supplier), strconv.Quote(r.Dear.Supplier))))
}
