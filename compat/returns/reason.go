package returns

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
)

// Reasons is the table that says what a reason for a return comes to.
type Reasons struct{ phrases map[string]reason }

type reason struct {
	class Class
	row   catalog.RefRow
}

var classNames = map[string]Class{
	"quality":         QualityFailure,
	"dead-on-arrival": DeadOnArrival,
	"supply-error":    SupplyError,
	"neutral":         Neutral,
	"core":            Core,
	"not-confirmed":   NotConfirmed,
}

// ClassNames returns the names of the classes that a reason can have, in the
// order of the letters.
func ClassNames() []string { return slices.Sorted(maps.Keys(classNames)) }

// NewReasons reads the table: a phrase and its class in each row. An unknown
// class, an empty phrase or one that stands there twice is an error that names
// the line.
func NewReasons(rows []catalog.RefRow) (Reasons, error) {
	r := Reasons{phrases: map[string]reason{}}
	for _, row := range rows {
		class, ok := classNames[row.Get("class")]
		phrase := catalog.Fold(row.Get("phrase"))
		_, twice := r.phrases[phrase]
		switch {
		case !ok:
			return r, fmt.Errorf("table %s, line %d: %q is no class of returns", row.Table, row.Line, row.Get("class"))
		case phrase == "":
			return r, fmt.Errorf("table %s, line %d: the phrase is empty", row.Table, row.Line)
		case twice && !row.Own.Known():
			return r, fmt.Errorf("table %s, line %d: the phrase %q stands there twice", row.Table, row.Line, phrase)
		}
		r.phrases[phrase] = reason{class, row}
	}
	return r, nil
}

// Class returns what a reason comes to, and the row that says so. The whole
// text counts first, then the longest phrase in it; two longest phrases of
// different classes, or none at all, leave the reason unknown: it is never
// guessed.
func (r Reasons) Class(text string) (Class, catalog.RefRow, bool) {
	folded := catalog.Fold(text)
	if found, ok := r.phrases[folded]; ok {
		return found.class, found.row, true
	}
	var best reason
	longest, split := 0, false
	for phrase, found := range r.phrases {
		if !strings.Contains(" "+folded+" ", " "+phrase+" ") || len(phrase) < longest {
			continue
		}
		split = len(phrase) == longest && (split || found.class != best.class)
		if len(phrase) > longest || found.row.Line < best.row.Line {
			best, longest = found, len(phrase)
		}
	}
	if longest == 0 || split {
		return UnknownReason, catalog.RefRow{}, false
	}
	return best.class, best.row, true
}
