package importers

import (
	"strconv"
	"strings"
	"unicode"
)

// looksNumbered returns 1 where nothing speaks against a column of part numbers
// under its heading, and less where its values are the names of goods or the count
// of the lines: "Product" and "No." are headings of those as well.
func (s *valueShape) looksNumbered() float64 {
	if s.countsLines() {
		return 0
	}
	names := 0
	for _, t := range s.texts {
		if isName(t) {
			names++
		}
	}
	return 1 - share(names, len(s.texts))
}

// isName recognises the name of an article: two words of three letters or more, as
// no part number has them.
func isName(text string) bool {
	words := 0
	for w := range strings.FieldsSeq(text) {
		letters := 0
		for _, r := range w {
			if unicode.IsLetter(r) {
				letters++
			} else if unicode.IsDigit(r) {
				letters = 0
				break
			}
		}
		if letters > 2 {
			words++
		}
	}
	return words > 1
}

// countsLines reports whether the values are 1, 2, 3 … in the order of the rows.
func (s *valueShape) countsLines() bool {
	for i, t := range s.texts {
		n, err := strconv.Atoi(strings.TrimSuffix(t, "."))
		if err != nil || n != (i+1)*s.step {
			return false
		}
	}
	return len(s.texts) > 2
}
