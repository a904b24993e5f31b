package words

import (
	"slices"
	"strings"
)

// saidType is a part type with the tokens that said it.
type saidType struct {
	value    string
	from, to int
}

// wanted keeps the types that are asked for: in "a clip for a 47 mm hose" the
// hose is what the clip goes on.
func (t *Table) wanted(list []token, types []saidType, r *Reading) {
	slices.SortFunc(types, func(a, b saidType) int { return a.from - b.from })
	for i, s := range types {
		if i > 0 && types[i-1].value != s.value && goesOn(list[types[i-1].to:s.from]) {
			r.Types = slices.DeleteFunc(slices.Clone(r.Types), func(v string) bool { return v == s.value })
			continue
		}
		r.Types = appendNew(r.Types, s.value)
	}
}

// goesOn reports whether "for" or "on" stands between two parts, and nothing
// but articles and figures beside it.
func goesOn(between []token) bool {
	on := false
	for _, w := range between {
		switch {
		case w.fold == "and" || w.fold == "with" || w.fold == "plus":
			return false
		case w.fold == "for" || w.fold == "on" || w.fold == "onto" || w.fold == "over":
			on = true
		case w.used:
			return false
		}
	}
	return on
}

// meaningful reports whether a phrase is more than filler.
func meaningful(entries []entry) bool {
	return slices.ContainsFunc(entries, func(e entry) bool { return e.kind != "filler" && !strings.HasPrefix(e.kind, "cue-") })
}
