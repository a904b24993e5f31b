package importers

import (
	"fmt"
	"html"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"

	"golang.org/x/text/unicode/norm"
)

// canon is a cell in canonical form, or why it has none. The note is the code
// of something that was read but is worth saying.
type canon struct {
	text    string
	note    string
	problem *problem
}

// planColumn reads the cells of one mapped column.
type planColumn struct {
	Column
	field   field
	voc     *vocabulary
	list    *wordList
	numbers *numberModel
	cache   map[string]canon
	last    string // the cell that was read before, and what it is: rows are often alike
	lastOut canon
	until   string // the last day, as YYYY-MM-DD, that may stand in the column
	fact    bool   // the cell becomes a catalog.Fact
}

// maxCache bounds how many readings a column remembers; maxWord is the length
// beyond which a text is no word of a list and not "n/a".
const (
	maxCache = 4096
	maxWord  = 40
)

// read returns the canonical form of a cell: empty where nothing is stated.
func (c *planColumn) read(cell string) canon {
	if cell == "" {
		return canon{}
	}
	if cell = trim(cell); cell == "" {
		return canon{}
	}
	if c.field.name == "number" || c.field.name == "barcode" {
		return c.fresh(cell)
	}
	if c.list == nil && c.field.kind == catalog.KindText && (len(cell) > maxWord || hasDigit(cell)) {
		return c.fresh(cell)
	}
	if cell == c.last {
		return c.lastOut
	}
	out, seen := c.cache[cell]
	if !seen {
		out = c.fresh(cell)
		if len(c.cache) >= maxCache {
			clear(c.cache)
		}
		out.text = strings.Clone(out.text)
		c.cache[strings.Clone(cell)] = out
	}
	c.last, c.lastOut = cell, out
	return out
}

func (c *planColumn) fresh(cell string) canon {
	text, note, p := undamaged(cell)
	if p != nil || text == "" {
		return canon{problem: p, note: note}
	}
	if c.field.name == "number" {
		out := c.partNumber(text)
		if out.note == "" {
			out.note = note
		}
		return out
	}
	if !isASCII(text) {
		text = norm.NFC.String(text)
	}
	known := c.list != nil && c.list.words[wordKey(text)] != nil
	if !known && len(text) <= maxWord && !hasDigit(text) && c.voc.words["null"][wordKey(text)] != nil {
		return canon{note: note}
	}
	out := c.value(text)
	if out.note == "" {
		out.note = note
	}
	return out
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}

func has(text string, b byte) bool { return strings.IndexByte(text, b) >= 0 }

func told(text string, p *problem) canon { return canon{text: text, problem: p} }

// value reads a cell that states something, by the kind of its field.
func (c *planColumn) value(text string) canon {
	switch c.field.kind {
	case catalog.KindText:
		return c.textValue(text)
	case catalog.KindBool:
		return told(c.voc.word(c.list, text))
	case catalog.KindDate:
		day, p := c.voc.readDate(text, c.Dates)
		if p == nil && c.until != "" && day > c.until {
			p = &problem{code: "date-future", why: fmt.Sprintf("%q lies ahead of us, and the row is about what has happened: correct the day, or import the row when it is over", text)}
		}
		return told(day, p)
	case catalog.KindYears:
		return told(c.years(text))
	}
	strict := c.field.kind == catalog.KindMoney || c.field.kind == catalog.KindCount
	number, ok := plain(text, c.Decimal, strict, c.Mixed)
	if !ok {
		return canon{problem: &problem{code: "number-marks", why: fmt.Sprintf("%q does not fit the decimal %s of this column: correct the cell", text, c.Decimal)}}
	}
	return c.quantity(number)
}

// years rewrites years so that they read the same without the column's own
// sense of arrows and pairs.
func (c *planColumn) years(text string) (string, *problem) {
	o := units.YearOptions{}
	switch c.Arrows {
	case "timeline":
		o.Arrow = units.ArrowTimeline
	case "compare":
		o.Arrow = units.ArrowCompare
	}
	switch c.Pairs {
	case "month":
		o.Pair = units.PairMonthYear
	case "years":
		o.Pair = units.PairYears
	}
	m, err := units.ParseModelYearsWith(text, o)
	if err != nil {
		return "", parseProblem("years", err)
	}
	if o == (units.YearOptions{}) {
		return text, nil
	}
	return m.String(), nil
}

func (c *planColumn) textValue(text string) canon {
	note := ""
	switch c.field.name {
	case "currency":
		return told(c.voc.currencyCell(text))
	case "price_per":
		if n := c.voc.basis(text); n != "" {
			return canon{text: n}
		}
	case "barcode":
		return c.barcode(text)
	case "replaced_by":
		return c.replacedBy(text)
	case "description", "notes", "note":
		if clean := withoutMarkup(text); clean != text {
			text, note = clean, "markup"
		}
	}
	if has(text, '\n') || has(text, '\r') || has(text, '\t') {
		text = strings.Join(strings.Fields(text), " ")
	}
	if c.list != nil {
		return told(c.voc.word(c.list, text))
	}
	return canon{text: text, note: note}
}

// currencyCell reads the cell of a currency column.
func (v *vocabulary) currencyCell(text string) (string, *problem) {
	if code := v.currency(text); code != "" {
		return code, nil
	}
	if isCurrencyCode(text) {
		return text, nil
	}
	return "", &problem{code: "currency", why: fmt.Sprintf("%q is not a currency that is known here: write a code of three letters such as EUR", text)}
}

var markup = strings.NewReplacer("<br>", " ", "<br/>", " ", "<br />", " ", "<BR>", " ", "_x000D_", " ", "_x000d_", " ")

// withoutMarkup writes out what web pages leave in a description. Nothing else
// is ever decoded: in a part number, "&amp;" may be what was printed.
func withoutMarkup(text string) string {
	if !has(text, '&') && !has(text, '<') && !has(text, '_') {
		return text
	}
	return strings.Join(strings.Fields(html.UnescapeString(markup.Replace(text))), " ")
}
