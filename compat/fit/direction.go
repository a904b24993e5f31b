package fit

import (
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

// Direction is the check that says which way round a thermostat goes in.
const Direction = "direction"

// direction says which way round a thermostat goes in. It moves nothing.
func (t trial) direction() []result {
	side := t.q.Engine.ThermostatSide
	f := compat.Finding{Check: Direction, Outcome: compat.Yes, Grade: compat.CommonPractice, Origin: cite(from(side.Origin), t.limits.cite(flangeLoose)...)}
	switch words := strings.Fields(catalog.Fold(side.Value)); {
	case slices.Contains(words, "outlet"):
		f.Says = "Outlet side: the wax goes towards the engine, an arrow towards the radiator."
	case slices.Contains(words, "inlet"):
		f.Says = "Inlet side: the wax goes towards the engine, where bypass and radiator water meet."
	default:
		f.Says = "Which side it sits on is not on file: photograph the old one before it comes out."
	}
	if t.q.Engine.AirBleed.Value {
		f.Says += " Air bleed at twelve o'clock."
	}
	if t.q.Engine.Indexed.Value {
		f.Says += " Its tab in the notch."
	}
	f.Says += " If it overheats at once, it is in back to front."
	return []result{{Finding: f}}
}
