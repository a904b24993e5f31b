package coolant

import (
	"slices"

	"fitfill/catalog"
)

// What a fluid may be said to be besides its chemistry, colour or number.
const (
	SaidFactory = "factory" // the first fill, never opened
	SaidWater   = waterID
	SaidHouse   = "house" // the coolant that the shop keeps in drums
	SaidUnknown = unknownID
)

func (t *Tables) loadSaid(rows []catalog.RefRow) error {
	t.said = map[string]string{}
	for _, r := range rows {
		means := r.Get("means")
		if !slices.Contains([]string{SaidFactory, SaidWater, SaidHouse, SaidUnknown}, means) {
			return unreadable(r, "means", "must be factory, water, house or unknown")
		}
		t.said[catalog.Fold(means)] = means
		for _, w := range words(r, "words") {
			t.said[catalog.Fold(w)] = means
		}
	}
	return nil
}

// Said returns what people mean by what they call a fluid: SaidFactory,
// SaidWater, SaidHouse or SaidUnknown; false where it is none of these.
func (t *Tables) Said(text string) (means string, ok bool) {
	means, ok = t.said[catalog.Fold(text)]
	return means, ok
}
