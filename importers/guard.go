package importers

import "strings"

// triggers are the characters that make a spreadsheet take a cell for a formula,
// or cut it, when they stand first (OWASP, CSV Injection; ASVS 1.2.10 adds NUL).
const triggers = "=+-@\t\r\n\x00"

// Guard makes a text safe to open in a spreadsheet: an apostrophe goes in front
// of a text that starts with a character that begins a formula, and in front of
// one that starts with an apostrophe, so that Unguard gives back every text as
// it was. Only text cells are guarded; a number written as a canonical number,
// −12.50 say, is harmless as it stands.
func Guard(text string) string {
	if text != "" && (text[0] == '\'' || strings.IndexByte(triggers, text[0]) >= 0) {
		return "'" + text
	}
	return text
}

// Unguard takes one apostrophe off a text that Guard has put it on:
// Unguard(Guard(x)) = x for every x. It is meant for sheets that this program
// wrote itself, never for a supplier's.
func Unguard(text string) string {
	if len(text) > 1 && text[0] == '\'' && (text[1] == '\'' || strings.IndexByte(triggers, text[1]) >= 0) {
		return text[1:]
	}
	return text
}
