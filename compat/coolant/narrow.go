package coolant

import (
	"slices"

	"fitfill/catalog"
)

// otherColour reports whether a fill that is presumed untouched shows another
// colour than the maker's: somebody has changed it.
func (t *Tables) otherColour(f *Fluid, loop *catalog.Circuit) bool {
	seen := t.colourOf(f.ByColour)
	if seen == nil || loop == nil {
		return f.ByColour != ""
	}
	if loop.CoolantColour.Known {
		return t.colourOf(loop.CoolantColour.Value) != seen
	}
	return !slices.ContainsFunc(t.splitIDs(loop.CoolantChem.Value), func(i int) bool { return slices.Contains(seen.usual, i) })
}

// coolantLabel reports whether a label says that the product is an engine
// coolant, even if it does not say which.
func (t *Tables) coolantLabel(s *substance) bool {
	p := s.fluid.Product
	return len(s.approvals) > 0 || p != nil && (p.Type.Value == "coolant" || s.claim != "")
}

// narrow drops the families that what is in the fluid rules out. If nothing
// would be left, the facts do not agree and all stay.
func (t *Tables) narrow(s *substance) []int {
	left := slices.DeleteFunc(slices.Clone(s.may), func(i int) bool {
		holds := t.families[i].holds
		return slices.ContainsFunc(s.contains, func(c string) bool { return holds[c] == minus }) ||
			slices.ContainsFunc(s.free, func(c string) bool { return holds[c] == plus })
	})
	if len(left) == 0 {
		return s.may
	}
	return left
}

// narrowByReadings drops the families that the tests rule out, one test after
// the other. A test that would leave none contradicts the others; it drops
// none and is told apart.
func (t *Tables) narrowByReadings(s *substance) {
	for _, r := range s.fluid.Readings {
		out := t.rulesOut(s.fluid, r, s.may)
		against := len(out) == len(s.may)
		if against {
			out = nil
		}
		s.may = slices.DeleteFunc(slices.Clone(s.may), func(i int) bool { return slices.Contains(out, i) })
		s.ruledOut, s.against = append(s.ruledOut, out), append(s.against, against)
		if sign := t.sign(r); r.Of == phID && s.how < presumption && sign != NotSeen {
			likely := plus
			if sign == None {
				likely = minus
			}
			s.may = slices.Concat(t.holding(s.may, phID, likely, true), t.holding(s.may, phID, likely, false))
		}
	}
}

// holding returns the families of a list whose sign for a column is that one,
// or is another.
func (t *Tables) holding(list []int, column string, want sign, is bool) []int {
	return slices.DeleteFunc(slices.Clone(list), func(i int) bool { return (t.families[i].holds[column] == want) != is })
}
