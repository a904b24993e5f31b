package coolant

import (
	"strconv"
	"strings"

	"fitfill/catalog"
)

// family is one chemistry family, or one of the special fluids.
type family struct {
	id, name    string
	engine      bool            // an ordinary engine coolant: what an unknown fill may be
	months      int             // usual life in months, the shorter figure; 0: the label says
	monthsLong  int             // the longer figure; 0: the label says
	holds       map[string]sign // inhibitors and readings
	liner       string          // what guards wet liners: nitrite, organic, none
	copperBrass string          // yes, or caution with a copper and brass radiator
	row         catalog.RefRow
}

// sign says whether a family holds a species, or reads high on a test.
type sign byte

const (
	unsaid sign = iota
	plus
	minus
	either
)

var signs = map[string]sign{"": unsaid, "+": plus, "-": minus, "either": either}

// signColumns are the columns of coolant_families that hold a sign.
var signColumns = []string{"silicate", "phosphate", "nitrite", "molybdate", "amine", "2-eha", "borate", "ph", "reserve"}

const (
	unknownID         = "unknown"
	waterID           = "water"
	waterlessID       = "waterless"
	lowConductivityID = "low-conductivity"
	nitriteID         = "nitrite"
)

func (t *Tables) loadFamilies(rows []catalog.RefRow) error {
	t.byID = map[string]int{}
	for _, r := range rows {
		engine, err := yesNo(r, "engine")
		if err != nil {
			return err
		}
		f := family{
			id: r.Get("id"), name: r.Get("name"), engine: engine, holds: map[string]sign{},
			liner: r.Get("liner"), copperBrass: r.Get("copper_brass"), row: r,
		}
		for column, to := range map[string]*int{"months_short": &f.months, "months_long": &f.monthsLong} {
			if m := r.Get(column); m != "" {
				if *to, err = strconv.Atoi(m); err != nil || *to <= 0 {
					return unreadable(r, column, "is not a whole number of months")
				}
			}
		}
		if f.monthsLong < f.months {
			return unreadable(r, "months_long", "is less than months_short")
		}
		for _, c := range signColumns {
			s, ok := signs[r.Get(c)]
			if !ok {
				return unreadable(r, c, "must be +, - or either")
			}
			f.holds[c] = s
		}
		if _, twice := t.byID[f.id]; twice || f.id == "" {
			return unreadable(r, "id", "is empty or stands there twice")
		}
		t.byID[f.id] = len(t.families)
		t.families = append(t.families, f)
	}
	for _, need := range []string{waterID, waterlessID, lowConductivityID} {
		if _, ok := t.byID[need]; !ok {
			return unreadable(rows[0], "id", "leaves out the fluid "+need)
		}
	}
	return nil
}

// Chemistries returns the ids of every chemistry on file, engine families first.
func (t *Tables) Chemistries() []string {
	list := make([]string, 0, len(t.families))
	for _, engine := range []bool{true, false} {
		for _, f := range t.families {
			if f.engine == engine {
				list = append(list, f.id)
			}
		}
	}
	return list
}

// Name returns the trade name of a chemistry, or the id itself where it is not
// on file.
func (t *Tables) Name(id string) string {
	if i, ok := t.byID[id]; ok {
		return t.families[i].name
	}
	return id
}

// splitIDs finds the chemistry ids in a cell such as "oat, si-oat" or "oat or
// si-oat". Words that are no id are left out.
func (t *Tables) splitIDs(cell string) []int {
	var list []int
	for _, w := range strings.FieldsFunc(strings.ToLower(cell), func(r rune) bool { return strings.ContainsRune(" ,;|/+", r) }) {
		if i, ok := t.byID[w]; ok {
			list = append(list, i)
		}
	}
	return list
}
