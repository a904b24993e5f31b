package catalog

import (
	"strings"
	"unicode"
)

// Key folds a part number to what counts in it: upper case, letters and digits
// of any script only. Spaces, dashes, dots and slashes are decoration in most numbering
// schemes; leading zeros are kept, since they may tell two parts apart.
func Key(number string) string {
	var b strings.Builder
	b.Grow(len(number))
	for _, r := range strings.ToUpper(number) {
		if r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r > 127 && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Fold folds a name or a trade text for comparison: lower case, every run of
// anything but letters and digits becomes one space, ends trimmed.
func Fold(text string) string {
	if s, ok := foldASCII(text); ok {
		return s
	}
	return foldAny(text)
}

// foldASCII is Fold for a text of ASCII alone, as most are; one that is folded
// already is returned as it is.
func foldASCII(text string) (string, bool) {
	var room [64]byte
	b := room[:0]
	gap := false
	for i := range len(text) {
		c := text[i]
		switch {
		case c >= 0x80:
			return "", false
		case c >= 'A' && c <= 'Z':
			c += 'a' - 'A'
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
		default:
			gap = true
			continue
		}
		if gap && len(b) > 0 {
			b = append(b, ' ')
		}
		gap = false
		b = append(b, c)
	}
	if string(b) == text {
		return text, true
	}
	return string(b), true
}

func foldAny(text string) string {
	var b strings.Builder
	b.Grow(len(text))
	gap := false
	for _, r := range strings.ToLower(text) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r > 127 && r != '\u00a0':
			if gap && b.Len() > 0 {
				b.WriteByte(' ')
			}
			gap = false
			b.WriteRune(r)
		default:
			gap = true
		}
	}
	return b.String()
}
