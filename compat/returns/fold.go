package returns

import (
	"slices"
	"strings"

	"fitfill/catalog"
)

// partKey folds a part number. A number with letters beyond the Latin alphabet
// keeps them, since dropping them could make two parts one.
func partKey(number string) string {
	k := catalog.Key(number)
	beyond := strings.ContainsFunc(number, func(r rune) bool { return r > 127 && r != '\u00a0' })
	if k == "" || beyond {
		return catalog.Fold(number)
	}
	return k
}

// isCore reports whether a part type stands for a core or a deposit. A core
// plug or a heater core is a part like any other.
func isCore(partType string) bool {
	switch catalog.Fold(partType) {
	case "core", "cores", "deposit", "core deposit", "core charge":
		return true
	}
	return false
}

// spellings finds the one spelling that stands for all that fold alike: the
// first by byte order, whatever order the rows came in.
type spellings map[string]string

func (s spellings) add(key, text string) {
	if have, ok := s[key]; !ok || text < have {
		s[key] = text
	}
}

// names returns the keys and their spellings in the order of the keys.
func (s spellings) names() (index map[string]int, names []string) {
	keys := make([]string, 0, len(s))
	for k := range s {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	index = make(map[string]int, len(keys))
	for i, k := range keys {
		index[k] = i
		names = append(names, s[k])
	}
	return index, names
}
