package audit

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

var _ = register(func() any { return chemistry{} })

// chemistry finds coolants that are listed for an engine none of whose circuits
// takes their chemistry and whose approvals they do not carry either.
type chemistry struct{}

func (chemistry) engine(s *settings, e *Engine) []Finding {
	takes := e.Family.Chemistries()
	if takes == nil {
		return nil
	}
	var out []Finding
	for i := range e.Parts {
		l := &e.Parts[i]
		c := l.Part.Chemistry
		if !c.Known || l.Excluded || l.Part.Type.Value != "coolant" || slices.Contains(takes, c.Value) || approvedFor(&e.Family, &l.Part) {
			continue
		}
		f := s.about("refuted: chemistry", e, l)
		f.Says = fmt.Sprintf("Its chemistry is %s; the engine takes %s.", c.Value, strings.Join(takes, " or "))
		for _, circuit := range e.Family.Circuits {
			f.Against = append(f.Against, compat.From(circuit.CoolantChem.Origin))
		}
		f.Against = once(f.Against)
		out = append(out, f)
	}
	return out
}

// approvedFor reports whether a label names an approval that a circuit of the
// engine asks for.
func approvedFor(e *catalog.EngineFamily, p *catalog.Part) bool {
	label := catalog.ReadApprovals(p.Approvals.Value)
	for _, c := range e.Circuits {
		for _, asked := range catalog.ReadApprovals(c.CoolantApproval.Value) {
			if slices.ContainsFunc(label, func(a catalog.Approval) bool { return a.Key == asked.Key }) {
				return true
			}
		}
	}
	return false
}
