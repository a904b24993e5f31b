package app

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Plural writes a number with its noun: "1 row", "2 rows".
func Plural(n int, one, many string) string {
	if n == 1 {
		return fmt.Sprintf("%d %s", n, one)
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Capital writes the first letter of a text as a capital.
func Capital(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return strings.ToUpper(string(r)) + text[n:]
}
