package importers

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"

	"golang.org/x/text/unicode/norm"
)

// canon is a cell in canonical form, or why it has none.
type canon struct {
	text    string
	problem *problem
}

// planColumn reads the cells of one mapped column.
type planColumn struct {
	Column
	field field
	voc   *vocabulary
	list  *wordList
	cache map[string]canon
	fact  bool // the cell becomes a catalog.Fact
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
	if c.field.name != "number" {
		if c.list == nil && c.field.kind == catalog.KindText && (len(cell) > maxWord || hasDigit(cell)) {
			return c.fresh(cell)
		}
		if seen, ok := c.cache[cell]; ok {
			return seen
		}
	}
	out := c.fresh(cell)
	if c.field.name == "number" {
		return out
	}
	if len(c.cache) >= maxCache {
		clear(c.cache)
	}
	out.text = strings.Clone(out.text)
	c.cache[strings.Clone(cell)] = out
	return out
}

func (c *planColumn) fresh(cell string) canon {
	text, p := damaged(cell)
	if p != nil || text == "" {
		return canon{problem: p}
	}
	if c.field.name == "number" {
		text, p = c.voc.partNumber(text)
		return canon{text, p}
	}
	text = norm.NFC.String(text)
	known := c.list != nil && c.list.words[wordKey(text)] != nil
	if !known && len(text) <= maxWord && !hasDigit(text) && c.voc.words["null"][wordKey(text)] != nil {
		return canon{}
	}
	text, p = c.value(text)
	return canon{text, p}
}

// value reads a cell that states something, by the kind of its field.
func (c *planColumn) value(text string) (string, *problem) {
	switch c.field.kind {
	case catalog.KindText:
		return c.textValue(text)
	case catalog.KindBool:
		return c.voc.word(c.list, text)
	case catalog.KindDate:
		return c.voc.readDate(text, c.Dates)
	case catalog.KindYears:
		if _, err := units.ParseModelYears(text); err != nil {
			return "", parseProblem("years", err)
		}
		return text, nil
	}
	strict := c.field.kind == catalog.KindMoney || c.field.kind == catalog.KindCount
	number, ok := plain(text, c.Decimal, strict)
	if !ok {
		return "", &problem{code: "number-marks", why: fmt.Sprintf("%q does not fit the decimal %s of this column: correct the cell", text, c.Decimal)}
	}
	return c.quantity(number)
}

func (c *planColumn) textValue(text string) (string, *problem) {
	if c.field.name == "currency" {
		if code := c.voc.currency(text); code != "" {
			return code, nil
		}
		if isCurrencyCode(text) {
			return text, nil
		}
		return "", &problem{code: "currency", why: fmt.Sprintf("%q is not a currency that is known here: write a code of three letters such as EUR", text)}
	}
	if strings.ContainsAny(text, "\r\n\t") {
		text = strings.Join(strings.Fields(text), " ")
	}
	if c.list != nil {
		return c.voc.word(c.list, text)
	}
	return text, nil
}
