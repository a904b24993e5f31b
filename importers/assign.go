package importers

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
)

// assign gives every column the field that a person said, that was saved for
// it, or that the table lists for its heading.
func (p *proposal) assign() {
	p.columns = make([]candidate, len(p.sheet.Header))
	for i := range p.columns {
		p.columns[i].Index, p.columns[i].Heading = i, p.sheet.columnName(i)
	}
	for _, h := range p.opt.Ignore {
		if i := p.find(h); i >= 0 {
			p.columns[i].ignored, p.columns[i].said = true, true
		} else {
			p.ask("no-column", "", p.headings(), "There is no column %q to set aside. Which one was meant?", h)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(p.opt.Maps)) {
		h := p.opt.Maps[name]
		f, ok := p.kind.field(name)
		i := p.find(h)
		switch {
		case !ok:
			p.ask("no-field", "--map FIELD="+quoted(h), p.nearest(name), "%q is not a field of a %s sheet. Which field does %q fill?", name, p.kind.kind, h)
		case i < 0:
			p.ask("no-column", fmt.Sprintf("--map %s=\"HEADING\"", name), p.headings(), "There is no column %q for %s. Which one was meant?", h, name)
		default:
			p.set(i, f)
			p.columns[i].said = true
		}
	}
	taken := map[string]bool{}
	for _, c := range p.columns {
		taken[c.Field] = c.mapped || taken[c.Field]
	}
	if saved := p.opt.Saved; saved != nil && saved.Kind == p.kind.kind {
		for i := range p.columns {
			p.assignSaved(i, taken)
		}
		p.compare()
	}
	for i := range p.columns {
		p.assignListed(i, taken)
	}
}

// assignSaved maps column i as it was confirmed for the supplier's last sheet,
// unless a person gave the field to another column.
func (p *proposal) assignSaved(i int, taken map[string]bool) {
	c, saved := &p.columns[i], p.opt.Saved
	if slices.ContainsFunc(saved.Columns, func(old Column) bool { return old.Heading == c.Heading }) || slices.Contains(saved.Ignored, c.Heading) {
		c.known = true
	}
	if c.said {
		return
	}
	for _, old := range saved.Columns {
		if f, ok := p.kind.field(old.Field); ok && old.Heading == c.Heading && !taken[old.Field] {
			c.known = true
			p.set(i, f)
			index := c.Index
			c.Column, c.Index = old, index
			return
		}
	}
	if slices.Contains(saved.Ignored, c.Heading) {
		if slices.Contains(saved.Empty, c.Heading) {
			c.known = false // nothing was ever decided about it
			return
		}
		c.ignored = true
	}
}

// assignListed maps column i by the table of headings. In a changed sheet the
// fields by which parts are told apart and paid for are left to a person.
func (p *proposal) assignListed(i int, taken map[string]bool) {
	c := &p.columns[i]
	if c.mapped || c.ignored || p.sheet.Header[i] == "" {
		return
	}
	f, unit, currency, ok := p.voc.resolve(p.kind, p.sheet.Header[i])
	if !ok {
		f, unit, currency, _, ok = p.voc.priceHeading(p.kind, p.sheet.Header[i])
	}
	if ok && !taken[f.name] && !(p.changed && identityFields[f.name]) {
		p.set(i, f)
		c.Unit, c.Currency, c.listed = unit, currency, true
	}
}

// identityFields take a person's word unless their heading is listed in a first
// sheet: a wrong one would put facts and prices to wrong parts.
var identityFields = nameSetOf("number", "supplier", "replaces", "replaced_by", "other_number", "price", "price_per", "unit_price", "pack", "pack_volume", "currency")

func nameSetOf(names ...string) map[string]bool {
	set := map[string]bool{}
	for _, n := range names {
		set[n] = true
	}
	return set
}

func (p *proposal) set(i int, f field) {
	c := &p.columns[i]
	c.field, c.Field, c.mapped, c.ignored = f, f.name, true, false
	if f.kind == catalog.KindMoney {
		if base, basis := p.voc.headingBasis(p.sheet.Header[i]); basis != "" && c.Currency == "" {
			if c.Currency = p.voc.currency(base); c.Currency != "" {
				return
			}
			for _, part := range headingParts(base) {
				if c.Currency = p.voc.currency(part.unit); c.Currency != "" {
					return
				}
			}
		}
	}
	if c.Unit == "" && c.Currency == "" {
		for _, part := range headingParts(p.sheet.Header[i]) {
			if u, cur := p.voc.unitOf(f.kind, part.unit); u != "" || cur != "" {
				c.Unit, c.Currency = u, cur
				return
			}
		}
	}
}

// quoted puts a heading between double quotes, safe for a shell.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "$", `\$`, "`", "\\`").Replace(s) + `"`
}
