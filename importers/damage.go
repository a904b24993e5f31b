package importers

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"fitfill/catalog"
)

var (
	exponent    = regexp.MustCompile(`^[+-]?\d([.,]\d+)?[Ee][+-]\d{1,3}$|^[+-]?\d[.,]\d+[Ee]\d{1,3}$`)
	dayMonth    = regexp.MustCompile(`^\d{1,2}[-. /]{1,2}(\pL{3,})(?:[-. /]\d{2,4})?$`)
	monthYear   = regexp.MustCompile(`^(\pL{3,})[-. /]\d{2,4}$`)
	fullDate    = regexp.MustCompile(`^(\d{1,2}/\d{1,2}/\d{4}|\d{4}-\d{2}-\d{2}( \d{2}:\d{2}(:\d{2})?)?)$`)
	sheetErrors = []string{"#N/A", "#NV", "#REF!", "#DIV/0!", "#VALUE!", "#WERT!", "#NAME?", "#NUM!", "#NULL!", "#BEZUG!", "#SPILL!"}
)

// damaged recognises what spreadsheets leave in any cell: error words, columns
// that were too narrow, formulas, control characters. It returns the text
// behind a ="…" wrapper, which is there to protect zeros (common practice).
func damaged(cell string) (string, *problem) {
	switch cell[0] {
	case '#':
		if strings.Trim(cell, "#") == "" {
			if len(cell) > 1 {
				return "", &problem{code: "sheet-error", why: "the spreadsheet's column was too narrow and wrote " + cell + ": widen it and export again"}
			}
			return cell, nil
		}
		for _, e := range sheetErrors {
			if strings.EqualFold(cell, e) {
				return "", &problem{code: "sheet-error", why: e + " is a spreadsheet's error, not a value: correct the formula and export again"}
			}
		}
	case '=':
		inner, ok := strings.CutPrefix(cell, `="`)
		if inner, end := strings.CutSuffix(inner, `"`); ok && end && !strings.Contains(inner, `"`) {
			return trim(inner), nil
		}
		return "", &problem{code: "formula", why: "the cell holds a formula instead of its value: export the sheet as values"}
	}
	for i := range len(cell) {
		if b := cell[i]; b < ' ' && b != '\n' && b != '\r' && b != '\t' || b == 0x7F {
			return "", &problem{code: "control-char", why: fmt.Sprintf("the cell holds the control character %U: ask for a clean export", rune(b))}
		}
	}
	return cell, nil
}

// partNumber checks a part number, which is text from the first byte to the
// last: nothing in it is changed.
func (v *vocabulary) partNumber(cell string) (string, *problem) {
	gone := func(code, format string, args ...any) (string, *problem) {
		return "", &problem{code: code, why: fmt.Sprintf(format, args...)}
	}
	shape := shapeOf(cell)
	switch {
	case shape.exponent && exponent.MatchString(cell):
		return gone("part-exponent", "%s is what a spreadsheet makes of a long number; its last digits are gone: ask the supplier for an export with this column as text", cell)
	case shape.date && fullDate.MatchString(cell), shape.month && (v.namesMonth(dayMonth, cell) || v.namesMonth(monthYear, cell)):
		return gone("part-date", "%s is what a spreadsheet makes of a number such as 3-10: ask the supplier for an export with this column as text", cell)
	case shape.plain == 0 && catalog.Key(cell) == "":
		return gone("part-number", "%q has no letter and no digit: write the part's number", cell)
	}
	if shape.ascii {
		return cell, nil
	}
	for _, r := range cell {
		if unicode.Is(unicode.Cyrillic, r) || unicode.Is(unicode.Greek, r) {
			return gone("part-lookalike", "the number holds the letter %q, which only looks like a Latin one: type the number again", r)
		}
	}
	return cell, nil
}

// namesMonth reports whether the pattern's word is a month as spreadsheets
// write it; all capitals, as in MAR-10, are a part number.
func (v *vocabulary) namesMonth(pattern *regexp.Regexp, cell string) bool {
	m := pattern.FindStringSubmatch(cell)
	return m != nil && m[1] != strings.ToUpper(m[1]) && v.month(m[1]) != ""
}

// numberShape says which kinds of damage a part number can have at all, so that
// the patterns are only tried on the few that look like it.
type numberShape struct {
	plain                        int // letters and digits
	ascii, exponent, date, month bool
}

func shapeOf(cell string) numberShape {
	s := numberShape{ascii: true}
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
	s.plain = letters + digits
	s.exponent = letters == 1 && es == 1
	s.date = letters == 0 && digits >= 6 && marks >= 2
	s.month = letters >= 3 && small > 0 && digits <= 6 && marks >= 1
	if !s.ascii {
		s.plain = digits
	}
	return s
}
