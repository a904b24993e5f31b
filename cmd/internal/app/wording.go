package app

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"fitfill/compat"
)

// Marks are a mark of shape for each outcome. It stands before the words of a
// verdict, so that a list can be scanned without colour.
var Marks = map[compat.Outcome]string{compat.Yes: "+", compat.Caution: "!", compat.No: "x", compat.CannotSay: "?"}

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
