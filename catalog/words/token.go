package words

import (
	"strings"
	"unicode"

	"fitfill/catalog/pattern"
)

// token is one word of a sentence.
type token struct {
	text string // as it was said
	fold string // for comparison
	used bool
}

// shortYear is a year of two digits with its apostrophe.
var shortYear = pattern.New(`^['\x{2019}](\d\d)[.,:]?$`).Needing("'\u2019")

// possessive takes the apostrophe out of "the maker's".
var possessive = strings.NewReplacer("'s", "s", "\u2019s", "s")

// dashed reports whether a word is several words of letters alone that dashes join:
// those are parted, and numbers are not.
func dashed(w string) bool {
	parts, last := 0, '-'
	for _, r := range w {
		switch {
		case r == '-' && last == '-' || r != '-' && !unicode.IsLetter(r):
			return false
		case r != '-' && last == '-':
			parts++
		}
		last = r
	}
	return parts > 1 && last != '-'
}

// split takes a sentence apart. Commas inside a figure stay, and so do dashes
// and slashes next to a digit.
func split(text string) []token {
	var list []token
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("?!;()[]", r) }) {
		if m := shortYear.FindStringSubmatch(w); m != nil {
			list = append(list, token{text: "'" + m[1], fold: "'" + m[1]})
			continue
		}
		w = strings.Trim(w, ".,:'\u2019")
		parts := []string{w}
		if dashed(w) {
			parts = strings.Split(w, "-")
		}
		for _, p := range parts {
			p = possessive.Replace(p)
			if p != "" {
				list = append(list, token{text: p, fold: Fold(p)})
			}
		}
	}
	return list
}

// joined returns the text of the tokens from i to j.
func joined(list []token, i, j int) string {
	var parts []string
	for _, t := range list[i:j] {
		parts = append(parts, t.text)
	}
	return strings.Join(parts, " ")
}

// free reports whether no token from i to j is used.
func free(list []token, i, j int) bool {
	for _, t := range list[i:j] {
		if t.used {
			return false
		}
	}
	return true
}

func use(list []token, i, j int) {
	for k := i; k < j; k++ {
		list[k].used = true
	}
}

// Keys returns the folded stretches of a sentence, up to four words each, that
// a catalogue may know as a name or a number.
func (t *Table) Keys(text string) []string {
	list := split(text)
	seen := map[string]bool{}
	var keys []string
	for i := range list {
		for j := i + 1; j <= min(len(list), i+mostWords); j++ {
			if k := t.Number(joined(list, i, j)); k != "" && !seen[k] {
				seen[k] = true
				keys = append(keys, k)
			}
		}
	}
	return keys
}

func hasDigit(text string) bool { return strings.ContainsAny(text, "0123456789") }

func allDigits(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }
