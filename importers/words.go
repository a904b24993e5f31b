package importers

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// wordList says how the words of one field are read.
type wordList struct {
	name   string
	words  map[string][]string
	closed bool
	phrase bool // the cell is a phrase whose main word counts
	ids    []string
}

// borrowed lists are read after a field's own list: a first fill is "factory",
// or else a colour or a chemistry.
var borrowed = map[string][]string{"first_fill": {"colour", "chemistry"}}

// listFor returns the word list of a text field, nil for free text.
func (v *vocabulary) listFor(field string) *wordList {
	words := v.words[field]
	if words == nil {
		return nil
	}
	if more := borrowed[field]; more != nil {
		words = maps.Clone(words)
		for _, list := range more {
			for w, values := range v.words[list] {
				if words[w] == nil && len(values) == 1 {
					words[w] = values
				}
			}
		}
	}
	l := &wordList{name: field, words: words, closed: v.closed[field], phrase: field == "type"}
	for _, values := range words {
		if len(values) == 1 && !slices.Contains(l.ids, values[0]) {
			l.ids = append(l.ids, values[0])
		}
	}
	slices.Sort(l.ids)
	return l
}

// word returns the catalogue's word for the sheet's. A word with several
// meanings holds the row; an unknown one holds it where the list is closed, and
// is kept as written where it is open.
func (v *vocabulary) word(l *wordList, cell string) (string, *problem) {
	values := l.words[wordKey(cell)]
	if values == nil {
		values = l.words[cell]
	}
	if values == nil && l.phrase {
		values = v.mainWord(l, cell)
	}
	switch {
	case len(values) == 1:
		return values[0], nil
	case len(values) > 1:
		return "", &problem{code: "word-unclear", why: fmt.Sprintf("%q could mean %s: write one of them", cell, strings.Join(values, " or "))}
	case l.closed:
		return "", &problem{code: "word-unknown", why: fmt.Sprintf("%q is not a known word here: write one of %s", cell, strings.Join(l.ids, ", "))}
	}
	return cell, nil
}

// mainWord finds the noun of a phrase: "radiator cap" is a cap, "seal for
// thermostat" and "seal, thermostat" are seals, "thermostat with seal" is a
// thermostat.
func (v *vocabulary) mainWord(l *wordList, cell string) []string {
	head, _, _ := strings.Cut(cell, ",")
	head, _, _ = strings.Cut(head, "(")
	tokens := strings.Fields(fold(head))
	for i, t := range tokens {
		if i > 0 && v.words["joint"][t] != nil {
			tokens = tokens[:i]
			break
		}
	}
	for from := range tokens {
		if values := l.words[strings.Join(tokens[from:], " ")]; values != nil {
			return values
		}
	}
	return nil
}
