package importers

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// plan is a mapping made ready for reading one sheet.
type plan struct {
	voc           *vocabulary
	kind          *kindSpec
	columns       []*planColumn
	required      []int       // columns by their place in columns of which no cell may be empty
	identity      int         // −1 if the kind has none
	currency      int         // −1 if the sheet has no such column
	per           *planColumn // of prices that are not for one piece
	number        int         // column of the part number, −1 if there is none
	enginesListed bool        // cells of engines list several with commas or slashes
	notes         notes
}

func newPlan(voc *vocabulary, m Mapping) (*plan, error) {
	p := &plan{voc: voc, kind: specOf(m.Kind), identity: -1, currency: -1, number: -1}
	needed := 0
	for i, col := range m.Columns {
		f, _ := p.kind.field(col.Field)
		c := &planColumn{Column: col, field: f, voc: voc, cache: map[string]*seenCell{}, fact: p.kind.facts[f.name]}
		switch f.kind {
		case catalog.KindBool:
			c.list = voc.yesNo(f.name)
		case catalog.KindText:
			c.list = voc.listFor(f.name)
		}
		p.columns = append(p.columns, c)
		switch f.name {
		case p.kind.identity:
			p.identity = i
		case "currency":
			p.currency = i
		case "engine":
			p.enginesListed = c.Engines == EnginesList
		case "price":
			if c.Per != "" && c.Per != "each" {
				p.per = c
			}
		}
		if f.name == "number" {
			p.number = i
		}
		if slices.Contains(p.kind.required, f.name) {
			if needed++; !slices.Contains(p.kind.blank, f.name) {
				p.required = append(p.required, i)
			}
		}
	}
	for _, c := range p.columns {
		c.basisApart = c.field.kind == catalog.KindMoney && p.has("price_per")
	}
	if missing := len(p.kind.required) - needed; missing > 0 {
		return nil, fmt.Errorf("%d of the columns that a %s sheet needs are not mapped (%s): map them first", missing, p.kind.kind, strings.Join(p.kind.required, ", "))
	}
	return p, nil
}

func (p *plan) has(field string) bool {
	return slices.ContainsFunc(p.columns, func(c *planColumn) bool { return c.field.name == field })
}

func (p *plan) fields() []string {
	names := make([]string, len(p.columns))
	for i, c := range p.columns {
		names[i] = c.field.name
	}
	return names
}

func (p *plan) heading(field string) string {
	for _, c := range p.columns {
		if c.field.name == field {
			return c.Heading
		}
	}
	return ""
}

// canonical reads the mapped cells of a row into canon and returns the first
// problem and how many there are. raw receives the sheet's own cells.
func (p *plan) canonical(cells, raw, canon []string) (first *problem, count int) {
	bad := func(c *planColumn, cell string, pr *problem) {
		if count++; first == nil {
			first = &problem{code: pr.code, why: pr.why, field: c.field.name, text: cell, match: pr.match}
		}
	}
	for j, c := range p.columns {
		cell := ""
		if c.Index < len(cells) {
			cell = trim(cells[c.Index])
		}
		out := c.look(cell)
		raw[j], canon[j] = cell, out.text
		if out.note != "" {
			p.notes.add(out.note, j)
		}
		if len(cell) >= cutFrom {
			p.noteLength(j, cell)
		}
		if out.problem != nil {
			bad(c, cell, out.problem)
		}
	}
	if p.currency >= 0 {
		p.addCurrency(canon, bad)
	}
	for _, j := range p.required {
		if c := p.columns[j]; canon[j] == "" && first == nil {
			bad(c, raw[j], &problem{code: "required", why: fmt.Sprintf("the row states no %s: fill the cell", strings.ReplaceAll(c.field.name, "_", " "))})
		}
	}
	return first, count
}

// addCurrency gives the amounts of a row the currency of its currency column.
func (p *plan) addCurrency(canon []string, bad func(*planColumn, string, *problem)) {
	currency := canon[p.currency]
	if currency == "" {
		return
	}
	for j, c := range p.columns {
		if c.field.kind != catalog.KindMoney || canon[j] == "" {
			continue
		}
		amount, own, _ := strings.Cut(canon[j], " ")
		if own != "" && own != currency && c.Currency != own {
			bad(c, canon[j], &problem{code: "currency", why: fmt.Sprintf("the cell states %s and the currency column %s: correct one of them", own, currency)})
			continue
		}
		canon[j] = amount + " " + currency
	}
}

// yesNo is the list of yes and no words, with the field's own words in front.
func (v *vocabulary) yesNo(field string) *wordList {
	l := &wordList{name: "yesno", words: v.words["yesno"], closed: true, ids: []string{"yes", "no"}}
	if own := v.words[field]; own != nil {
		l.words = map[string][]string{}
		for _, words := range []map[string][]string{v.words["yesno"], own} {
			for w, values := range words {
				l.words[w] = values
			}
		}
	}
	return l
}

// upperTemperature returns the higher end of a cell with two temperatures.
func (p *plan) upperTemperature(field, cell string) (milliC int64, ok bool) {
	for _, c := range p.columns {
		if c.field.name != field {
			continue
		}
		text, ok := plain(cell, c.Decimal, false, c.Mixed)
		if !ok {
			return 0, false
		}
		if _, err := units.ParseTemperature(text, c.Unit); err == nil {
			return 0, false
		}
		_, high, err := units.ParseTemperatureRange(text, c.Unit)
		return high.MilliCelsius(), err == nil
	}
	return 0, false
}
