package importers

import (
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// problem is one thing that is wrong with a row.
type problem struct {
	code  string
	why   string // what is wrong and what to do
	field string // the field it is about, empty for the whole row
	text  string // the cell, where it is not the whole cell of field
}

// rowContext is what a kind's build function may ask about the row it builds.
type rowContext struct {
	origin catalog.Origin
	plan   *plan
	raw    []string  // the sheet's own cells by mapped column
	cells  []stating // the bound cells by mapped column
	spans  map[string]yearsRead
}

type yearsRead struct {
	years units.ModelYears
	err   error
}

// facts returns what the row states about the part or engine as a whole.
func (c *rowContext) facts() []catalog.Fact {
	n := 0
	for j, col := range c.plan.columns {
		if _, _, known := c.cells[j].fact(); known && col.fact {
			n++
		}
	}
	facts := make([]catalog.Fact, 0, n)
	for j, col := range c.plan.columns {
		if !col.fact {
			continue
		}
		if n, text, known := c.cells[j].fact(); known {
			facts = append(facts, catalog.Fact{Field: col.field.name, Int: n, Word: text, Text: c.raw[j], Origin: c.origin})
		}
	}
	return facts
}

// written returns the cell of a field as the sheet has it.
func (c *rowContext) written(field string) string {
	j := slices.IndexFunc(c.plan.columns, func(col *planColumn) bool { return col.field.name == field })
	if j < 0 {
		return ""
	}
	return c.raw[j]
}

// maxSpans bounds the memory of readings of years.
const maxSpans = 4096

// years reads the canonical text of a field of years once for the whole sheet.
func (c *rowContext) years(field, text string) (units.ModelYears, *problem) {
	if text == "" {
		return units.ModelYears{}, nil
	}
	read, ok := c.spans[text]
	if !ok {
		read.years, read.err = units.ParseModelYears(text)
		if len(c.spans) >= maxSpans {
			clear(c.spans)
		}
		c.spans[text] = read
	}
	if read.err != nil {
		return units.ModelYears{}, &problem{code: "years", field: field, why: read.err.Error()}
	}
	return read.years, nil
}

// The functions below make what a cell states into a stated value of the
// catalogue, with the cell as it was written.

func (c *rowContext) money(field string, m *money) (s catalog.Stated[units.Money]) {
	if n, currency, known := m.fact(); known {
		s = catalog.Say(units.MoneyOf(n, currency), c.written(field), c.origin)
	}
	return s
}

func (c *rowContext) day(field string, d *day) (s catalog.Stated[catalog.Date]) {
	if d.known() {
		s = catalog.Say(d.date(), c.written(field), c.origin)
	}
	return s
}

func (c *rowContext) percent(field string, w *whole) (s catalog.Stated[units.Percent]) {
	if w.known() {
		s = catalog.Say(units.PercentOf(w.number()), c.written(field), c.origin)
	}
	return s
}

func (c *rowContext) volume(field string, w *whole) (s catalog.Stated[units.Volume]) {
	if w.known() {
		s = catalog.Say(units.VolumeOf(w.number()), c.written(field), c.origin)
	}
	return s
}
