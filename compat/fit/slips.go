package fit

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"fitfill/catalog"
	"fitfill/compat"
)

// Slip is a spelling that some suppliers share although others write the same
// name without the slip of the pen: their lists are copies of one list.
type Slip struct {
	Written, Meant string
	Suppliers      []string // who carries the slip, by name
	Origins        []catalog.Origin
}

// Listing is one line of a list with the supplier whose part it is about.
type Listing struct {
	Supplier string
	*catalog.Fitment
}

// Slips finds the slips in listings of one engine. A slip is a model that at
// least two suppliers write with one letter more, fewer or two letters swapped,
// where more others write it otherwise and none writes both.
func Slips(list []Listing) []Slip {
	type spelled struct {
		text      string
		suppliers []string
		origins   []catalog.Origin
	}
	byMake := map[string][]*spelled{}
	for _, l := range list {
		if l.Model == "" {
			continue
		}
		mk := catalog.Fold(l.Make)
		i := slices.IndexFunc(byMake[mk], func(s *spelled) bool { return s.text == l.Model })
		if i < 0 {
			i = len(byMake[mk])
			byMake[mk] = append(byMake[mk], &spelled{text: l.Model})
		}
		s := byMake[mk][i]
		s.suppliers = addOnce(s.suppliers, l.Supplier)
		s.origins = append(s.origins, l.Origin)
	}
	var out []Slip
	for _, models := range byMake {
		for _, s := range models {
			if len(s.suppliers) < 2 {
				continue
			}
			for _, right := range models {
				if len(right.suppliers) <= len(s.suppliers) || right == s || !slipOf(s.text, right.text) ||
					slices.ContainsFunc(s.suppliers, func(n string) bool { return slices.Contains(right.suppliers, n) }) {
					continue
				}
				slices.Sort(s.suppliers)
				slices.SortStableFunc(s.origins, byOrigin)
				out = append(out, Slip{s.text, right.text, s.suppliers, s.origins})
				break
			}
		}
	}
	slices.SortFunc(out, func(a, b Slip) int { return strings.Compare(a.Written, b.Written) })
	return out
}

// shortestSlip is the length of a name below which a letter more or fewer makes
// another name rather than a slip.
const shortestSlip = 5

// slipOf reports whether a text is another with one letter more or fewer, or with
// two neighbours swapped. Digits tell models apart and are never slips.
func slipOf(a, b string) bool {
	x, y := []rune(catalog.Fold(a)), []rune(catalog.Fold(b))
	if len(x) < shortestSlip || len(y) < shortestSlip {
		return false
	}
	from := 0
	for from < min(len(x), len(y)) && x[from] == y[from] {
		from++
	}
	restX, restY := x[from:], y[from:]
	switch {
	case len(x) == len(y)+1:
		return unicode.IsLetter(restX[0]) && slices.Equal(restX[1:], restY)
	case len(y) == len(x)+1:
		return unicode.IsLetter(restY[0]) && slices.Equal(restY[1:], restX)
	case len(x) == len(y) && len(restX) > 1:
		return unicode.IsLetter(restX[0]) && unicode.IsLetter(restX[1]) && restX[0] == restY[1] && restX[1] == restY[0] && slices.Equal(restX[2:], restY[2:])
	}
	return false
}

// copiesOf maps the folded name of each supplier that carries a shared slip to
// one name for all who do.
func copiesOf(slips []Slip) map[string]string {
	of := map[string]string{}
	for _, s := range slips {
		first := catalog.Fold(s.Suppliers[0])
		if known, ok := of[first]; ok {
			first = known
		}
		for _, n := range s.Suppliers {
			of[catalog.Fold(n)] = first
		}
	}
	return of
}

// copiedList says of a part's list that it is a copy of another's.
func (t trial) copiedList() []result {
	if t.field == nil {
		return nil
	}
	for _, s := range t.field.slips {
		if !slices.Contains(s.Suppliers, t.c.Part.Supplier) {
			continue
		}
		others := slices.DeleteFunc(slices.Clone(s.Suppliers), func(n string) bool { return n == t.c.Part.Supplier })
		f := compat.Finding{Check: "listed", Outcome: compat.Yes, Grade: compat.Presumed, Says: fmt.Sprintf("%s's list is a copy of %s's: both write %q for %q. Together they count as one.",
			t.c.Part.Supplier, strings.Join(others, " and "), s.Written, s.Meant), Origin: from(s.Origins...)}
		return []result{{Finding: f}}
	}
	return nil
}
