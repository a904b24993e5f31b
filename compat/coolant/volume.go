package coolant

import "fitfill/catalog"

// volumes says how much is in the system before an amount is poured.
type volumes struct {
	fill     float64 // litres; 0: the capacity less what is poured
	capacity float64
	most     float64 // the most that can be poured
	perLitre bool    // neither is known: one litre in the engine
	note     string  // what the amounts of a ladder rest on
}

func volumesOf(q *Question, loop *catalog.Circuit) volumes {
	var v volumes
	if loop != nil && loop.CoolantCapacity.Known && loop.CoolantCapacity.Value.Litres() > 0 {
		v.capacity = loop.CoolantCapacity.Value.Litres()
	}
	if q.FillVolume.Known && q.FillVolume.Value.Litres() > 0 {
		v.fill = q.FillVolume.Value.Litres()
	}
	switch {
	case v.fill > 0 && v.capacity > v.fill:
		v.most = v.capacity - v.fill
		v.note = "On top of " + q.Show.FormatVolume(litres(v.fill)) + " in the engine, up to the free space."
	case v.fill > 0:
		v.most = v.fill
		v.note = "On top of " + q.Show.FormatVolume(litres(v.fill)) + " in the engine; the free space is not known."
	case v.capacity > 0:
		v.most = v.capacity
		v.note = "Topped up to the full " + q.Show.FormatVolume(litres(v.capacity)) + "."
	default:
		v.fill, v.most, v.perLitre = 1, 1, true
		v.note = "How much the engine holds is not known: amounts are for every litre that is in it."
	}
	return v
}

// before returns the litres in the system before a litres are poured.
func (v *volumes) before(a float64) float64 {
	if v.fill > 0 {
		return v.fill
	}
	return max(v.capacity-a, 0)
}
