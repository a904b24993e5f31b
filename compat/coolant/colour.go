package coolant

import (
	"slices"
	"strings"

	"fitfill/catalog"
)

// colour is what is usually sold in a colour, the likeliest first. It says
// what to think of first; it never rules anything out.
type colour struct {
	names     []string
	usual     []int
	condition string // what a fill of that colour has come to, "" if nothing
	row       catalog.RefRow
}

func (t *Tables) loadColours(rows []catalog.RefRow) error {
	for _, r := range rows {
		usual, err := t.ids(r, "candidates")
		if err != nil {
			return err
		}
		c := colour{append([]string{catalog.Fold(r.Get("colour"))}, words(r, "also")...), usual, r.Get("condition"), r}
		t.colours = append(t.colours, c)
	}
	return nil
}

// colourOf finds the colour of a word, nil where it is not on file.
func (t *Tables) colourOf(word string) *colour {
	word = strings.ReplaceAll(catalog.Fold(word), " ", "-")
	for i := range t.colours {
		for _, n := range t.colours[i].names {
			if word != "" && word == strings.ReplaceAll(n, " ", "-") {
				return &t.colours[i]
			}
		}
	}
	return nil
}

// Colours returns the colour words on file.
func (t *Tables) Colours() []string {
	var list []string
	for _, c := range t.colours {
		list = append(list, c.names...)
	}
	return list
}

// byColour returns every family a fluid of that colour may be: the usual ones
// first, then all the others. In an engine only engine families are looked
// for; a bottle without a label may hold anything but water.
func (t *Tables) byColour(word string, bottle bool) []int {
	var list, usual []int
	if c := t.colourOf(word); c != nil {
		usual = c.usual
		list = slices.Clone(usual)
	}
	for _, i := range t.everyFluid(bottle) {
		if !slices.Contains(list, i) {
			list = append(list, i)
		}
	}
	return slices.DeleteFunc(list, func(i int) bool {
		f := &t.families[i]
		// Waterless coolant is made for engines, but rare: only a colour that it
		// is sold in brings it to mind.
		found := f.engine || bottle || f.id == waterlessID && slices.Contains(usual, i)
		return !found || f.id == waterID
	})
}

// everyFluid is what a fluid may be of which nothing is known.
func (t *Tables) everyFluid(bottle bool) []int {
	var list []int
	for i, f := range t.families {
		if f.engine || bottle && f.id != waterID {
			list = append(list, i)
		}
	}
	return list
}
