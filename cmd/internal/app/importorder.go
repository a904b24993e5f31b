package app

import (
	"cmp"
	"slices"
)

// The codes of the questions that an import asks beside those of the importers.
const (
	askWhichSheet    = "which-sheet"
	askKnownSupplier = "known-supplier"
	askNewSupplier   = "new-supplier"
	askWhoseSheet    = "whose-sheet"
	askPlace         = "place"
	askCheck         = "check"
)

// firstThings are the codes of questions in the order in which they are asked: an
// answer to an early one often settles the later ones. What is not named comes
// between.
var firstThings = []string{
	askWhichSheet, "setting", "no-kind", askWhoseSheet, askKnownSupplier,
	"encoding", "twice-encoded", "separator", "quotes", "no-heading", "heading-rows", "tail",
	"no-field", "no-column", "lost-zeros", "swapped-columns", "required", "missing-column", "double", "column",
}

var lastThings = []string{gateHeld, askPlace, gateFewer, "missing-parts", "prices", "chemistry", "fit", askNewSupplier, askCheck}

// inOrder puts the questions first whose answers decide most.
func inOrder(open []OpenQuestion) {
	rank := func(code string) int {
		if i := slices.Index(firstThings, code); i >= 0 {
			return i
		}
		if i := slices.Index(lastThings, code); i >= 0 {
			return len(firstThings) + 1 + i
		}
		return len(firstThings)
	}
	slices.SortStableFunc(open, func(a, b OpenQuestion) int { return cmp.Compare(rank(a.Code), rank(b.Code)) })
}
