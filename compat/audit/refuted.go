package audit

import "fitfill/compat"

var _ = register(func() any { return refuted{} })

// refuted finds listings that sizes or ratings on file say cannot be right.
type refuted struct{}

func (refuted) engine(s *settings, e *Engine) []Finding {
	var out []Finding
	for i := range e.Parts {
		l := &e.Parts[i]
		if l.Excluded || len(l.Refuted) == 0 || len(l.Fitments) == 0 {
			continue
		}
		for _, r := range l.Refuted {
			f := s.about("refuted: "+r.Check, e, l)
			f.Says, f.Grade = r.Says, r.Grade
			f.Against = others(r.Origin, l.Part.Supplier)
			out = append(out, f)
		}
	}
	return out
}

// others returns the evidence that does not stand in one supplier's sheets.
func others(list []compat.Evidence, supplier string) []compat.Evidence {
	out := []compat.Evidence{}
	for _, e := range once(list) {
		if e.Supplier == "" || e.Supplier != supplier {
			out = append(out, e)
		}
	}
	return out
}
