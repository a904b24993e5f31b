package coolant

import (
	"slices"

	"fitfill/catalog"
	"fitfill/compat"
)

const checkCondition = "look of the fill"

// condition is what a look at the fill says.
type condition struct {
	name    string
	also    []string // other words for it
	outcome compat.Outcome
	says    string
	getHome bool // water may go on top to get home
	row     catalog.RefRow
}

func (t *Tables) loadConditions(rows []catalog.RefRow) error {
	t.conditions = map[string]condition{}
	for _, r := range rows {
		c := condition{name: r.Get("condition"), also: words(r, "also"), says: r.Get("says"), row: r}
		if err := c.outcome.UnmarshalText([]byte(r.Get("outcome"))); err != nil {
			return unreadable(r, "outcome", "is not an outcome")
		}
		var err error
		if c.getHome, err = yesNo(r, "get_home"); err != nil {
			return err
		}
		t.conditions[c.name] = c
	}
	for _, c := range t.colours {
		if _, ok := t.conditions[c.condition]; c.condition != "" && !ok {
			return unreadable(c.row, "condition", "is not in coolant_conditions")
		}
	}
	return nil
}

// Conditions returns the words for the look of a fill.
func (t *Tables) Conditions() []string {
	list := make([]string, 0, len(t.conditions))
	for name := range t.conditions {
		list = append(list, name)
	}
	slices.Sort(list)
	return list
}

// Condition returns the name of a look by that name or another word for it.
func (t *Tables) Condition(word string) (string, bool) {
	word = catalog.Fold(word)
	for name, c := range t.conditions {
		if word == name || slices.Contains(c.also, word) {
			return name, true
		}
	}
	return "", false
}

// look returns the condition of the fill: as seen, or as its colour tells.
func (s *situation) look() (condition, bool) {
	c, ok := s.t.conditions[s.q.Condition]
	if seen := s.t.colourOf(s.q.Fill.ByColour); seen != nil && seen.condition != "" {
		if by := s.t.conditions[seen.condition]; !ok || by.outcome.Worse(c.outcome) {
			return by, true
		}
	}
	return c, ok
}

func (s *situation) lookFinding() {
	c, ok := s.look()
	if !ok {
		s.note(compat.NotChecked(checkCondition, "the look of what is in the engine", "Look at it: clear, hazy, rusty, oily or gel."))
		return
	}
	s.note(compat.Finding{Check: checkCondition, Outcome: c.outcome, Grade: compat.CommonPractice, Says: c.says, Origin: []compat.Evidence{compat.Cite(c.row)}})
}
