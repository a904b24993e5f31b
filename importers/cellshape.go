package importers

import (
	"strings"
	"unicode"
)

// looksLikeValue reports whether a cell looks like one value: nothing, a
// number, an amount, a date, a code, a value with its unit, plain words. A cell
// that contains a tab or a bar, a comma or semicolon without a space behind it
// and outside a number, or half a pair of quotes, is more likely two cells.
func looksLikeValue(cell string) bool {
	cell = trim(cell)
	if rest, ok := strings.CutPrefix(cell, `="`); ok && strings.HasSuffix(rest, `"`) {
		cell = rest[:len(rest)-1]
	}
	if cell == "" {
		return true
	}
	runes := []rune(shorten(cell, 400))
	if first := runes[0]; first == '"' || first == '\'' || first == ',' || first == ';' {
		return false
	}
	for i, r := range runes {
		var before, after rune
		if i > 0 {
			before = runes[i-1]
		}
		if i+1 < len(runes) {
			after = runes[i+1]
		}
		switch r {
		case '\t', '|':
			return false
		case ',':
			if after != ' ' && after != '\n' && !(unicode.IsDigit(before) && unicode.IsDigit(after)) {
				return false
			}
		case ';':
			if after != ' ' && after != '\n' {
				return false
			}
		case '"', '\'':
			if after == 0 && !unicode.IsDigit(before) && before != ')' && before != '/' {
				return false
			}
		}
	}
	return true
}

// isText reports whether a cell is words: a letter and no digit.
func isText(cell string) bool {
	letter := false
	for _, r := range cell {
		if unicode.IsDigit(r) {
			return false
		}
		letter = letter || unicode.IsLetter(r)
	}
	return letter
}

// isNumber reports whether a cell is nothing but a number.
func isNumber(cell string) bool {
	cell = trim(cell)
	n, rest := nextNumber(cell)
	return n != "" && rest == "" && n == cell
}

// isCode reports whether a cell looks like a part number: digits, perhaps with
// letters, without a space.
func isCode(cell string) bool {
	cell = trim(cell)
	return cell != "" && len(cell) <= 40 && hasDigit(cell) && !strings.ContainsAny(cell, " \t")
}
