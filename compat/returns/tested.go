package returns

import (
	"fmt"
	"strings"

	"fitfill/catalog"
)

// Tests is the table that reads from a note whether a returned part was tested
// and found sound.
type Tests struct{ phrases map[string][]string } // by role

// The roles of a phrase. "bath" says that there was a test, "good" and "bad"
// what it found.
const (
	testPhrase = "test"
	goodPhrase = "good"
	badPhrase  = "bad"
)

// NewTests reads the table: a phrase and its role in each row. An unknown role
// or an empty phrase is an error that names the line.
func NewTests(rows []catalog.RefRow) (Tests, error) {
	t := Tests{phrases: map[string][]string{}}
	for _, row := range rows {
		role, phrase := row.Get("role"), catalog.Fold(row.Get("phrase"))
		switch {
		case role != testPhrase && role != goodPhrase && role != badPhrase:
			return t, fmt.Errorf("table %s, line %d: %q is no role of a phrase: it is %s, %s or %s", row.Table, row.Line, role, testPhrase, goodPhrase, badPhrase)
		case phrase == "":
			return t, fmt.Errorf("table %s, line %d: the phrase is empty", row.Table, row.Line)
		}
		t.phrases[role] = append(t.phrases[role], phrase)
	}
	return t, nil
}

// FoundSound reports whether a note tells of a test that the part passed: it
// names a test and something good, and nothing bad. Anything less leaves the
// part faulty.
func (t Tests) FoundSound(note string) bool {
	folded := " " + catalog.Fold(note) + " "
	has := func(role string) bool {
		for _, p := range t.phrases[role] {
			if strings.Contains(folded, " "+p+" ") {
				return true
			}
		}
		return false
	}
	return has(testPhrase) && has(goodPhrase) && !has(badPhrase)
}
