package fit

import (
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// sheetSize is a length of the part as one independent sheet prints it.
type sheetSize struct {
	catalog.Stated[units.Length]
	said statement
	part *catalog.Part
}

// sheets returns the part as every sheet prints it, its own first.
func (t trial) sheets() []*catalog.Part {
	out := make([]*catalog.Part, 0, 1+len(t.c.OtherSizes))
	return append(append(out, t.c.Part), t.c.OtherSizes...)
}

// sizes returns a length of the part from every sheet that prints it, its own
// first, copies left out. A length that the garage measured on the part (a
// sheet without a supplier) replaces what was printed.
func (t trial) sizes(of func(*catalog.Part) catalog.Stated[units.Length]) (all []sheetSize, measured bool) {
	for _, p := range t.sheets() {
		v := of(p)
		if !v.Known {
			continue
		}
		s := sheetSize{v, t.said(v.Origin, p.Supplier), p}
		if s.said.supplier == "" {
			return []sheetSize{s}, true
		}
		copied := false
		for _, have := range all {
			copied = copied || have.said.same(s.said) && t.printed(have.Stated).span().overlaps(t.printed(v).span())
		}
		if !copied {
			all = append(all, s)
		}
	}
	return all, false
}

// garage reports whether facts of the engine are the garage's own and not some
// supplier's.
func garage(origins ...catalog.Origin) bool {
	for _, o := range origins {
		if o.Supplier != "" {
			return false
		}
	}
	return true
}

// overSeal reports whether a part's own words say that a diameter is taken
// over its seal.
func (t trial) overSeal(s sheetSize) bool {
	text := strings.Fields(catalog.Fold(strings.Join([]string{s.Text, s.part.Description.Value, s.part.Notes.Value}, " ; ")))
	_, _, ok := t.words.find("over_seal", text)
	return ok
}
