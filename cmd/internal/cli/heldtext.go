package cli

import (
	"fmt"
	"strconv"
	"strings"

	"fitfill/cmd/internal/app"
)

// heldTogether is from how many rows on those with the same problem are shown as
// one.
const heldTogether = 4

func (e *env) heldList(list []app.HeldLine, all bool) {
	if len(list) == 0 {
		fmt.Fprintln(e.Out, "No row is held back.")
		return
	}
	waiting := 0
	for _, h := range list {
		if h.Waived == "" {
			waiting++
		}
	}
	text := fmt.Sprintf("%s held back", app.Plural(waiting, "row", "rows"))
	if n := len(list) - waiting; n > 0 {
		text += fmt.Sprintf(", %d waived", n)
	}
	fmt.Fprintln(e.Out, text)
	shown := map[int64]bool{}
	var sheets []string
	for _, h := range list {
		if shown[h.ID] {
			continue
		}
		shown[h.ID] = true
		sheets = append(sheets, fmt.Sprint(h.ID))
		var rows []app.HeldLine
		for _, o := range list {
			if o.ID == h.ID {
				rows = append(rows, o)
			}
		}
		fmt.Fprintf(e.Out, "\n%s (sheet %d)\n", e.style.strong(h.Sheet), h.ID)
		e.heldSheet(rows, all)
	}
	out := "--out FILE.csv"
	if len(sheets) > 1 {
		out = fmt.Sprintf("--sheet %s --out FILE.csv (one file for each of the sheets %s)", sheets[0], strings.Join(sheets, ", "))
	}
	fmt.Fprint(e.Out, wrap("\n", 0, fmt.Sprintf("To put them right: fitfill held %s, correct the file, fitfill import FILE.csv.", out)))
}

// alikeRows are held rows that are shown together: of one reason, or of one problem
// in one column where there are many.
type alikeRows struct {
	rows []app.HeldLine
	many bool
}

// together puts held rows of one sheet together, in the order of their first lines.
func together(rows []app.HeldLine) (groups []alikeRows) {
	type problem struct{ code, column string }
	count := map[problem]map[string]bool{} // reasons of each problem
	for _, h := range rows {
		p := problem{h.Code, h.Column}
		if count[p] == nil {
			count[p] = map[string]bool{}
		}
		count[p][h.Reason] = true
	}
	at := map[string]int{}
	for _, h := range rows {
		p := problem{h.Code, h.Column}
		key, many := h.Reason+"\x00"+h.Column+"\x00"+h.Waived, len(count[p]) >= heldTogether
		if many {
			key = "\x00" + h.Code + "\x00" + h.Column + "\x00" + h.Waived
		}
		i, ok := at[key]
		if !ok {
			i = len(groups)
			at[key], groups = i, append(groups, alikeRows{many: many})
		}
		groups[i].rows = append(groups[i].rows, h)
	}
	return groups
}

// heldSheet prints the held rows of one sheet, those with the same problem
// together unless all are asked for.
func (e *env) heldSheet(rows []app.HeldLine, all bool) {
	if all {
		for _, h := range rows {
			reason := h.Reason
			if h.Waived != "" {
				reason = "stays out: " + h.Waived + " (" + reason + ")"
			}
			e.heldRow(h.Line, h.Column, h.Text, reason)
		}
		return
	}
	for _, g := range together(rows) {
		e.heldGroup(g)
	}
}

// heldGroup prints held rows that are shown together.
func (e *env) heldGroup(g alikeRows) {
	first := g.rows[0]
	if len(g.rows) == 1 {
		e.heldRow(first.Line, first.Column, first.Text, first.Reason)
		return
	}
	const named = 5
	var lines []string
	for _, s := range g.rows[:min(named, len(g.rows))] {
		lines = append(lines, strconv.Itoa(s.Line))
	}
	where := strings.Join(lines, ", ")
	if len(g.rows) > named {
		where += " ..."
	}
	column := ""
	if first.Column != "" {
		column = fmt.Sprintf(", column %q", first.Column)
	}
	if !g.many && len(g.rows) >= heldTogether {
		fmt.Fprint(e.Out, wrap(fmt.Sprintf("  %d rows (lines %s)%s: ", len(g.rows), where, column), 4, fmt.Sprintf("%s [%s]", first.Reason, first.Code)))
		return
	}
	if !g.many {
		fmt.Fprint(e.Out, wrap("  lines "+where+column+": ", 4, fmt.Sprintf("%s [%s]", first.Reason, first.Code)))
		return
	}
	fmt.Fprint(e.Out, wrap(fmt.Sprintf("  %d rows (lines %s)%s, ", len(g.rows), where, column), 4,
		fmt.Sprintf("such as %q: %s [%s]", shorten(first.Text), first.Reason, first.Code)))
}

// heldRow prints where a held row stands, what stands there and what is wrong.
func (e *env) heldRow(line int, column, text, reason string) {
	where := fmt.Sprintf("line %d", line)
	if column != "" {
		where += fmt.Sprintf(", column %q", column)
	}
	fmt.Fprint(e.Out, wrap("  "+where+": ", 4, fmt.Sprintf("%q: %s", shorten(text), reason)))
}

// shorten cuts a long text for the screen.
func shorten(text string) string {
	const most = 60
	if r := []rune(text); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return text
}
