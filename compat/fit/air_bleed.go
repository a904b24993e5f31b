package fit

import "fitfill/compat"

const bleedCheck = "air bleed"

// airBleed compares the air bleed of a thermostat with what the engine needs:
// without one it traps air under the thermostat; one too many only warms up
// more slowly.
func (t trial) airBleed() []result {
	need, has := t.q.Engine.AirBleed, t.c.Part.AirBleed
	switch {
	case !need.Known:
		return []result{unchecked(bleedCheck, "air bleed of the engine", "Whether the engine needs an air bleed in the thermostat is not on file.")}
	case !has.Known && need.Value:
		return []result{unchecked(bleedCheck, "air bleed of the part", "The engine needs an air bleed; the sheet does not say whether this part has one.")}
	case !has.Known:
		return nil
	}
	f := compat.Finding{Check: bleedCheck, Outcome: compat.Yes, Grade: compat.Listed, Origin: from(has.Origin, need.Origin)}
	switch {
	case need.Value && !has.Value:
		f.Outcome, f.Says = compat.Caution, "No air bleed, and the engine needs one: it traps air under the thermostat."
		return []result{{Finding: f, role: doubt, short: "traps air, no air bleed", ask: "Is there a bleed hole or a jiggle pin in the flange of the part in hand?"}}
	case need.Value:
		f.Says = "Has an air bleed, as the engine needs: it goes in uppermost."
	case has.Value:
		f.Says = "Has an air bleed that the engine does without: warms up a little more slowly."
	default:
		f.Says = "No air bleed, and the engine needs none."
	}
	return []result{{Finding: f}}
}
