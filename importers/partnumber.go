package importers

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
)

var (
	exponent       = pattern.New(`^[+-]?\d([.,]\d+)?[Ee][+-]\d{1,3}$|^[+-]?\d[.,]\d+[Ee]\d{1,3}$|^[+-]\d+[Ee]\d{1,3}$`)
	plainE         = pattern.New(`^\d+[Ee]\d{1,3}$`)
	dayMonth       = pattern.New(`^\d{1,2}[-. /]{1,2}(\pL{3,})(?:[-. /]\d{2,4})?$`)
	monthYear      = pattern.New(`^(\pL{3,})[-. /]\d{2,4}$`)
	fullDatePoints = pattern.New(`^\d{1,2}\. ?\d{1,2}\. ?\d{2,4}$`)
	fullDate       = pattern.New(`^(\d{1,2}/\d{1,2}/\d{4}|\d{4}-\d{2}-\d{2}( \d{2}:\d{2}(:\d{2})?)?)$`)
)

// partNumber checks a part number, which is text from the first byte to the
// last: nothing in it is changed, but for the ".0" and the zeros of a rule that
// a person confirmed.
func (c *planColumn) partNumber(cell string) canon {
	gone := func(code string, match func(string) bool, format string, args ...any) canon {
		return canon{problem: &problem{code: code, why: fmt.Sprintf(format, args...), match: match}}
	}
	shape := shapeOf(cell)
	switch {
	case shape.exponent && exponent.MatchString(cell), shape.exponent && plainE.MatchString(cell) && c.numbers.strangeExponent(cell):
		return gone("part-exponent", roundsTo(strings.Clone(cell)), "%s is what a spreadsheet makes of a long number; its last digits are gone: ask the supplier for an export with this column as text", cell)
	case shape.date && fullDate.MatchString(cell), shape.month && (c.voc.namesMonth(dayMonth, cell) || c.voc.namesMonth(monthYear, cell)):
		return gone("part-date", c.voc.readsAsDate(cell), "%s is what a spreadsheet makes of a number such as 3-10: ask the supplier for an export with this column as text", cell)
	case shape.serial() && c.numbers.strangeSerial(c.voc, cell):
		return gone("part-date", c.voc.readsAsDate(cell), "%s stands among numbers such as 3-10, and is the day number that a spreadsheet makes of one: ask the supplier for an export with this column as text", cell)
	case shape.digits == 0 && c.isTotal(cell):
		return gone("total-line", nil, "%q is a word for a total: take the line out of the sheet or waive it; if it is a part, write its number", cell)
	case shape.plain == 0 && catalog.Key(cell) == "":
		return gone("part-number", nil, "%q has no letter and no digit: write the part's number", cell)
	}
	if !shape.ascii {
		for _, r := range cell {
			if latin := c.voc.lookalikes[r]; latin != "" {
				key := catalog.Key(c.voc.latin(cell))
				return gone("part-lookalike", func(n string) bool { return catalog.Key(n) == key }, "the number holds the letter %q, which only looks like %s: type the number again", r, latin)
			}
		}
		return canon{text: cell}
	}
	return c.digits(cell, shape, gone)
}

// digits looks at a number of digits alone, which may have lost zeros in front
// or won one behind.
func (c *planColumn) digits(cell string, shape numberShape, gone func(string, func(string) bool, string, ...any) canon) canon {
	note := ""
	if c.PointZero == "strip" && pointZero.MatchString(cell) {
		cell, note = strings.TrimSuffix(cell, ".0"), "point-zero"
		shape = shapeOf(cell)
	}
	if shape.digits != len(cell) {
		return canon{text: cell, note: note}
	}
	if c.Pad > len(cell) {
		return canon{text: strings.Repeat("0", c.Pad-len(cell)) + cell, note: "padded"}
	}
	if full := c.numbers.lostZeros(cell); full != "" && c.Pad == 0 {
		return gone("part-zeros", func(n string) bool { return strings.TrimLeft(catalog.Key(n), "0") == strings.TrimLeft(cell, "0") },
			"%s has probably lost its zeros in front and should be %s: correct the cell, or say --set pad=%d if all numbers of this supplier have %d digits", cell, full, len(full), len(full))
	}
	return canon{text: cell, note: note}
}

// namesMonth reports whether the pattern's word is a month as spreadsheets
// write it; all capitals, as in MAR-10, are a part number.
func (v *vocabulary) namesMonth(shape *pattern.Pattern, cell string) bool {
	m := shape.FindStringSubmatch(cell)
	return m != nil && m[1] != strings.ToUpper(m[1]) && v.month(m[1]) != ""
}

// numberShape says which kinds of damage a part number can have at all, so that
// the patterns are only tried on the few that look like it.
type numberShape struct {
	plain, digits, bytes         int // letters and digits; digits; all
	ascii, exponent, date, month bool
}

// serial reports whether the number could be the day number of a spreadsheet.
func (s numberShape) serial() bool { return s.digits == 5 && s.bytes == 5 }

func shapeOf(cell string) numberShape {
	s := numberShape{ascii: true, bytes: len(cell)}
	var letters, small, digits, es, marks int
	for i := range len(cell) {
		switch b := cell[i]; {
		case b >= '0' && b <= '9':
			digits++
		case b >= 'A' && b <= 'Z', b >= 'a' && b <= 'z':
			letters++
			if b == 'E' || b == 'e' {
				es++
			}
			if b >= 'a' {
				small++
			}
		case b == '-' || b == '/' || b == ' ' || b == '.':
			marks++
		case b >= 0x80:
			s.ascii = false
			small++
			letters++
		}
	}
	s.plain, s.digits = letters+digits, digits
	s.exponent = letters == 1 && es == 1
	s.date = letters == 0 && digits >= 6 && marks >= 2
	s.month = letters >= 3 && small > 0 && digits <= 6 && marks >= 1
	if !s.ascii {
		s.plain = digits
	}
	return s
}
