package coolant

import (
	"slices"

	"fitfill/catalog"
)

// caution is a line of warning and when it is shown.
type caution struct {
	when, says string
}

var cautionWhen = []string{"always", "electrified", "driven-pump", "low-conductivity", "open-fill"}

func (t *Tables) loadCautions(rows []catalog.RefRow) error {
	for _, r := range rows {
		c := caution{r.Get("when"), r.Get("says")}
		if !slices.Contains(cautionWhen, c.when) {
			return unreadable(r, "when", "must be always, electrified, driven-pump, low-conductivity or open-fill")
		}
		t.cautions = append(t.cautions, c)
	}
	return nil
}

// Cautions are the warnings of any work on an engine's cooling system, whatever
// is poured or whether anything is. Common practice of the trade; the maker's
// manual and the local rules come first.
func (t *Tables) Cautions(e *catalog.EngineFamily) []string {
	loop := ""
	if e != nil {
		loop = catalog.DefaultCircuit
	}
	s := t.situation(&Question{Engine: e, Circuit: loop, Fill: Fluid{Chemistries: []string{waterID}}, Add: Fluid{Chemistries: []string{waterID}}})
	return s.cautions()
}

func (s *situation) cautions() []string {
	e := s.q.Engine
	var list []string
	for _, c := range s.t.cautions {
		show := true
		switch c.when {
		case "electrified":
			show = e != nil && e.Electrified.Known && e.Electrified.Value
		case "driven-pump":
			show = e != nil && e.Electrified.Known && e.Electrified.Value && catalog.Fold(e.Bleed.Value) == catalog.Fold("driven pump")
		case "low-conductivity":
			show = s.lowConductivityLoop()
		case "open-fill":
			show = s.ask == "" && (s.fill.how == byColour || s.fill.how == notKnown)
		}
		if show {
			list = append(list, c.says)
		}
	}
	return list
}
