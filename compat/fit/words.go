package fit

import (
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

// words are the words of notes that the tables know, by kind: harmless,
// exclusion, limiting, qualifier, fuel, filler, over_seal, place.
type words struct {
	kinds  map[string][][]string // phrases, the longest first
	places map[string]string     // the name of the place that a word means
	apart  [][]string            // names of places of which a part has one
	origin compat.Evidence
}

func newWords(ref catalog.Tables) (words, error) {
	rows, err := ref.Table("fit_note_words")
	if err != nil {
		return words{}, err
	}
	w := words{kinds: map[string][][]string{}, places: map[string]string{}}
	for _, row := range rows {
		kind, alike := row.Get("kind"), strings.Split(row.Get("words"), "|")
		if kind == "apart" {
			w.apart = append(w.apart, alike)
			continue
		}
		for _, a := range alike {
			w.kinds[kind] = append(w.kinds[kind], strings.Fields(catalog.Fold(a)))
			if kind == "place" {
				w.places[catalog.Fold(a)] = alike[0]
			}
		}
		w.origin = compat.Cite(row)
	}
	for _, phrases := range w.kinds {
		slices.SortStableFunc(phrases, func(a, b []string) int { return len(b) - len(a) })
	}
	return w, nil
}

// find returns where the first phrase of a kind stands in the tokens.
func (w words) find(kind string, tokens []string) (at, length int, found bool) {
	for i := range tokens {
		for _, p := range w.kinds[kind] {
			if i+len(p) <= len(tokens) && slices.Equal(tokens[i:i+len(p)], p) {
				return i, len(p), true
			}
		}
	}
	return 0, 0, false
}

// strip removes every phrase of the kinds from the tokens.
func (w words) strip(tokens []string, kinds ...string) []string {
	tokens = slices.Clone(tokens)
	for _, k := range kinds {
		for {
			at, n, ok := w.find(k, tokens)
			if !ok {
				break
			}
			tokens = slices.Delete(tokens, at, at+n)
		}
	}
	return tokens
}
