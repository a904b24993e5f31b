package fit

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/compat"
)

// Tables holds the reference tables that fitting rests on, read and checked.
type Tables struct {
	limits     limits
	rings      *rings
	thinning   thinning
	bands      []band
	grooves    []groove
	elastomers elastomers
	ratings    []stamp
	words      words
	weights    map[string]float64
	bolts      bolts
	clamps     []clampSize
	built      builtWords
	stamps     []stampRange
	workshops  []workshop
	letters    rubberLetters
	hoses      []hoseClass
	saturation []boilingPoint
	saturated  compat.Evidence
}

// NewTables reads the tables fit_* of a reference. Errors name the table, the
// line and what is wrong with it.
func NewTables(ref catalog.Tables) (*Tables, error) {
	t, err := OnDemand(ref)
	if err != nil {
		return nil, err
	}
	if _, err := t.rings.read(); err != nil {
		return nil, fmt.Errorf("reading the fitting tables: %w", err)
	}
	return t, nil
}

// OnDemand is NewTables for a reference that NewTables takes: the lists that most
// questions do not need are read when one is asked that does.
func OnDemand(ref catalog.Tables) (*Tables, error) {
	t := &Tables{}
	for _, read := range []func(catalog.Tables) error{
		func(r catalog.Tables) (err error) { t.limits, err = newLimits(r); return },
		func(r catalog.Tables) (err error) { t.rings, err = newRings(r); return },
		func(r catalog.Tables) (err error) { t.thinning, err = newThinning(r); return },
		func(r catalog.Tables) (err error) { t.bands, err = newBands(r); return },
		func(r catalog.Tables) (err error) { t.grooves, err = newGrooves(r); return },
		func(r catalog.Tables) (err error) { t.elastomers, err = newElastomers(r); return },
		func(r catalog.Tables) (err error) { t.ratings, err = newStamps(r); return },
		func(r catalog.Tables) (err error) { t.words, err = newWords(r); return },
		func(r catalog.Tables) (err error) { t.weights, err = newWeights(r); return },
		func(r catalog.Tables) (err error) { t.workshops, err = newWorkshops(r); return },
		func(r catalog.Tables) (err error) { t.letters, err = newRubberLetters(r); return },
		func(r catalog.Tables) (err error) { t.hoses, err = newHoseClasses(r); return },
		func(r catalog.Tables) (err error) { t.bolts, err = newBolts(r); return },
		func(r catalog.Tables) (err error) { t.built, err = newBuiltWords(r); return },
		func(r catalog.Tables) (err error) { t.stamps, err = newCapStamps(r); return },
		func(r catalog.Tables) (err error) { t.saturation, t.saturated, err = newSaturation(r); return },
		func(r catalog.Tables) (err error) { t.clamps, err = newClamps(r); return },
	} {
		if err := read(ref); err != nil {
			return nil, fmt.Errorf("reading the fitting tables: %w", err)
		}
	}
	return t, nil
}
