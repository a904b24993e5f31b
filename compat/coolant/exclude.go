package coolant

import (
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

const checkExcluded = "excluded by the maker"

// exclude checks what the engine's maker rules out (2-EHA, nitrite, amine, a
// chemistry) against the label and the family of the bottle.
func (s *situation) exclude() {
	if s.loop == nil || !s.loop.Excluded.Known || s.t.is(&s.add, waterID) {
		return
	}
	for _, item := range strings.FieldsFunc(s.loop.Excluded.Value, func(r rune) bool { return strings.ContainsRune(";|,\n", r) }) {
		item = strings.TrimSpace(item)
		if item == "" {
			continue
		}
		origin := cite(s.loop.Excluded.Origin)
		if list := s.t.splitIDs(item); len(list) > 0 {
			s.excludeFamilies(item, list, origin)
			continue
		}
		list := s.t.speciesIn(catalog.Fold(item))
		if len(list) == 0 {
			s.note(compat.NotChecked(checkExcluded, "what "+item+" means", "The maker excludes "+item+": read the label for it."))
		}
		for _, what := range list {
			s.excludeSpecies(item, what, origin)
		}
	}
}

func (s *situation) excludeFamilies(item string, list []int, origin []compat.Evidence) {
	f := compat.Finding{Check: checkExcluded, Outcome: compat.Yes, Grade: compat.CommonPractice, Origin: origin,
		Says: "The maker excludes " + item + "; the bottle is not that."}
	if slices.ContainsFunc(s.add.may, func(i int) bool { return slices.Contains(list, i) }) {
		f.Outcome, f.Says = compat.Caution, "The maker excludes "+s.t.names(list, "and")+", and that may be in the bottle."
	}
	s.note(f)
}

func (s *situation) excludeSpecies(item, what string, origin []compat.Evidence) {
	f := compat.Finding{Check: checkExcluded, Outcome: compat.Yes, Grade: compat.Label, Origin: origin}
	has := func(want sign) bool {
		return slices.ContainsFunc(s.add.may, func(i int) bool { return s.t.families[i].holds[what] == want })
	}
	switch {
	case slices.Contains(s.add.contains, what):
		f.Outcome, f.Says = compat.Caution, "The maker excludes "+item+", and the label says it is in the bottle."
	case slices.Contains(s.add.free, what):
		f.Says = "The maker excludes " + item + "; the label says there is none in the bottle."
	case has(plus):
		f.Outcome, f.Grade = compat.Caution, compat.CommonPractice
		f.Says = "The maker excludes " + item + ", which coolants of this kind hold."
	case has(either) || has(unsaid):
		f = compat.NotChecked(checkExcluded, "whether there is "+item+" in the bottle", "The maker excludes "+item+": read the label for it.")
	default:
		f.Grade = compat.CommonPractice
		f.Says = "The maker excludes " + item + "; coolants of this kind hold none."
	}
	s.note(f)
}
