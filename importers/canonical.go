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
	field      field
	voc        *vocabulary
	list       *wordList
	numbers    *numberModel
	cache      map[string]*seenCell
	last       *seenCell // the cell that was read before: rows are often alike
	now        canon     // of a cell that is not remembered
	until      string    // the last day, as YYYY-MM-DD, that may stand in the column
	basisApart bool      // another column says what the prices are for
	fact       bool      // the cell becomes a catalog.Fact
}

// seenCell is a cell that a column remembers, in memory of its own, and what it is.
type seenCell struct {
	cell string
	canon
}

// maxCache bounds how many readings a column remembers; maxWord is the length
// beyond which a text is no word of a list and not "n/a".
const (
	maxCache = 4096
	maxWord  = 40
)

var notStated canon

// read returns the canonical form of a cell: empty where nothing is stated.
func (c *planColumn) read(cell string) canon { return *c.look(cell) }

// look is read for every cell of a sheet: what it returns is good until the next call,
// and nobody may change it.
func (c *planColumn) look(cell string) *canon {
	if cell = trim(cell); cell == "" {
		return &notStated
	}
	if c.last != nil && cell == c.last.cell {
		return &c.last.canon
	}
	if c.field.kind == catalog.KindText && c.seldomAgain(cell) {
		if c.list == nil && staysAsItIs(c.field.name, cell) {
			c.now = canon{text: cell}
		} else {
			c.now = c.fresh(cell)
		}
		return &c.now
	}
	seen := c.cache[cell]
	if seen == nil {
		seen = &seenCell{strings.Clone(cell), c.fresh(cell)}
		seen.text = strings.Clone(seen.text)
		if len(c.cache) >= maxCache {
			clear(c.cache)
		}
		c.cache[seen.cell] = seen
	}
	c.last = seen
	return &seen.canon
}

// seldomAgain reports whether a text is not worth remembering.
func (c *planColumn) seldomAgain(cell string) bool {
	return c.FromText || c.field.name == "number" || c.field.name == "barcode" || c.list == nil && (len(cell) > maxWord || hasDigit(cell))
}

// staysAsItIs reports whether fresh would for certain return the text of a cell without
// change, in a field that has no list of words.
func staysAsItIs(field, cell string) bool {
	switch field {
	case "number", "barcode", "currency", "price_per", "replaced_by":
		return false
	}
	if cell[0] == '=' || cell[0] == '#' {
		return false
	}
	for i := range len(cell) {
		if !plainSign[cell[i]] {
			return false
		}
	}
	return len(cell) > maxWord || hasDigit(cell)
}

// plainSign are the characters that mean nothing but themselves in any text: no control
// characters, no letters of several bytes, no marks of a web page.
var plainSign = func() (plain [256]bool) {
	for b := ' '; b < 0x7F; b++ {
		plain[b] = b != '&' && b != '<' && b != '_'
	}
	return plain
}()

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
	if c.FromText {
		return canon{text: c.voc.typeIn(text)}
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
