package fit

import (
	"slices"
	"strings"

	"fitfill/catalog"
)

// Places returns the names of the places that a text speaks of, in the order of
// the alphabet: upper for "RAD HOSE TOP" and for "Schlauch oben" (words of the
// kind "place" of the table fit_note_words).
func (t *Tables) Places(text string) []string {
	var places []string
	tokens := strings.Fields(catalog.Fold(text))
	for {
		at, n, ok := t.words.find("place", tokens)
		if !ok {
			break
		}
		places = append(places, t.words.places[strings.Join(tokens[at:at+n], " ")])
		tokens = tokens[at+n:]
	}
	slices.Sort(places)
	return slices.Compact(places)
}

// Elsewhere reports whether a part, by its own words, is for another place than
// the one asked for: an upper hose where the lower was asked. A part that says
// nothing of its place, or only what does not exclude the one asked for, is not.
func (t *Tables) Elsewhere(p *catalog.Part, asked []string) bool {
	if len(asked) == 0 {
		return false
	}
	mine := t.Places(p.Description.Value)
	for _, group := range t.words.apart {
		in := func(name string) bool { return slices.Contains(group, name) }
		if slices.ContainsFunc(asked, in) && slices.ContainsFunc(mine, in) &&
			!slices.ContainsFunc(mine, func(name string) bool { return in(name) && slices.Contains(asked, name) }) {
			return true
		}
	}
	return false
}

// Place is what a part's own words say of where it sits, and its kind of seal.
// Parts of different places are not compared with each other.
func (t *Tables) Place(p *catalog.Part) string {
	return strings.Join(append(t.Places(p.Description.Value), partSealKind(p)), " ")
}
