package importers

import (
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// problem is one thing that is wrong with a row.
type problem struct {
	code  string
	why   string                   // what is wrong and what to do
	field string                   // the field it is about, empty for the whole row
	text  string                   // the cell, where it is not the whole cell of field
	match func(number string) bool // which numbers on file could be meant
}

// rowContext is what a kind's build function may ask about the row it builds.
type rowContext struct {
	origin catalog.Origin
	plan   *plan
	raw    []string  // the sheet's own cells by mapped column
	cells  []stating // the bound cells by mapped column
	spans  map[string]yearsRead
	memory memory
}

// memory is reused by the rows of every chunk: what a row points to is good
// until it has been handed on.
type memory struct {
	parts    []catalog.PartRow
	facts    []catalog.Fact
	fitments []catalog.Fitment
}

func (m *memory) reset() {
	m.parts, m.facts, m.fitments = m.parts[:0], m.facts[:0], m.fitments[:0]
}

// part keeps one part of the chunk. The memory of a chunk has room for all of
// its rows, so that pointers stay good.
func (m *memory) part(p catalog.PartRow) *catalog.PartRow {
	if m.parts == nil {
		m.parts = make([]catalog.PartRow, 0, chunkRows)
	}
	m.parts = append(m.parts, p)
	return &m.parts[len(m.parts)-1]
}

// fact adds a fact to fill in.
func (m *memory) fact() *catalog.Fact {
	if n := len(m.facts); n < cap(m.facts) {
		m.facts = m.facts[:n+1]
	} else {
		m.facts = append(m.facts, catalog.Fact{})
	}
	return &m.facts[len(m.facts)-1]
}

// fitment keeps one fitment as a list.
func (m *memory) fitment(f catalog.Fitment) []catalog.Fitment {
	n := len(m.fitments)
	m.fitments = append(m.fitments, f)
	return m.fitments[n : n+1 : n+1]
}

type yearsRead struct {
	years units.ModelYears
	err   error
}

// roomForFacts is how many facts a row can state that no column of its own holds:
// a second temperature, a price basis and its pack.
const roomForFacts = 3

// facts returns what the row states about the part or engine as a whole, with
// room for those more.
func (c *rowContext) facts() []catalog.Fact {
	from := len(c.memory.facts)
	for j, col := range c.plan.columns {
		if !col.fact {
			continue
		}
		if n, text, known := c.cells[j].fact(); known {
			f := c.memory.fact()
			f.Field, f.Int, f.Word, f.Text = col.field.name, n, text, c.raw[j]
			f.Origin = c.origin
		}
	}
	to := len(c.memory.facts)
	for range roomForFacts {
		c.memory.fact()
	}
	return c.memory.facts[from : to : to+roomForFacts]
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
		c.spans[strings.Clone(text)] = read
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
