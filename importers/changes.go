package importers

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// compare finds what is different from the supplier's last sheet. A sheet that
// has less than half of its fields, under the old headings or listed ones, is
// another sheet, not a changed one.
func (p *proposal) compare() {
	saved := p.opt.Saved
	there := 0
	listed := map[string]bool{}
	for i := range p.columns {
		f, _, _, ok := p.voc.resolve(p.kind, p.sheet.Header[i])
		if !ok {
			f, _, _, _, _ = p.voc.priceHeading(p.kind, p.sheet.Header[i])
		}
		listed[f.name] = true
	}
	for _, old := range saved.Columns {
		if old.Heading == SectionHeading || old.FromText {
			there++
			continue
		}
		if slices.ContainsFunc(p.columns, func(c candidate) bool { return c.Heading == old.Heading }) {
			there++
			continue
		}
		p.gone = append(p.gone, old)
		if listed[old.Field] {
			there++
		}
	}
	if 2*there < len(saved.Columns) {
		p.gone = nil
		return
	}
	added := 0
	for i := range p.columns {
		if c := &p.columns[i]; !c.known && p.sheet.Header[i] != "" {
			added++
		}
	}
	p.changed = added > 0 || len(p.gone) > 0
	if !p.changed && saved.Signature != "" && saved.Signature != p.voc.signature(p.sheet) {
		p.note("The columns stand in another order than in the last sheet: they were found by their names.")
	}
}

// askGone asks about columns of the last sheet whose field nothing fills now, and
// that no other question is about.
func (p *proposal) askGone() {
	for _, old := range p.gone {
		if slices.ContainsFunc(p.columns, func(c candidate) bool {
			return c.mapped && c.Field == old.Field || !c.mapped && !c.ignored && c.guess != nil && c.guess.Field == old.Field
		}) || slices.Contains(p.kind.required, old.Field) {
			continue
		}
		var choices []string
		for _, c := range p.columns {
			if !c.mapped && !c.ignored && c.seen.filled > 0 {
				choices = append(choices, c.Heading)
			}
		}
		name := strings.ReplaceAll(old.Field, "_", " ")
		if !identityFields[old.Field] && len(choices) == 0 || p.accepted("missing-column") {
			p.note("Column %q, which held the %s in the last sheet, is not in this one.", old.Heading, name)
			continue
		}
		var flags []string
		for _, heading := range choices {
			flags = append(flags, fmt.Sprintf("--map %s=%s", old.Field, quoted(heading)))
		}
		flags = append(flags, "--accept missing-column")
		p.ask("missing-column", strings.Join(flags, " or "), append(choices, "none"),
			"Column %q, which held the %s in the last sheet, is not in this one. Which column holds it now?", old.Heading, name)
	}
}

// measure notes what the values are like.
func (p *proposal) measure(m *Mapping) {
	m.Measured = Measured{SHA256: p.sheet.SHA256}
	for i := range p.columns {
		c := &p.columns[i]
		switch {
		case !c.mapped:
		case c.Field == "number":
			m.Measured.Rows = c.shape.filled
			m.Measured.Known = int(100 * share(c.shape.known, c.shape.keys))
		case c.field.kind == catalog.KindMoney:
			if n, ok := c.seen.prices.median(p.amountReader(c)); ok {
				if m.Measured.Prices == nil {
					m.Measured.Prices = map[string]int64{}
				}
				m.Measured.Prices[c.Field] = n
			}
		}
	}
}

func (p *proposal) amountReader(c *candidate) func(string) (int64, bool) {
	col := &planColumn{Column: c.Column, field: c.field, voc: p.voc, cache: map[string]*seenCell{}}
	return func(cell string) (int64, bool) {
		var m money
		out := col.read(cell)
		if out.problem != nil || m.UnmarshalCSV(out.text) != nil {
			return 0, false
		}
		n, _, known := m.fact()
		return n, known
	}
}

// askDrift asks whether columns have changed places when their values are not
// what they were: numbers that are no longer on file, or prices ten times what
// they were.
func (p *proposal) askDrift(m *Mapping) {
	saved := p.opt.Saved
	if saved == nil || saved.Kind != m.Kind || p.accepted("swapped-columns") || saved.Measured.SHA256 == p.sheet.SHA256 {
		return
	}
	l := p.voc.limits
	for i := range p.columns {
		c := &p.columns[i]
		if !c.mapped || c.said || c.shape.filled == 0 {
			continue
		}
		old, now := saved.Measured.Prices[c.Field], m.Measured.Prices[c.Field]
		factor := int64(l.get("drift_price_factor"))
		switch {
		case c.Field == "number" && p.numbersFell(c):
			p.askSwapped(c, fmt.Sprintf("only %s", percentOf(share(c.shape.known, c.shape.keys), "of its values are part numbers on file")))
		case old > 0 && now > 0 && (now >= old*factor || old >= now*factor):
			p.askSwapped(c, fmt.Sprintf("its middle price was %s in the last sheet and is %s now", units.MoneyOf(old, c.Currency), units.MoneyOf(now, c.Currency)))
		}
	}
}

func (p *proposal) numbersFell(c *candidate) bool {
	l := p.voc.limits
	now := share(c.shape.known, c.shape.keys)
	if p.opt.Known == nil || p.zeros || c.Pad > 0 || now > l.get("drift_known_after") {
		return false
	}
	if before := float64(p.opt.Saved.Measured.Known) / 100; before >= l.get("drift_known_before") && c.shape.filled >= l.count("drift_rows") {
		return true
	}
	for i := range p.columns {
		if o := &p.columns[i]; i != c.Index && o.keysElsewhere(p) >= l.get("drift_known_before") {
			return true
		}
	}
	return false
}

// keysElsewhere is the share of a sample of another column that is on file as
// part numbers.
func (c *candidate) keysElsewhere(p *proposal) float64 {
	if c.mapped && (c.Field == "replaces" || c.Field == "replaced_by" || c.Field == "other_number") {
		return 0
	}
	n := 0
	for _, t := range c.shape.texts {
		if hasDigit(t) && p.opt.Known(catalog.Key(t)) {
			n++
		}
	}
	return share(n, len(c.shape.texts))
}

func (p *proposal) askSwapped(c *candidate, why string) {
	p.ask("swapped-columns", fmt.Sprintf("--accept swapped-columns or --map %s=\"HEADING\"", c.Field), append(p.headings(), "go on"),
		"Column %q is mapped to %s, but %s: the columns may have been swapped. Is it still the right one?", c.Heading, strings.ReplaceAll(c.Field, "_", " "), why)
}
