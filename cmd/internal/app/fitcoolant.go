package app

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/words"
	"fitfill/compat"
)

// suitsCoolant adds to the verdict on a coolant that lists name for an engine
// whether it is one that the engine takes, in the loop that is meant.
func (s *Shop) suitsCoolant(p *PartFit, part *catalog.Part, e *catalog.EngineFamily, meant string) {
	if p.Type != "coolant" {
		return
	}
	findings, circuit, but := s.coolant().Suits(e, part, meant, s.Settings.Units)
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

// loopSaid checks the name of a loop against those of the engine.
func loopSaid(e *catalog.EngineFamily, name string) error {
	if _, ok := e.Circuit(name); ok || name == "" {
		return nil
	}
	var names []string
	for _, c := range e.Circuits {
		names = append(names, c.Name)
	}
	return &UsageError{Problem: fmt.Sprintf("%s has no %s loop", e.Family, name), Hint: "on file are " + strings.Join(names, ", ")}
}

// loopWords takes a word for the loop that is meant, where every engine in
// question has one of that name beside others.
func (f *finder) loopWords() {
	has := func(word string) bool {
		for i := range f.engines {
			e := f.engines[i].known()
			if _, ok := e.Circuit(word); !ok || len(e.Circuits) < 2 {
				return false
			}
		}
		return len(f.engines) > 0
	}
	f.r.Words = slices.DeleteFunc(slices.Clone(f.r.Words), func(w string) bool {
		if f.circuit != "" || !has(w) {
			return false
		}
		f.circuit = w
		f.r.Spans = append(f.r.Spans, words.Span{Text: w, Means: "loop"})
		return true
	})
}
