package coolant

import (
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

const checkCircuit = "circuit"

// loopOf finds the circuit that is meant. Where an engine has several, or is
// electrified, nothing is judged until the loop is named: the finding then
// says so and the question names those on file.
func loopOf(e *catalog.EngineFamily, name string) (loop *catalog.Circuit, finding *compat.Finding, ask string) {
	if e == nil {
		f := compat.NotChecked(checkCoolant, "the engine", "Name the engine to check what its maker asks for.")
		return nil, &f, ""
	}
	if name != "" {
		if c, ok := e.Circuit(name); ok {
			return &c, nil, ""
		}
	}
	electrified := e.Electrified.Known && e.Electrified.Value
	switch {
	case name == "" && len(e.Circuits) == 1 && !electrified:
		return &e.Circuits[0], nil, ""
	case len(e.Circuits) > 1 || electrified:
		ask = "Which loop of " + e.Family + " is it: " + loops(e) + "?"
		return nil, &compat.Finding{
			Check: checkCircuit, Outcome: compat.CannotSay, Grade: compat.CommonPractice,
			Says: ask + " They do not take the same fluid.", Origin: cite(e.Electrified.Origin),
		}, ask
	}
	f := compat.NotChecked(checkCoolant, "the coolant that "+e.Family+" asks for", "Nothing is on file of what "+e.Family+" asks for: see the maker's manual.")
	return nil, &f, ""
}

// cite is the evidence of an origin, none where it is not known.
func cite(o catalog.Origin) []compat.Evidence {
	if !o.Known() {
		return nil
	}
	return []compat.Evidence{compat.From(o)}
}

func loops(e *catalog.EngineFamily) string {
	var names []string
	for _, c := range e.Circuits {
		names = append(names, c.Name)
	}
	if len(names) == 0 {
		return "engine, inverter or battery (none is on file)"
	}
	return strings.Join(names, ", ")
}
