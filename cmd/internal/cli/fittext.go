package cli

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

// printFit prints one line per part, best first, what to ask first, and the
// reasons of the best one; of every part where all is asked for.
func (e *env) printFit(a app.FitAnswer, explain, all bool) {
	e.ringsLike(a.Rings)
	if a.Engine == "" {
		if a.Hint != "" {
			fmt.Fprint(e.Out, wrap("", 2, app.Capital(a.Hint)))
		}
		return
	}
	what := a.Type
	if what == "" && len(a.Answers) == 1 {
		what = a.Answers[0].Type
	}
	if what == "" {
		what = "parts"
	}
	if a.Place != "" {
		what = a.Place + " " + what
	}
	fmt.Fprintf(e.Out, "%s for %s: %s\n", app.Capital(what), a.Engine, app.Plural(len(a.Answers), "part judged", "parts judged"))
	if a.Hint != "" {
		fmt.Fprint(e.Out, wrap("  ", 2, a.Hint))
	}
	defer func() { e.own(a.Own) }()
	all = all || explain
	lines := len(a.Answers) > 1
	if lines {
		e.fitLines(a)
	}
	e.askFirst(a.Next)
	more := 0
	for i, p := range a.Answers {
		if i > 0 && !all {
			break
		}
		more = e.fitReasons(p, a.Next, lines && !all, explain, all)
	}
	e.printTorque(a.Torque, explain, all)
	switch {
	case all:
	case len(a.Answers) > 1:
		fmt.Fprintln(e.Out, "\nAll reasons, for every part: --all. Each computation: --explain.")
	case more > 0:
		fmt.Fprintf(e.Out, "\n%s: --all. Each computation: --explain.\n", app.Plural(more, "more reason", "more reasons"))
	}
	e.waiting(a.Waiting)
}

// ringsLike names the standard rings that a measured one may be.
func (e *env) ringsLike(list []app.RingLike) {
	if len(list) == 0 {
		return
	}
	said := "The ring may be of this size:"
	if len(list) > 1 {
		said = fmt.Sprintf("The ring may be one of %d sizes. A calliper cannot tell them apart: the groove decides.", len(list))
	}
	fmt.Fprint(e.Out, wrap("", 2, said))
	fmt.Fprintln(e.Out)
	var rows [][]string
	for _, r := range list {
		rows = append(rows, []string{r.Ring, r.Size})
	}
	columns(e.Out, e.style, []string{"ring", "inside x section"}, rows)
	for _, r := range list {
		if r.Note != "" {
			fmt.Fprint(e.Out, wrap("  ", 4, r.Ring+": "+r.Note))
		}
	}
	fmt.Fprintln(e.Out)
}

// fitLines prints the verdict on every part, in columns.
func (e *env) fitLines(a app.FitAnswer) {
	number, supplier := 0, 0
	sits := map[string]bool{}
	for _, p := range a.Answers {
		sits[p.Type+"/"+p.Place] = true
	}
	name := func(p app.PartFit) string {
		what := p.Supplier
		if a.Type == "" && p.Type != "" {
			what += ", " + p.Type
		}
		if p.Place != "" && a.Type != "" && len(sits) > 1 { // an upper hose beside a lower one
			what += ", " + p.Place
		}
		return what
	}
	for _, p := range a.Answers {
		number, supplier = max(number, utf8.RuneCountInString(p.Number)), max(supplier, utf8.RuneCountInString(name(p)))
	}
	fmt.Fprintln(e.Out)
	for _, p := range a.Answers {
		head := fmt.Sprintf("%s %s  %s  ", outcomeMark[p.Outcome], pad(p.Number, number), pad(name(p), supplier))
		if room := textWidth - utf8.RuneCountInString(head); utf8.RuneCountInString(p.First) > room {
			fmt.Fprintln(e.Out, strings.TrimRight(e.style.strong(head), " "))
			fmt.Fprint(e.Out, wrap("      ", 6, p.First))
			continue
		}
		line := head + p.First
		for _, c := range deciding(p) {
			if c.Sheet == "" {
				continue
			}
			if from := "  " + cite([]compat.Evidence{c}); utf8.RuneCountInString(line+from) <= textWidth {
				line += from
			}
			break
		}
		fmt.Fprintln(e.Out, e.style.strong(head)+line[len(head):])
	}
}

func pad(text string, width int) string {
	return text + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(text)))
}

// askFirst prints the question that settles most.
func (e *env) askFirst(n *app.NextQuestion) {
	if n == nil {
		return
	}
	settles := fmt.Sprintf("settles about %.0f of the %d in doubt", float64(n.Doubtful)-n.Left, n.Doubtful)
	switch {
	case n.Left == 0 && n.Doubtful == 1:
		settles = "settles it"
	case n.Doubtful == 1:
		settles = "may settle it"
	case n.Left == 0:
		settles = fmt.Sprintf("settles all %d in doubt", n.Doubtful)
	case float64(n.Doubtful)-n.Left < 1:
		settles = fmt.Sprintf("may settle one of the %d in doubt", n.Doubtful)
	}
	fmt.Fprintln(e.Out)
	fmt.Fprint(e.Out, wrap("> Ask first: ", 2, fmt.Sprintf("%s (%s: %s)", n.Ask, n.AnswerWith, settles)))
}

func answerWith(flag string) string {
	if flag == "" {
		return ""
	}
	return " (" + flag + ")"
}

// fitReasons prints what speaks for and against one part, and what to ask; the
// verdict once more, unless it stands above.
func (e *env) fitReasons(p app.PartFit, asked *app.NextQuestion, above, explain, all bool) int {
	fmt.Fprintln(e.Out)
	if offer := p.Offer(); above {
		fmt.Fprint(e.Out, wrap("", 4, strings.TrimSuffix(fmt.Sprintf("Why %s of %s: %s", p.Number, p.Supplier, offer), ": ")))
	} else {
		fmt.Fprintln(e.Out, e.style.strong(fmt.Sprintf("%s %s  %s", outcomeMark[p.Outcome], p.Number, p.Supplier)))
		fmt.Fprint(e.Out, wrap("    ", 4, p.First))
		if offer != "" {
			fmt.Fprint(e.Out, e.style.faint(wrap("    ", 4, offer)))
		}
	}
	e.supersededBy(p.Superseded)
	left := e.findingsOf(p, explain, all)
	for i, ask := range p.Ask {
		if asked != nil && asked.Ask == ask {
			continue // stands above
		}
		fmt.Fprint(e.Out, wrap("    > ", 6, ask+answerWith(p.AnswerWith[i])))
	}
	return left
}

// findingsOf prints the few findings that carry the verdict, what was not checked
// and how the part goes in; every finding where all is asked for. It returns
// how many findings it left out.
func (e *env) findingsOf(p app.PartFit, explain, all bool) (left int) {
	if all {
		e.findings(e.Out, p.Findings, explain)
		return 0
	}
	top, left := p.Reasons()
	e.findings(e.Out, top, false)
	if facts := p.Missing(); len(facts) > 0 {
		fmt.Fprint(e.Out, wrap("    - ", 6, "not checked, for want of: "+strings.Join(facts, ", ")))
	}
	if how := p.GoesIn(); how != "" && (p.Outcome == compat.Yes || p.Outcome == compat.Caution) {
		fmt.Fprint(e.Out, wrap("    ", 4, "Goes in: "+how))
	}
	return left
}

// deciding returns where the finding comes from that an answer of one line
// rests on: the first with the outcome of the part.
func deciding(p app.PartFit) []compat.Evidence {
	for _, f := range p.Findings {
		if !f.NotChecked && f.Outcome == p.Outcome && len(f.Origin) > 0 {
			return f.Origin
		}
	}
	return nil
}

// waiting says that held rows are about what was asked for: the answer lacks
// what they would say.
func (e *env) waiting(rows []app.HeldNote) {
	for _, h := range rows {
		fmt.Fprint(e.Out, wrap("Note: ", 2, fmt.Sprintf("a row about %s is held back (%s line %d): %s", h.Number, h.Sheet, h.Line, h.Reason)))
	}
}
