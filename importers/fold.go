package importers

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

func countFilled(cells []string) int {
	n := 0
	for _, c := range cells {
		if trim(c) != "" {
			n++
		}
	}
	return n
}

func trimAll(cells []string) []string {
	for i, c := range cells {
		cells[i] = norm.NFC.String(strings.Join(strings.Fields(trim(c)), " "))
	}
	return cells
}

// trim takes off outer white space, also the no-break, narrow and invisible
// spaces that spreadsheets and web pages leave behind.
func trim(s string) string {
	if s == "" || s[0] > ' ' && s[0] < 0x7F && s[len(s)-1] > ' ' && s[len(s)-1] < 0x7F {
		return s
	}
	return strings.TrimFunc(s, func(r rune) bool {
		return unicode.IsSpace(r) || r == 0x1A || r == '\u200b' || r == '\u200c' || r == '\u200d' || r == '\ufeff' || r == '\u2060'
	})
}

// fold makes words comparable: small letters without accents, ß as ss, # as
// "no", everything but letters and digits one space.
func fold(s string) string {
	var b strings.Builder
	b.Grow(len(s))
	gap := false
	for _, r := range norm.NFKD.String(s) {
		switch {
		case unicode.Is(unicode.Mn, r):
			continue
		case r == '#':
			b.WriteString(" no")
			gap = true
			continue
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			gap = true
			continue
		}
		if gap && b.Len() > 0 {
			b.WriteByte(' ')
		}
		gap = false
		switch r = unicode.ToLower(r); r {
		case 'ß':
			b.WriteString("ss")
		case 'ø':
			b.WriteByte('o')
		case 'ł':
			b.WriteByte('l')
		case 'æ':
			b.WriteString("ae")
		default:
			b.WriteRune(r)
		}
	}
	return strings.TrimSpace(b.String())
}
