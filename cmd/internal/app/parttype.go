package app

import (
	"context"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
)

// partType returns the part type that a word of the trade means ("o-ring" is a
// seal), as the sheets' own words are read. A word that neither the table nor
// any part in the catalogue knows is a UsageError with the nearest known one.
func (s *Shop) partType(ctx context.Context, v *sqlite.View, word string) (string, error) {
	if word == "" {
		return "", nil
	}
	folded := catalog.Fold(word)
	rows, err := s.ref.Table("import_words")
	if err != nil {
		return "", err
	}
	var names []string
	for _, r := range rows {
		if r.Get("field") != "type" || r.Get("word") == "*" {
			continue
		}
		names = append(names, r.Get("value"))
		for _, w := range append(strings.Split(r.Get("word"), "|"), r.Get("value")) {
			if catalog.Fold(w) == folded {
				return r.Get("value"), nil
			}
		}
	}
	known, err := v.PartTypes(ctx)
	if err != nil {
		return "", err
	}
	for _, k := range known {
		if catalog.Fold(k) == folded {
			return k, nil
		}
	}
	said, err := s.words() // what a counter says: "bottom rad hose"
	if err != nil {
		return "", err
	}
	if r := said.Read(word, nil); len(r.Types) == 1 && len(r.Words) == 0 {
		return r.Types[0], nil
	}
	slices.Sort(names)
	return "", &UsageError{Problem: "no part is of the type " + word, Hint: nearestHint(word, append(names, known...), "the types are "+strings.Join(slices.Compact(names), ", "))}
}
