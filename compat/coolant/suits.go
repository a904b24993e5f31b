package coolant

import (
	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Suits judges whether a coolant is one for an engine whatever is in it now:
// what the maker asks for and excludes, wet liners, the radiator. The circuit is
// the one that is meant, or where none is and the engine has several the ones it
// suits best ("engine and inverter"); but says what speaks
// against it, in a few words, "" where nothing does.
func (t *Tables) Suits(e *catalog.EngineFamily, p *catalog.Part, meant string, show units.System) (findings []compat.Finding, circuit, but string) {
	names := []string{""}
	if len(e.Circuits) > 1 {
		names = nil
		for _, c := range e.Circuits {
			if meant == "" || catalog.Fold(c.Name) == catalog.Fold(meant) {
				names = append(names, c.Name)
			}
		}
	}
	best := compat.No
	for n, name := range names {
		q := Question{Engine: e, Circuit: name, Add: Fluid{Product: p}, Show: show}
		if p.Chemistry.Known {
			q.Add.Chemistries = []string{p.Chemistry.Value}
		}
		s := t.labels(&q) // whatever is in the engine
		if s.ask != "" {  // electrified, and no circuit is on file
			continue
		}
		s.findings, s.missing = nil, nil
		s.require()
		s.exclude()
		s.liners()
		s.radiator()
		f := s.fixed()
		if n > 0 && findings != nil && !best.Worse(f.outcome) {
			if f.outcome == best && best == compat.Yes {
				circuit += " and " + name
			}
			continue
		}
		best, findings, circuit, but = f.outcome, append(s.findings, s.missing...), name, ""
		switch f.outcome {
		case compat.Caution:
			but = s.causeWords(s.cautionCause())
		case compat.No:
			but = "not for this loop"
		}
	}
	return findings, circuit, but
}
