package importers

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
)

// suggest weighs headings and values of the columns that are not placed yet.
// A listed heading is taken unless its values speak against it. The fields by
// which parts are told apart and paid for are suggested, and left to a person.
func (p *proposal) suggest() {
	floor, margin := p.voc.limits.get("suggest_floor"), p.voc.limits.get("suggest_margin")
	var open []int
	anyFilled := slices.ContainsFunc(p.columns, func(c candidate) bool { return c.shape.filled > 0 })
	for i := range p.columns {
		c := &p.columns[i]
		switch {
		case c.listed && c.shape.filled == 0 && anyFilled:
			c.mapped, c.listed, c.Field = false, false, "" // an empty column keeps its field from no other
		case c.listed && c.shape.filled > 0:
			if s := p.listedScore(c); p.total(s) < floor {
				c.mapped, c.listed, c.Field = false, false, ""
				open = append(open, i)
			} else {
				c.guess = &Suggestion{c.Heading, c.Field, p.total(s), p.words(s, c.field, p.sheet.Header[i]), true}
			}
		case !c.mapped && !c.ignored && c.shape.filled > 0:
			open = append(open, i)
		}
	}
	fields := p.freeFields()
	scores, told := make([][]float64, len(open)), make([][]float64, len(open))
	found := make([][]scored, len(open))
	for r, i := range open {
		names := p.nameScores(p.sheet.Header[i])
		scores[r], told[r], found[r] = make([]float64, len(fields)), make([]float64, len(fields)), make([]scored, len(fields))
		for k, f := range fields {
			s := scored{name: names[f.name]}
			s.value, s.why = p.valueScore(&p.columns[i], f)
			s.shows = p.near(p.sheet.Header[i], f.name) || s.why != "" && s.value > p.voc.limits.get("suggest_neutral") && p.unmistakable(&p.columns[i], f)
			found[r][k], scores[r][k] = s, p.total(s)
			if s.shows && !p.columns[i].shape.countsLines() {
				told[r][k] = scores[r][k]
			}
		}
	}
	fresh := map[int]bool{}
	for r, k := range pair(told) {
		c := &p.columns[open[r]]
		c.guess = &Suggestion{Heading: c.Heading}
		if k < 0 || !found[r][k].shows {
			continue
		}
		f := fields[k]
		*c.guess = Suggestion{c.Heading, f.name, scores[r][k], p.words(found[r][k], f, p.sheet.Header[c.Index]), false}
		if scores[r][k] < floor || lead(scores, r, k) < margin || identityFields[f.name] || !p.near(c.Heading, f.name) {
			continue
		}
		c.guess.Taken = true
		p.set(c.Index, f)
		fresh[c.Index] = true
	}
	p.studyAgain(fresh)
	for i := range p.columns {
		if g := p.columns[i].guess; g != nil {
			p.result.Suggestions = append(p.result.Suggestions, *g)
		}
	}
}

// listedScore is the score of a listed heading. Few values prove little against
// it: two more that fit are thought to be there.
func (p *proposal) listedScore(c *candidate) scored {
	s := scored{name: p.voc.limits.get("suggest_synonym")}
	n := len(c.shape.texts)
	s.value, s.why = p.valueScore(c, c.field)
	if c.field.kind == catalog.KindText && !p.voc.closed[c.field.name] {
		s.value = max(s.value, p.voc.limits.get("suggest_neutral")) // text of any kind may stand there
	}
	if c.field.name == "number" {
		s.value, s.why = c.shape.looksNumbered(), ""
		if p.opt.Known != nil && c.shape.known > 0 {
			s.value, s.why = 1, percentOf(share(c.shape.known, c.shape.keys), "of the values are part numbers on file")
		}
	}
	s.value = (s.value*float64(n) + 2) / float64(n+2)
	return s
}

func (p *proposal) freeFields() []field {
	var fields []field
	for _, f := range p.kind.fields {
		if !slices.ContainsFunc(p.columns, func(c candidate) bool { return c.mapped && c.Field == f.name }) {
			fields = append(fields, f)
		}
	}
	return fields
}

// words writes the evidence for a suggestion.
func (p *proposal) words(s scored, f field, heading string) string {
	var parts []string
	name := strings.ReplaceAll(f.name, "_", " ")
	switch {
	case s.name >= p.voc.limits.get("suggest_synonym"):
		parts = append(parts, "heading stands for "+name)
	case p.near(heading, f.name):
		parts = append(parts, "heading close to "+name)
	case heading != "":
		parts = append(parts, "heading unknown")
	}
	if s.why != "" {
		parts = append(parts, s.why)
	}
	return strings.Join(parts, "; ")
}

// lead is by how much a pair beats the next field of its column and the next
// column for its field.
func lead(scores [][]float64, r, k int) float64 {
	next := 0.0
	for other, s := range scores[r] {
		if other != k {
			next = max(next, s)
		}
	}
	for other := range scores {
		if other != r {
			next = max(next, scores[other][k])
		}
	}
	return scores[r][k] - next
}

// finish moves a column into the mapping, or asks about it.
func (p *proposal) finish(m *Mapping, i int) {
	c := &p.columns[i]
	switch {
	case c.mapped:
		p.settleReading(c)
		m.Columns = append(m.Columns, c.Column)
		if c.guess != nil && !c.said {
			p.accepts = append(p.accepts, fmt.Sprintf("--map %s=%s", c.Field, quoted(c.Heading)))
		}
	case c.ignored || c.seen.filled == 0:
		m.Ignored = append(m.Ignored, c.Heading)
		if c.seen.filled == 0 && !c.said {
			m.Empty = append(m.Empty, c.Heading)
		}
	default:
		p.askColumn(c)
	}
}

// askColumn asks what a filled column is. Without any sign of a field, nothing is
// proposed but to set the column aside.
func (p *proposal) askColumn(c *candidate) {
	choices := p.nearest(p.sheet.Header[c.Index])
	evidence := ""
	if g := c.guess; g != nil && g.Field != "" {
		choices = append([]string{g.Field}, slices.DeleteFunc(choices, func(f string) bool { return f == g.Field })...)
		needed := ""
		if slices.Contains(p.kind.required, g.Field) {
			needed = fmt.Sprintf(", which a %s sheet needs", p.kind.kind)
		}
		evidence = fmt.Sprintf(" It looks most like %s%s: %s.", strings.ReplaceAll(g.Field, "_", " "), needed, g.Evidence)
	}
	mapped := func(f string) string { return fmt.Sprintf("--map %s=%s", f, quoted(c.Heading)) }
	aside := "--ignore " + quoted(c.Heading)
	if c.shape.countsLines() {
		choices, evidence = nil, " It seems to count the lines."
	}
	command, f := aside+" or "+mapped("FIELD"), ""
	if len(choices) > 0 {
		f = choices[0]
		command = mapped(f) + " or " + aside
	} else {
		choices = p.fieldsOfKind(c)
	}
	if f != "" && c.guess != nil && c.guess.Field == f {
		p.accepts = append(p.accepts, mapped(f))
	} else {
		p.accepts = append(p.accepts, aside)
	}
	what := "is none of ours"
	if p.changed && !c.known {
		what = "was not in this supplier's last sheet"
		if p.opt.Saved != nil && slices.Contains(p.opt.Saved.Empty, c.Heading) {
			what = "was empty in this supplier's last sheet"
		}
	}
	p.ask("column", command, append(choices, "ignore"),
		"Column %q (%s) %s.%s Which field does it fill, or should it be set aside?", c.Heading, c.seen.examples(), what, evidence)
}

func (p *proposal) askMissing() {
	for _, name := range p.kind.required {
		if slices.ContainsFunc(p.columns, func(c candidate) bool { return c.mapped && c.Field == name }) {
			continue
		}
		var choices, flags []string
		asked := false // the question about a column is this one already
		for i := range p.columns {
			c := &p.columns[i]
			if !c.mapped && !c.ignored && c.seen.filled > 0 {
				choices, flags = append(choices, c.Heading), append(flags, fmt.Sprintf("--map %s=%s", name, quoted(c.Heading)))
				asked = asked || c.guess != nil && c.guess.Field == name
			}
		}
		if asked {
			continue
		}
		command := strings.Join(flags, " or ")
		if len(flags) == 0 {
			command = fmt.Sprintf("--map %s=\"HEADING\"", name)
		}
		p.ask("required", command, choices,
			"No column holds the %s, which a %s sheet needs. Which one is it?", strings.ReplaceAll(name, "_", " "), p.kind.kind)
	}
}
