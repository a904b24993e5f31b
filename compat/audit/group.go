package audit

import (
	"strings"

	"fitfill/compat"
)

// Group adds a group of cross-references that cannot be right. Everyone whose
// sheet states its weakest part is told.
func (a *Auditor) Group(g Group) {
	by := map[string][]compat.Evidence{}
	var suppliers []string
	for _, o := range g.Lines {
		if by[o.Supplier] == nil {
			suppliers = append(suppliers, o.Supplier)
		}
		by[o.Supplier] = append(by[o.Supplier], compat.From(o))
	}
	cost := Cost{Parts: len(g.Parts)}
	for i := range g.Parts {
		cost.Bought += a.set.bought(&g.Parts[i])
	}
	for _, name := range suppliers {
		f := Finding{
			Check: g.Check, Supplier: name, Says: g.Says, Grade: compat.Listed, Lines: once(by[name]), Cost: cost,
			Against: others(g.Others, name),
		}
		var ends []string
		for _, p := range g.Ends {
			if p.Supplier == name {
				ends = append(ends, p.Number)
			}
		}
		f.Number = strings.Join(ends, ", ")
		a.found = append(a.found, f)
	}
}
