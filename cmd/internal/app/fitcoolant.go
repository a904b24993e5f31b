package app

import (
	"fitfill/catalog"
	"fitfill/compat"
)

// suitsCoolant adds to the verdict on a coolant that lists name for an engine
// whether it is one that the engine takes.
func (s *Shop) suitsCoolant(p *PartFit, part *catalog.Part, e *catalog.EngineFamily) {
	if p.Type != "coolant" {
		return
	}
	findings, circuit, but := s.coolant().Suits(e, part, s.Settings.Units)
	for _, f := range findings {
		if !f.NotChecked {
			p.Outcome = compat.Worst(p.Outcome, f.Outcome)
		}
	}
	p.Findings = append(p.Findings, findings...)
	if but != "" {
		p.First = "listed, but " + but
		if p.Outcome == compat.CannotSay {
			p.First = "not listed, and " + but
		}
	}
	if circuit != "" {
		p.First += " (" + circuit + " loop)"
	}
}
