package cli

import (
	"fmt"
	"strings"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

// rowsOfKind is how many rows of a kind are printed without --all.
const rowsOfKind = 5

// printSupplierRows shows the rows behind one supplier's figures.
func (e *env) printSupplierRows(a app.SuppliersAnswer, all bool) {
	x := a.Explain
	for _, s := range a.Suppliers {
		if s.Supplier == x.Supplier {
			e.printSupplierHead(a, s)
		}
	}
	var rows [][]string
	for _, t := range x.ByType {
		when, cost := "", ""
		if t.Shape != nil {
			when = t.Shape.Words
		}
		if t.Cost != nil {
			cost = fmt.Sprintf("%.2f (%.2f-%.2f)", t.Cost.Est, t.Cost.Low, t.Cost.High)
		}
		rows = append(rows, []string{t.Type, fmt.Sprint(t.Sold), fmt.Sprint(t.Observed), fmt.Sprintf("%.1f", t.Expected), when, cost})
	}
	fmt.Fprintln(e.Out)
	costHead := ""
	if a.NoCost == "" {
		costHead = ">cost with comebacks"
	}
	columns(e.Out, e.style, []string{"part type", ">bought", ">faulty", ">usual", "when they fail", costHead}, rows)
	if x.Disagree != nil {
		fmt.Fprint(e.Out, wrap("  ", 2, x.Disagree.Says))
	}
	if text := x.Matching.Says(); text != "" {
		fmt.Fprint(e.Out, wrap("  ", 2, text))
	}
	cut := false
	for _, as := range app.CountedAs {
		cut = e.printCounted(x, as, all) || cut
	}
	if len(x.SetAside) > 0 {
		fmt.Fprintf(e.Out, "\nPurchases set aside: %s\n", app.Plural(len(x.SetAside), "row", "rows"))
		cut = e.printRows(x.SetAside, all, true) || cut
	}
	fmt.Fprintln(e.Out)
	for _, s := range []struct {
		what string
		sum  app.RowSum
	}{{"Purchases", x.Purchases}, {"Returns", x.Returns}} {
		fmt.Fprintf(e.Out, "%s: %s = %d used + %d used with a remark + %d set aside\n",
			s.what, app.Plural(s.sum.Read, "row", "rows"), s.sum.Used, s.sum.Flagged, s.sum.SetAside)
	}
	for _, r := range x.Remarks {
		fmt.Fprint(e.Out, wrap("  ", 4, app.Plural(r.Rows, "row", "rows")+": "+r.Says))
	}
	if cut {
		fmt.Fprintln(e.Out, "\nEvery row: --all.")
	}
}

// printSupplierHead prints what is said of the supplier, in words.
func (e *env) printSupplierHead(a app.SuppliersAnswer, s app.SupplierScore) {
	what := "all part types"
	if a.Type != "" {
		what = a.Type
	}
	fmt.Fprintf(e.Out, "%s, %s, as known on %s: %s\n", s.Supplier, what, a.AsOf, s.Words)
	fmt.Fprint(e.Out, wrap("  ", 2, s.Findings[0].Says+"."))
	if r := s.Relative; r != nil {
		fmt.Fprint(e.Out, wrap("  ", 2, fmt.Sprintf("Against the typical supplier it fails %.1f times as often; %.1f to %.1f is possible.", r.Est, r.Low, r.High)))
	}
}

// printCounted prints the returns that count alike and reports whether it left
// some out.
func (e *env) printCounted(x *app.SupplierRows, as string, all bool) bool {
	var rows []app.SupplierRow
	for _, r := range x.Back {
		if r.CountedAs == as {
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		return false
	}
	fmt.Fprintf(e.Out, "\n%s: %s\n", app.Capital(as), app.Plural(len(rows), "row", "rows"))
	return e.printRows(rows, all, as == app.CountedAs[len(app.CountedAs)-1] || as == app.CountedAs[len(app.CountedAs)-2])
}

// printRows prints rows of the books, with the reasons of those that do not
// count.
func (e *env) printRows(rows []app.SupplierRow, all, why bool) bool {
	shown := rows
	if !all && len(rows) > rowsOfKind {
		shown = rows[:rowsOfKind]
	}
	var table [][]string
	for _, r := range shown {
		number := r.Number
		if r.Quantity != 1 {
			number = fmt.Sprintf("%g x %s", r.Quantity, number)
		}
		table = append(table, []string{"  " + at(r.At), r.Date, number, shorten(r.Reason), from(r)})
	}
	head := []string{"  row", "date", "number", "reason", "bought, back on"}
	if why {
		head[len(head)-1] = ""
	}
	columns(e.Out, e.style, head, table)
	said := map[string]bool{}
	for _, r := range rows {
		for _, m := range r.Remarks {
			if why && !said[m.Says] {
				said[m.Says] = true
				fmt.Fprint(e.Out, wrap("    ", 4, m.Says))
			}
		}
	}
	if more := len(rows) - len(shown); more > 0 {
		fmt.Fprintf(e.Out, "  and %d more\n", more)
	}
	return len(rows) > len(shown)
}

func at(e compat.Evidence) string { return fmt.Sprintf("%s:%d", e.Sheet, e.Line) }

// from says which purchases the pieces came from.
func from(r app.SupplierRow) string {
	var parts []string
	for _, b := range r.From {
		parts = append(parts, fmt.Sprintf("%s, day %d", at(b.At), b.Days))
	}
	return strings.Join(parts, "; ")
}
