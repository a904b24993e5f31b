package words

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"fitfill/catalog"
)

// Number folds a part number as it was typed or scanned to its strict key:
// compatibility forms made plain, letters of other alphabets that print like
// Latin ones made Latin, then catalog.Key. The dress that spreadsheets put
// round a number (="...", a leading apostrophe, quotes) is taken off.
func (t *Table) Number(text string) string {
	text = strings.Map(func(r rune) rune {
		if l, ok := t.latin[r]; ok {
			return l
		}
		if unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, norm.NFKC.String(text))
	text = strings.Trim(strings.TrimPrefix(strings.TrimSpace(text), "="), `"' `)
	return catalog.Key(text)
}

// WithoutZeros is the second key of a number: the strict key less its leading
// zeros, which spreadsheets eat. Two numbers that agree in it alone may be two
// parts, so it only ever suggests.
func WithoutZeros(key string) string {
	if short := strings.TrimLeft(key, "0"); short != "" {
		return short
	}
	return key
}

// alike are the characters that are read for one another, each set under the
// one that stands for it. They only ever suggest.
var alike = []string{"0OQ", "1IL", "5S", "8B", "2Z", "6G"}

// LookAlike is the third key of a number: characters that look alike made one.
func LookAlike(key string) string {
	return strings.Map(func(r rune) rune {
		for _, set := range alike {
			if strings.ContainsRune(set, r) {
				return rune(set[0])
			}
		}
		return r
	}, key)
}

// mostVariants bounds how many spellings of a number are tried.
const mostVariants = 512

// Variants returns the strict keys that a number may have been meant to be:
// zeros lost or added in front, look-alikes exchanged, two neighbours swapped.
// The key itself is not among them.
func Variants(key string) []string {
	seen := map[string]bool{key: true}
	var list []string
	add := func(v string) (more bool) {
		if !seen[v] && len(list) < mostVariants {
			seen[v] = true
			list = append(list, v)
		}
		return len(list) < mostVariants
	}
	add(WithoutZeros(key))
	for _, zeros := range []string{"0", "00", "000"} {
		add(zeros + key)
	}
	for i := range len(key) - 1 {
		b := []byte(key)
		b[i], b[i+1] = b[i+1], b[i]
		add(string(b))
	}
	spell(key, 0, add)
	return list
}

// spell hands out every spelling of key from position i on, until add has
// enough.
func spell(key string, i int, add func(string) bool) bool {
	if i == len(key) {
		return add(key)
	}
	if !spell(key, i+1, add) {
		return false
	}
	for _, set := range alike {
		if strings.IndexByte(set, key[i]) < 0 {
			continue
		}
		for j := range len(set) {
			if set[j] != key[i] && !spell(key[:i]+set[j:j+1]+key[i+1:], i+1, add) {
				return false
			}
		}
	}
	return true
}
