package app

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
)

// ChangeReport is what a sheet changes against the one that it replaces.
type ChangeReport struct {
	Fields     map[string]int       `json:"fields"` // parts that change each field
	Changes    []sqlite.FieldChange `json:"changes"`
	Withdrawn  []string             `json:"withdrawn"`
	Prices     *PriceReport         `json:"prices"`
	Superseded []string             `json:"superseded"` // chains, oldest number first
	Loops      []string             `json:"loops"`      // chains that bite their own tail
}

// PriceReport sums up the price moves: ratios of new price by old price.
type PriceReport struct {
	Parts  int      `json:"parts"`
	Median float64  `json:"median_ratio"`
	Low    float64  `json:"lower_quartile"`
	High   float64  `json:"upper_quartile"`
	Up     []string `json:"up"`   // the largest rises
	Down   []string `json:"down"` // the largest falls
}

// movesShown is how many of the largest price moves a report names each way.
const movesShown = 20

func newChangeReport(c sqlite.Compared, refs []supersession) *ChangeReport {
	r := &ChangeReport{Fields: c.Fields, Changes: c.Changes, Withdrawn: c.Withdrawn, Prices: priceReport(c.Prices)}
	r.Superseded, r.Loops = chains(refs)
	return r
}

func priceReport(moves []sqlite.PriceMove) *PriceReport {
	moves = slices.DeleteFunc(slices.Clone(moves), func(m sqlite.PriceMove) bool { return m.Old <= 0 || m.New <= 0 })
	if len(moves) == 0 {
		return nil
	}
	ratio := func(m sqlite.PriceMove) float64 { return float64(m.New) / float64(m.Old) }
	slices.SortFunc(moves, func(a, b sqlite.PriceMove) int {
		return cmp.Or(cmp.Compare(ratio(a), ratio(b)), cmp.Compare(a.Number, b.Number))
	})
	at := func(share float64) float64 { return round(ratio(moves[int(share*float64(len(moves)-1))]), 4) }
	p := &PriceReport{Parts: len(moves), Median: at(0.5), Low: at(0.25), High: at(0.75), Up: []string{}, Down: []string{}}
	say := func(m sqlite.PriceMove) string {
		return fmt.Sprintf("%s: %.2f to %.2f (line %d)", m.Number, float64(m.Old)/1e4, float64(m.New)/1e4, m.Line)
	}
	for i := range min(movesShown, len(moves)) {
		if m := moves[len(moves)-1-i]; ratio(m) > 1 {
			p.Up = append(p.Up, say(m))
		}
		if m := moves[i]; ratio(m) < 1 {
			p.Down = append(p.Down, say(m))
		}
	}
	return p
}

// supersession says that one number took the place of another.
type supersession struct{ old, new string }

// supersessionsOf collects what a row says about numbers that replace others.
func supersessionsOf(row *catalog.PartRow) []supersession {
	var list []supersession
	pair := func(old, newer string) { // cells are pieces of the sheet's pages
		list = append(list, supersession{strings.Clone(old), strings.Clone(newer)})
	}
	for _, x := range row.CrossRefs {
		switch x.Relation {
		case catalog.Replaces:
			pair(x.OtherNumber, row.Number)
		case catalog.ReplacedBy:
			pair(row.Number, x.OtherNumber)
		}
	}
	return list
}

// chains follows supersessions from the oldest number to the newest. A chain
// that comes back to a number it has passed is a loop, which no sheet can mean.
func chains(refs []supersession) (whole, loops []string) {
	next, name, newer := map[string][]string{}, map[string]string{}, map[string]bool{}
	for _, r := range refs {
		from, to := catalog.Key(r.old), catalog.Key(r.new)
		if from == "" || to == "" {
			continue
		}
		name[from], name[to] = r.old, r.new
		if !slices.Contains(next[from], to) {
			next[from] = append(next[from], to)
		}
		newer[to] = true
	}
	var keys []string
	for k := range next {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	say := func(path []string) string {
		words := make([]string, len(path))
		for i, k := range path {
			words[i] = name[k]
		}
		return strings.Join(words, " -> ")
	}
	passed := map[string]bool{}
	var follow func(path []string)
	follow = func(path []string) {
		last := path[len(path)-1]
		passed[last] = true
		if i := slices.Index(path[:len(path)-1], last); i >= 0 {
			loops = append(loops, say(path[i:]))
			return
		}
		if len(next[last]) == 0 {
			whole = append(whole, say(path))
			return
		}
		for _, to := range next[last] {
			follow(append(slices.Clone(path), to))
		}
	}
	for _, k := range keys {
		if !newer[k] {
			follow([]string{k})
		}
	}
	for _, k := range keys { // what no chain reached goes round in a circle
		if !passed[k] {
			follow([]string{k})
		}
	}
	return whole, loops
}
