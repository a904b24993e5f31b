package cli

import (
	"fmt"
	"strings"

	"fitfill/catalog/units"
	"fitfill/cmd/internal/app"
)

func (e *env) printFind(a app.FindAnswer, u units.System) error {
	var end error
	if !a.Answered() {
		end = answered(exitCannotSay)
	}
	if e.asJSON {
		if err := writeJSON(e.Out, a); err != nil {
			return err
		}
		return end
	}
	fmt.Fprint(e.Out, e.style.strong(wrap("", 2, a.First())))
	fmt.Fprint(e.Out, e.style.faint(wrap("  ", 4, a.HowRead())))
	e.findChecks(a)
	if a.Ask != "" {
		fmt.Fprint(e.Out, wrap("  > ", 4, a.Ask))
	}
	if len(a.Engines) > 1 || a.Total == 0 {
		const most = 6
		for _, m := range a.Engines[:min(len(a.Engines), most)] {
			fmt.Fprint(e.Out, wrap("    ", 6, enginePlate(m)))
		}
		if more := len(a.Engines) - most; more > 0 {
			fmt.Fprintf(e.Out, "    and %d more\n", more)
		}
	}
	if a.Hint != "" {
		fmt.Fprint(e.Out, wrap("  ", 2, app.Capital(a.Hint)+"."))
	}
	e.printHits(a, a.Hits, u)
	if len(a.Nearest) > 0 {
		e.printHits(a, a.Nearest, u)
	}
	e.narrow(a)
	e.ways(a)
	e.waiting(a.Waiting)
	return end
}

// findChecks shows the first checks of a trouble code: all of them are one
// command away.
func (e *env) findChecks(a app.FindAnswer) {
	if a.Checks == nil {
		return
	}
	const first = 4
	for _, c := range a.Checks.Codes {
		if !c.Known {
			continue
		}
		fmt.Fprint(e.Out, wrap("  ", 2, c.Code+": "+c.Meaning+"."))
		for i, k := range c.Checks[:min(first, len(c.Checks))] {
			fmt.Fprint(e.Out, wrap(fmt.Sprintf("  %d. ", i+1), 5, k.Do+" ("+minutes(k.Minutes, k.Cold)+")"))
		}
		if len(c.Cautions) > 0 {
			fmt.Fprint(e.Out, wrap("  Mind: ", 8, c.Cautions[0]))
		}
	}
}

func enginePlate(m app.EngineMeant) string {
	line := m.Plate()
	if len(m.Models) > 0 {
		line += ": " + strings.Join(append(m.Makes[:min(1, len(m.Makes)):1], strings.Join(m.Models, ", ")), " ")
	}
	if len(m.Years) > 0 {
		line += ", " + m.Years[0]
	}
	if m.Why != "" {
		line += " (" + m.Why + ")"
	}
	return line
}

func (e *env) printHits(a app.FindAnswer, hits []app.Hit, u units.System) {
	if len(hits) == 0 {
		return
	}
	fmt.Fprintln(e.Out)
	why := ""
	for _, h := range hits {
		if h.Why != why && h.Outcome == nil {
			why = h.Why
			fmt.Fprint(e.Out, e.style.faint(wrap("  ", 4, why+":")))
		}
		mark := " "
		if h.Outcome != nil {
			mark = outcomeMark[*h.Outcome]
		}
		fmt.Fprintf(e.Out, "%s %s  %-16s  %s\n", mark, e.style.strong(fmt.Sprintf("%-14s", h.Number)), h.Supplier, h.Type)
		var line []string
		if h.Outcome != nil {
			says := h.Why
			if len(a.Engines) == 1 {
				says = strings.TrimPrefix(says, a.Engines[0].Engine+": ")
			}
			line = append(line, says)
		}
		for _, more := range append([]string{h.Description, price(h), h.Pack(u)}, app.Supply(h.Stock, h.Delivery, h.StockDate)...) {
			if more != "" {
				line = append(line, more)
			}
		}
		fmt.Fprint(e.Out, wrap("      ", 6, strings.Join(line, "; ")))
		e.supersededBy(h.Superseded)
	}
}

func price(h app.Hit) string {
	switch {
	case h.Price == "":
		return ""
	case h.PriceEach != "":
		return fmt.Sprintf("%s each (%s per %s)", h.PriceEach, h.Price, h.PricePer)
	case h.PricePer != "" && h.PricePer != "each":
		return h.Price + " per " + h.PricePer
	}
	return h.Price
}

// narrow shows how to narrow a long answer, the fullest values first.
func (e *env) narrow(a app.FindAnswer) {
	if len(a.Hits) >= a.Total {
		return
	}
	fmt.Fprintln(e.Out)
	for _, f := range []struct {
		flag   string
		values []app.FacetValue
	}{{"--type", a.Facets.Type}, {"--supplier", a.Facets.Supplier}, {"--engine", a.Facets.Engine}} {
		if len(f.values) < 2 {
			continue
		}
		const most = 6
		var parts []string
		for _, v := range f.values[:min(most, len(f.values))] {
			parts = append(parts, fmt.Sprintf("%s (%d)", v.Value, v.Count))
		}
		if more := len(f.values) - most; more > 0 {
			parts = append(parts, fmt.Sprintf("and %d more", more))
		}
		fmt.Fprint(e.Out, wrap("  narrow by "+f.flag+": ", 6, strings.Join(parts, ", ")))
	}
}

func (e *env) ways(a app.FindAnswer) {
	if len(a.Ways) == 0 {
		return
	}
	fmt.Fprintln(e.Out)
	for _, w := range a.Ways {
		fmt.Fprintln(e.Out, "  "+w.Command)
	}
}

// minutes words how long a check takes, and whether the engine must be cold.
func minutes(m float64, cold bool) string {
	when := fmt.Sprintf("%g min", m)
	if m == 0 {
		when = "under 1 min"
	}
	if cold {
		when += ", cold"
	}
	return when
}
