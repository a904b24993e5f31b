package fit

import "fitfill/compat"

const indexCheck = "index tab"

// index compares the tab or notch that sets a thermostat's clock position with
// the housing. A tab without a notch keeps the flange off its seat; a notch
// without a tab leaves the position to the fitter.
func (t trial) index() []result {
	engine, part := t.q.Engine.Indexed, t.c.Part.Indexed
	switch {
	case !engine.Known:
		return []result{unchecked(indexCheck, "index of the housing", "Whether the housing has a notch for an index tab is not on file.")}
	case !part.Known && engine.Value:
		return []result{unchecked(indexCheck, "index of the part", "The housing has a notch; the sheet does not say whether this part has the tab.")}
	case !part.Known:
		return nil
	}
	f := compat.Finding{Check: indexCheck, Outcome: compat.Yes, Grade: compat.Listed, Origin: from(part.Origin, engine.Origin)}
	switch {
	case engine.Value && !part.Value:
		f.Outcome, f.Says = compat.Caution, "No index tab, and the housing has a notch for one: it can turn, so set it by hand with the air bleed uppermost."
		return []result{{Finding: f, role: doubt, short: "check the index tab", ask: "Has the old thermostat a tab or notch, and where?"}}
	case part.Value && !engine.Value:
		f.Outcome, f.Says = compat.No, "Has an index tab, and the housing has no notch for it: the flange does not sit down."
		return []result{{Finding: f, role: fails, own: garage(engine.Origin), check: "index tab", short: "index tab, housing without notch", ask: "Is there a notch for the tab in the housing?"}}
	case part.Value:
		f.Says = "Has the index tab that the housing's notch takes."
	default:
		f.Says = "No index tab, and the housing has no notch."
	}
	return []result{{Finding: f}}
}
