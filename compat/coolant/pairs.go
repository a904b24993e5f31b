package coolant

import (
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

// pairRow is what the table says of two chemistries in one system.
type pairRow struct {
	class   *class
	reasons []string
	trace   bool // the smallest trace counts
	row     catalog.RefRow
}

const anyFluid = "*"

func (t *Tables) loadPairs(rows []catalog.RefRow) error {
	n := len(t.families)
	t.pairs = make([][]*pairRow, n)
	for i := range t.pairs {
		t.pairs[i] = make([]*pairRow, n)
	}
	for _, r := range rows {
		p := &pairRow{class: t.classes[r.Get("class")], reasons: strings.Fields(r.Get("reasons")), row: r}
		if p.class == nil {
			return unreadable(r, "class", "is not in coolant_classes")
		}
		for _, id := range p.reasons {
			if _, ok := t.reasons[id]; !ok {
				return unreadable(r, "reasons", "names a reason that is not in coolant_reasons")
			}
		}
		var err error
		if p.trace, err = yesNo(r, "trace"); err != nil {
			return err
		}
		as, err := t.ids(r, "a")
		if err != nil {
			return err
		}
		var bs []int
		if r.Get("b") == anyFluid {
			for i := range n {
				bs = append(bs, i)
			}
		} else if bs, err = t.ids(r, "b"); err != nil {
			return err
		}
		for _, a := range as {
			for _, b := range bs {
				if t.pairs[a][b] == nil { // the first row that matches holds
					t.pairs[a][b], t.pairs[b][a] = p, p
				}
			}
		}
	}
	for i, row := range t.pairs {
		if j := slices.Index(row, nil); j >= 0 {
			return unreadable(rows[len(rows)-1], "a", "leaves the pair of "+t.families[i].id+" and "+t.families[j].id+" without a row")
		}
	}
	return nil
}

// reason is why two chemistries do not go together, in words for a mechanic.
type reason struct {
	kind  string // life, deposit, guard, wear, never, note
	says  string
	grade compat.Grade
	row   catalog.RefRow
}

func (t *Tables) loadReasons(rows []catalog.RefRow) error {
	t.reasons = map[string]reason{}
	for _, r := range rows {
		if r.Get("id") == "" || r.Get("says") == "" || r.Get("grade") == "" {
			return unreadable(r, "id", "needs a sentence and a grade")
		}
		t.reasons[r.Get("id")] = reason{r.Get("kind"), r.Get("says"), compat.Grade(r.Get("grade")), r}
	}
	return nil
}
