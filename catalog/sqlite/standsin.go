package sqlite

import (
	"bytes"
	"strings"
	"unicode/utf8"
)

// StandsIn reports whether a held row begins with a line of the kept sheet. A
// row may go over several lines, a very long one is kept cut, a byte order mark
// belongs to no row, and bytes that are no letters in the encoding of the file
// are kept as the letters that they may be meant as; for a line with such
// bytes, plain letters and figures are compared.
func StandsIn(row, line string) bool {
	line = strings.TrimPrefix(line, "\uFEFF")
	if line == "" || row == "" {
		return false
	}
	if !utf8.ValidString(line) {
		row, line = plainOf(row), plainOf(line)
	}
	return strings.HasPrefix(row, line) || strings.HasPrefix(line, row)
}

func plainOf(text string) string {
	return strings.Map(func(r rune) rune {
		if r < utf8.RuneSelf {
			return r
		}
		return -1
	}, text)
}

// endOfLine returns where the first line of text ends.
func endOfLine(text []byte) int {
	if end := bytes.IndexAny(text, "\r\n"); end >= 0 {
		return end
	}
	return len(text)
}
