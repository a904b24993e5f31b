package cli

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog/units"
	"fitfill/cmd/internal/app"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// printMix prints the verdict, what carries it, how far it holds and what to do
// next; with explain every reason and every step of it.
func (e *env) printMix(a app.MixAnswer, u units.System, explain bool) {
	fmt.Fprintf(e.Out, "%s\n", e.style.strong(outcomeMark[a.Outcome]+" "+a.First))
	where := ""
	switch {
	case a.Vehicle != "" && a.Engine != "":
		where = " in " + a.Vehicle + " (" + a.Engine + ")"
	case a.Vehicle != "":
		where = " in " + a.Vehicle
	case a.Engine != "":
		where = " in " + a.Engine
	}
	joins := "on top of"
	if a.Filter {
		joins = "with"
	}
	fmt.Fprint(e.Out, wrap("  ", 2, fmt.Sprintf("%s %s %s%s", a.Add, joins, a.Fill, where)))
	if explain {
		e.findings(e.Out, a.Findings, true)
	} else {
		e.reasons(a.Reasons())
	}
	switch {
	case a.Ask != "" && slices.ContainsFunc(a.Findings, func(f compat.Finding) bool { return strings.HasPrefix(f.Says, a.Ask) }):
		fmt.Fprint(e.Out, wrap("    > ", 6, "Read the lid of the bottle, then add --circuit NAME."))
	case a.Ask != "":
		fmt.Fprint(e.Out, wrap("    > ", 6, a.Ask))
	}
	e.printBefore(a)
	if a.Loss != nil && a.Loss.Outcome != compat.Yes {
		fmt.Fprint(e.Out, wrap("  By its log: ", 4, a.Loss.Says))
	}
	e.printResult(a.Result, u, explain)
	if explain {
		e.printLadder(a, u)
	} else {
		e.printRungs(a, u)
	}
	e.printSettle(a.Settle, explain)
	if a.Mend != "" {
		fmt.Fprint(e.Out, wrap("  ", 4, a.Mend))
	}
	if a.GetHome != nil {
		fmt.Fprint(e.Out, wrap("  ", 4, a.GetHome.Says))
	}
	if missing := a.Missing(); len(missing) > 0 {
		fmt.Fprint(e.Out, wrap("  Not checked, for want of: ", 4, strings.Join(missing, "; ")))
	}
	e.own(a.Own)
	if more := len(a.Findings) - len(a.Reasons()); more > 0 && !explain {
		fmt.Fprint(e.Out, wrap("  ", 4, "Why in full: "+app.Plural(more, "more finding", "more findings")+" with --explain"))
	}
	if len(a.Cautions) > 0 {
		fmt.Fprint(e.Out, e.style.faint(wrap("  Mind: ", 8, strings.Join(a.Cautions, " "))))
	}
}

// reasons prints findings with no more than where they are read first.
func (e *env) reasons(list []compat.Finding) {
	for _, f := range list {
		says := f.Says
		if f.Grade != "" {
			says += " (" + string(f.Grade) + ")"
		}
		if c := citeFirst(f); c != "" {
			says += " [" + c + "]"
		}
		fmt.Fprint(e.Out, wrap("    "+outcomeMark[f.Outcome]+" ", 6, says))
	}
}

// citeFirst names the line of a sheet that a finding rests on, else its first
// source where the grade does not say the same.
func citeFirst(f compat.Finding) string {
	for _, o := range f.Origin {
		if o.Sheet != "" {
			return strings.Trim(cite([]compat.Evidence{o}), "[]")
		}
	}
	if f.Grade == compat.CommonPractice {
		return ""
	}
	for _, o := range f.Origin {
		if c := cite([]compat.Evidence{o}); c != "" {
			return strings.Trim(c, "[]")
		}
	}
	return ""
}

// printBefore prints what is wrong with the fill already, as far as no finding
// has said it.
func (e *env) printBefore(a app.MixAnswer) {
	var says []string
	for _, text := range a.Before.Says {
		if !slices.ContainsFunc(a.Findings, func(f compat.Finding) bool { return f.Says == text }) {
			says = append(says, text)
		}
	}
	if len(says) > 0 {
		fmt.Fprint(e.Out, wrap("  As it is now: ", 4, strings.Join(says, " ")))
	}
}

func (e *env) printResult(r coolant.Result, u units.System, explain bool) {
	var parts []string
	if r.Strength != nil {
		parts = append(parts, fmt.Sprintf("strength %.0f %% (±%.0f)", r.Strength.Value.Percents(), r.Strength.PM.Percents()))
	}
	if r.Freeze != nil {
		parts = append(parts, "freezes at "+plusMinus(u, r.Freeze))
	}
	if r.BoilOpen != nil {
		parts = append(parts, "boils open at "+plusMinus(u, r.BoilOpen))
	}
	if r.BoilCapped != nil {
		parts = append(parts, "under the cap, if it holds, at "+plusMinus(u, r.BoilCapped))
	}
	if r.Grows != nil && explain {
		parts = append(parts, "grows by "+u.FormatVolume(r.Grows.Value)+" (±"+u.FormatVolume(r.Grows.PM)+") when hot: leave "+u.FormatVolume(*r.HeadRoom)+" free above it")
	}
	switch {
	case r.Due == coolant.DueNow:
		parts = append(parts, "it is due for a change now")
	case r.Due == coolant.MaybeDue:
		parts = append(parts, "it may be due for a change now")
	case r.Months > 0:
		parts = append(parts, fmt.Sprintf("next change in %s at the latest", app.Plural(r.Months, "month", "months")))
	}
	if len(parts) > 0 {
		fmt.Fprint(e.Out, wrap("  Afterwards: ", 4, strings.Join(parts, "; ")))
	}
}

func plusMinus(u units.System, f *coolant.Figure[units.Temperature, units.TempDelta]) string {
	return u.FormatTemperature(f.Value) + " (±" + strings.TrimPrefix(u.FormatTempDelta(f.PM), "+") + ")"
}

// printRungs prints up to which amount each verdict holds; of an amount that
// was named only where another one would change it.
func (e *env) printRungs(a app.MixAnswer, u units.System) {
	rungs := a.Rungs()
	for i, step := range rungs {
		amount := "up to " + u.FormatVolume(step.UpTo)
		switch {
		case len(rungs) == 1 && a.Poured:
			return
		case len(rungs) == 1 && a.PerLitre:
			amount = "any amount"
		case len(rungs) == 1:
			amount = "any amount " + amount
		case i == len(rungs)-1:
			amount = "more"
		}
		fmt.Fprint(e.Out, wrap("    "+outcomeMark[step.Outcome]+" ", 6, amount+": "+step.Why))
	}
	if len(rungs) > 0 && a.LadderNote != "" && !(len(rungs) == 1 && a.PerLitre) {
		fmt.Fprint(e.Out, wrap("      ", 6, a.LadderNote))
	}
}

// printLadder prints every step of the ladder. Where it gets better again
// because more than half of the old coolant would have to be out first, it
// ends: that is no longer a top-off.
func (e *env) printLadder(a app.MixAnswer, u units.System) {
	steps := a.Ladder
	if len(steps) == 0 {
		return
	}
	all := steps[len(steps)-1].UpTo
	for i, step := range steps {
		amount := "up to " + u.FormatVolume(step.UpTo)
		if i > 0 {
			before := steps[i-1]
			if before.Outcome.Worse(step.Outcome) && before.UpTo.Compare(all.Scale(0.5)) > 0 {
				fmt.Fprint(e.Out, wrap("      ", 6, "Beyond that most of the old coolant is out: a change, not a top-off."))
				break
			}
			if i == len(steps)-1 {
				amount = "more than " + u.FormatVolume(before.UpTo)
			}
		}
		fmt.Fprint(e.Out, wrap("    "+outcomeMark[step.Outcome]+" ", 6, amount+": "+step.Why))
	}
	if a.LadderNote != "" {
		fmt.Fprint(e.Out, wrap("      ", 6, a.LadderNote))
	}
}

// printSettle prints what would tell: the first and the strips in full, the
// others by name and cost.
func (e *env) printSettle(list []coolant.Settle, explain bool) {
	for i, s := range list {
		lead, text := "           or: ", s.Test+": "+s.Tells
		if i == 0 {
			lead = "  To find out: "
		} else if !explain && !s.Strip() {
			text = s.Test
			if s.Cost != "" {
				text += " (" + s.Cost + ")"
			}
		}
		fmt.Fprint(e.Out, wrap(lead, 15, text))
	}
}
