package importers

import (
	"fmt"
	"maps"
	"slices"
)

// assign gives every column its field by what was said, saved or listed.
func (p *proposal) assign() {
	p.columns = make([]candidate, len(p.sheet.Header))
	for i := range p.columns {
		p.columns[i].Index, p.columns[i].Heading = i, p.sheet.columnName(i)
	}
	for _, h := range p.opt.Ignore {
		if i := p.find(h); i >= 0 {
			p.columns[i].ignored = true
		} else {
			p.ask("", p.headings(), "There is no column %q to set aside. Which one was meant?", h)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(p.opt.Maps)) {
		h := p.opt.Maps[name]
		f, ok := p.kind.field(name)
		i := p.find(h)
		switch {
		case !ok:
			p.ask(fmt.Sprintf("--map FIELD=%q", h), p.nearest(name), "%q is not a field of a %s sheet. Which field does %q fill?", name, p.kind.kind, h)
		case i < 0:
			p.ask(fmt.Sprintf("--map %s=\"HEADING\"", name), p.headings(), "There is no column %q for %s. Which one was meant?", h, name)
		default:
			p.set(i, f)
		}
	}
	taken := map[string]bool{}
	for _, c := range p.columns {
		taken[c.Field] = c.mapped || taken[c.Field]
	}
	for i := range p.columns {
		p.assignKnown(i, taken)
	}
}

// assignKnown maps column i by the saved mapping or the table, unless a person
// gave the field to another column.
func (p *proposal) assignKnown(i int, taken map[string]bool) {
	c := &p.columns[i]
	if c.mapped || c.ignored || p.sheet.Header[i] == "" {
		return
	}
	if saved := p.opt.Saved; saved != nil {
		for _, old := range saved.Columns {
			if f, ok := p.kind.field(old.Field); ok && old.Heading == c.Heading && !taken[old.Field] {
				p.set(i, f)
				c.Unit, c.Currency, c.Decimal, c.Dates = old.Unit, old.Currency, old.Decimal, old.Dates
				return
			}
		}
		if slices.Contains(saved.Ignored, c.Heading) {
			c.ignored = true
			return
		}
	}
	f, unit, currency, ok := p.voc.resolve(p.kind, p.sheet.Header[i])
	if ok && !taken[f.name] {
		p.set(i, f)
		c.Unit, c.Currency = unit, currency
	}
}

func (p *proposal) set(i int, f field) {
	c := &p.columns[i]
	c.field, c.Field, c.mapped, c.ignored = f, f.name, true, false
	if c.Unit == "" && c.Currency == "" {
		for _, part := range headingParts(p.sheet.Header[i]) {
			if u, cur := p.voc.unitOf(f.kind, part.unit); u != "" || cur != "" {
				c.Unit, c.Currency = u, cur
				return
			}
		}
	}
}
