package coolant

import (
	"fitfill/catalog"
	"fitfill/catalog/units"
)

// ReadyToPour returns how much coolant ready to pour a pack makes and how
// strong that is: a concentrate is thinned with water to the strength that a
// system is usually filled at (flush_strength of coolant_limits), pack volume
// times its own strength over that; what is weaker already stays as it is.
// Not ok where the label states no volume or no strength.
func (t *Tables) ReadyToPour(p catalog.Part) (made units.Volume, strength units.Percent, ok bool) {
	own := t.BottleStrength(Fluid{Product: &p})
	if !p.PackVolume.Known || !own.Known || p.PackVolume.Value.Litres() <= 0 || own.Value.Percents() <= 0 {
		return made, strength, false
	}
	usual := t.limits["flush_strength"].value
	if own.Value.Percents() <= usual {
		return p.PackVolume.Value, own.Value, true
	}
	return p.PackVolume.Value.Scale(own.Value.Percents() / usual), units.Percents(usual), true
}
