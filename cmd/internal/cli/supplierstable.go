package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

// linesShown is how many lines of a sheet are named in text; --json has all.
const linesShown = 4

// faultyIn names the first lines of each sheet.
func faultyIn(lines []compat.Evidence) string {
	var sheets []string
	at, byHand := map[string][]string{}, map[string]bool{}
	for _, l := range lines {
		byHand[l.Sheet] = l.SHA256 == ""
		if at[l.Sheet] == nil {
			sheets = append(sheets, l.Sheet)
		}
		at[l.Sheet] = append(at[l.Sheet], fmt.Sprint(l.Line))
	}
	var parts []string
	for _, sheet := range sheets {
		what := " line "
		if byHand[sheet] {
			what = ", entry "
		}
		text := sheet + what + strings.Join(at[sheet][:min(linesShown, len(at[sheet]))], ", ")
		if more := len(at[sheet]) - linesShown; more > 0 {
			text += fmt.Sprintf(" and %d more", more)
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// chance says how sure the words are, in full figures of a hundred.
func chance(s app.SupplierScore) []string {
	if s.WorseThanRest == nil || s.ExpectedRank == nil {
		return nil
	}
	p := *s.WorseThanRest
	switch {
	case strings.HasSuffix(s.Words, "worse"):
		return []string{fmt.Sprintf("%.0f in 100 that it is worse than the rest", math.Floor(100*p))}
	case strings.HasSuffix(s.Words, "better"):
		return []string{fmt.Sprintf("%.0f in 100 that it is better than the rest", math.Floor(100*(1-p)))}
	case s.Words == "not comparable":
		return []string{"too little of what others sell as well to compare"}
	}
	return nil
}

// doubts says what the words hang on.
func doubts(a app.SuppliersAnswer) []string {
	var out, needs []string
	var n app.Needs
	for _, s := range a.Suppliers {
		if s.Spread != nil {
			out = append(out, fmt.Sprintf("%s's verdict depends on how far suppliers are taken to differ at all: little, %s; much, %s.", s.Supplier, s.Spread.Narrow, s.Spread.Wide))
		}
		if s.Needs != nil {
			n, needs = *s.Needs, append(needs, fmt.Sprintf("%s about %d pieces (%d so far)", s.Supplier, s.Needs.Pieces, s.Sold))
		}
	}
	if len(needs) > 0 {
		out = append(out, fmt.Sprintf("To tell one that fails %g times as often takes %s.", n.RateRatio, strings.Join(needs, ", ")))
	}
	return append(out, a.Gaps...)
}

// behind says which lines a supplier's figures rest on, and what was counted
// apart.
func behind(s app.SupplierScore) string {
	parts := chance(s)
	if text := faultyIn(s.Findings[0].Origin); text != "" {
		parts = append(parts, "faulty in "+text)
	}
	if later := s.Faulty - s.Observed; later > 0 {
		parts = append(parts, fmt.Sprintf("%d of them after more than a year", later))
	}
	for _, n := range []struct {
		count int
		what  string
	}{
		{s.NotConfirmed, "not confirmed by a test"}, {s.NotTheirFault, "not their fault"}, {s.SupplyErrors, "supplied or listed wrong"},
		{s.Unknown, "for a reason not known"}, {s.Unmatched, "without a purchase on file"},
	} {
		if n.count > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n.count, n.what))
		}
	}
	if w := s.WarrantyDays; w != nil {
		parts = append(parts, fmt.Sprintf("taken back for %d days only: nothing later is counted", *w))
		if s.AfterWarranty > 0 {
			parts = append(parts, fmt.Sprintf("%d faulty after that", s.AfterWarranty))
		}
	}
	if w := s.With; w != nil && w.Words != s.Words {
		parts = append(parts, fmt.Sprintf("with those not confirmed %d faulty: %s", w.Observed, w.Words))
	} else if w != nil {
		parts = append(parts, fmt.Sprintf("with those not confirmed %d faulty and no other verdict", w.Observed))
	}
	if u := s.Upper; u != nil && (s.Provisional || u.Words != s.Words) {
		parts = append(parts, fmt.Sprintf("if all unknown were faulty too %d: %s", u.Observed, u.Words))
	}
	if s.Provisional {
		parts = append(parts, "so many without a purchase that the figure is provisional")
	}
	return strings.Join(parts, ", ")
}

// withinDays says what share came back within the days asked for.
func withinDays(s app.SupplierScore, days []int) string {
	var parts []string
	for _, w := range s.Within {
		switch {
		case !slices.Contains(days, w.Days):
		case w.Est == nil && w.Note != "":
			parts = append(parts, fmt.Sprintf("within %d days %s", w.Days, w.Note))
		case w.Est == nil:
			parts = append(parts, fmt.Sprintf("within %d days not known", w.Days))
		default:
			text := fmt.Sprintf("%.1f %% back within %d days (%.1f-%.1f)", *w.Est, w.Days, *w.Low, *w.High)
			if w.Note != "" {
				text += ", " + w.Note
			}
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, "; ")
}

func (e *env) printSuppliers(a app.SuppliersAnswer, days []int) {
	what := "All part types"
	if a.Type != "" {
		what = app.Capital(a.Type)
	}
	fmt.Fprintf(e.Out, "%s, as known on %s: faulty within 365 days\n\n", what, a.AsOf)
	var rows [][]string
	for _, s := range a.Suppliers {
		rate := s.Unseen()
		if r := s.Rate(); r != nil {
			rate = fmt.Sprintf("%.1f (%.1f-%.1f)", r.Est, r.Low, r.High)
		}
		rows = append(rows, []string{
			s.Supplier, fmt.Sprint(s.Sold), fmt.Sprint(s.Observed), fmt.Sprintf("%.1f", s.Expected), rate, strings.TrimPrefix(s.Group+": ", ": ") + s.Words,
		})
	}
	columns(e.Out, e.style, []string{"supplier", ">bought", ">faulty", ">usual", ">% (95 % limits)", "against the rest"}, rows)
	fmt.Fprintln(e.Out)
	e.printCosts(a)
	if a.Ranked {
		fmt.Fprint(e.Out, wrap("  ", 2, "Usual: what the same part types at the same age would lose. Two that share a letter cannot be told apart; the words are against all others together."))
	}
	for _, s := range a.Suppliers {
		if text := behind(s); text != "" {
			fmt.Fprint(e.Out, wrap("  ", 4, s.Supplier+": "+text+"."))
		}
	}
	for _, s := range a.Suppliers {
		if len(days) > 0 {
			fmt.Fprint(e.Out, wrap("  ", 4, s.Supplier+": "+withinDays(s, days)+"."))
		}
	}
	fmt.Fprint(e.Out, wrap("  ", 2, "Not their fault: ordered wrong, changed mind, cores and deposits."))
	for _, n := range slices.Concat(a.Worsening, doubts(a), a.Notes) {
		fmt.Fprint(e.Out, wrap("  ", 2, n))
	}
	if len(a.Unmapped) > 0 {
		fmt.Fprint(e.Out, wrap("  ", 2, "Reasons that nobody has sorted yet, left out of the figures: "+strings.Join(a.Unmapped, "; ")+". "+a.SortReasons))
	}
}
