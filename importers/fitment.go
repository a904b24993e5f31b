package importers

import (
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// fitments returns what the row says about where the part belongs: none if no
// column of the kind is filled, several where the engine cell lists engines
// with ";" or "|" between them. A comma and a slash stay, which are part of many
// engine names, unless a person said that they stand between several.
func fitments(r *supplierRow, c *rowContext) ([]catalog.Fitment, *problem) {
	stated := false
	for _, w := range []*word{&r.Make, &r.Model, &r.Years, &r.YearFrom, &r.YearTo, &r.Engine, &r.VIN8, &r.WhereFitted, &r.Condition} {
		stated = stated || w.text != ""
	}
	if !stated {
		return nil, nil
	}
	years, text, p := fitmentYears(r, c)
	if p != nil {
		return nil, p
	}
	base := catalog.Fitment{
		Make: r.Make.text, Model: r.Model.text, Years: years, YearsText: text, VIN8: r.VIN8.text,
		WhereFitted: r.WhereFitted.text, Quantity: r.Quantity.text, Condition: narrowing(r), Origin: c.origin,
	}
	lists := c.plan.enginesListed
	if !lists && strings.IndexByte(r.Engine.text, ';') < 0 && strings.IndexByte(r.Engine.text, '|') < 0 {
		base.Engine = r.Engine.text
		return c.memory.fitment(base), nil
	}
	engines := splitList(r.Engine.text)
	if lists {
		engines = listedEngines(engines)
	}
	if len(engines) < 2 {
		base.Engine = strings.Join(engines, "")
		return c.memory.fitment(base), nil
	}
	out := make([]catalog.Fitment, len(engines))
	for i, engine := range engines {
		out[i] = base
		out[i].Engine = engine
	}
	return out, nil
}

// narrowing returns what may narrow the row's fitment: the column of conditions
// and the row's remarks, since many lists write "except HD" under Remarks.
func narrowing(r *supplierRow) string {
	switch {
	case r.Notes.text == "" || r.Notes.text == r.Condition.text:
		return r.Condition.text
	case r.Condition.text == "":
		return r.Notes.text
	}
	return r.Condition.text + "; " + r.Notes.text
}

// fitmentYears reads one column of years, or two columns of first and last year.
// A sheet that fills all three must agree with itself.
func fitmentYears(r *supplierRow, c *rowContext) (units.ModelYears, string, *problem) {
	var span units.ModelYears
	from, to := r.YearFrom.text, r.YearTo.text
	raw := c.written("years")
	if from != "" || to != "" {
		first, p := c.years("year_from", from)
		if p != nil {
			return span, "", p
		}
		last, p := c.years("year_to", to)
		if p != nil {
			return span, "", p
		}
		if span, p = yearSpan(first, last, from, to); p != nil {
			return span, "", p
		}
	}
	ends := func() string { return strings.TrimSpace(c.written("year_from") + "-" + c.written("year_to")) }
	if r.Years.text == "" {
		text := ends()
		if text == "-" {
			text = ""
		}
		return span, text, nil
	}
	years, p := c.years("years", r.Years.text)
	if p == nil && span.Stated() && !sameYears(years, span) {
		p = &problem{code: "years-disagree", field: "years", text: raw,
			why: "the years " + raw + " and the columns of first and last year (" + ends() + ") disagree: correct one of them"}
	}
	return years, raw, p
}

// yearSpan joins a first and a last year into one statement; an empty end is
// open.
func yearSpan(first, last units.ModelYears, from, to string) (units.ModelYears, *problem) {
	bad := func(why string) (units.ModelYears, *problem) {
		return units.ModelYears{}, &problem{code: "years", field: "year_from", text: from + " - " + to, why: why}
	}
	if !first.Built.Open() || !last.Built.Open() {
		if len(first.Ranges)+len(last.Ranges) > 0 {
			return bad("one end is a month of build and the other a model year: write both the same way")
		}
		m := units.MonthRange{From: first.Built.From, To: last.Built.To}
		if m.To != 0 && m.To <= m.From {
			return bad("the last month lies before the first: correct one of them")
		}
		return units.ModelYears{Built: m}, nil
	}
	if len(first.Ranges) > 1 || len(last.Ranges) > 1 {
		return bad("a first or last year is one year: write one year in each column")
	}
	var y units.YearRange
	if len(first.Ranges) == 1 {
		y.From = first.Ranges[0].From
	}
	if len(last.Ranges) == 1 {
		y.To = last.Ranges[0].To
	}
	if y.To != 0 && y.To <= y.From {
		return bad("the last year lies before the first: correct one of them")
	}
	return units.ModelYears{Ranges: []units.YearRange{y}}, nil
}

func sameYears(a, b units.ModelYears) bool {
	if a.Built != b.Built || len(a.Ranges) != len(b.Ranges) {
		return false
	}
	for i := range a.Ranges {
		if a.Ranges[i] != b.Ranges[i] {
			return false
		}
	}
	return true
}
