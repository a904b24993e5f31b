package job

import "fitfill/catalog/units"

// Refill is what goes back into a system that was drained in part.
type Refill struct {
	Bottle, Water units.Volume  // of the bottle, and of distilled water
	Ends          units.Percent // vol % afterwards
	DrainMore     bool          // so little came out that the strength wanted cannot be reached
	WaterOnly     bool          // what stays in is stronger than what is wanted
}

// Refilled returns what to pour after drained of capacity came out of a system
// of present vol % that shall have target vol %:
//
//	bottle = (target·capacity − present·(capacity − drained)) / strength
//
// and water for the rest, both between nothing and what came out. strength is
// that of the bottle; a premix is poured as it is. Common practice.
func Refilled(capacity, drained units.Volume, present, target, strength units.Percent, premix bool) Refill {
	stays := capacity.Sub(drained).Litres() * present.Fraction()
	r := Refill{Bottle: drained}
	if !premix {
		x := (target.Fraction()*capacity.Litres() - stays) / strength.Fraction()
		r.DrainMore, r.WaterOnly = x > drained.Litres(), x < 0
		r.Bottle = drained.Scale(min(max(x/drained.Litres(), 0), 1))
	}
	r.Water = drained.Sub(r.Bottle)
	r.Ends = units.Percents(100 * (stays + r.Bottle.Litres()*strength.Fraction()) / capacity.Litres())
	return r
}
