package coolant

import (
	"fmt"
	"math"

	"fitfill/catalog"
	"fitfill/compat"
)

const checkWater = "water"

// Water is an analysis of make-up water. What is not stated is not checked.
type Water struct {
	Hardness, Chloride, Sulfate, Solids catalog.Stated[float64] // mg/L
	PH                                  catalog.Stated[float64]
}

// CheckWater holds an analysis against the limits for water in a cooling
// system, one finding for every figure that is stated.
func (t *Tables) CheckWater(w Water) []compat.Finding {
	var list []compat.Finding
	high := func(name, unit string, v catalog.Stated[float64], limit string) {
		if !v.Known {
			return
		}
		l := t.limits[limit]
		f := compat.Finding{Check: checkWater, Outcome: compat.Yes, Grade: compat.CommonPractice, Origin: []compat.Evidence{compat.Cite(l.row)}}
		f.Says = fmt.Sprintf("Water: %s %s%s, within %g.", name, figure(math.Round(v.Value*10)/10), unit, l.value)
		if v.Value > l.value {
			f.Outcome, f.Says = compat.Caution, fmt.Sprintf("Water: %s %s%s is above %g; use deionised water.", name, figure(math.Round(v.Value*10)/10), unit, l.value)
		}
		list = append(list, f)
	}
	high("hardness", " mg/L", w.Hardness, "water_hardness_max")
	high("chloride", " mg/L", w.Chloride, "water_chloride_max")
	high("sulfate", " mg/L", w.Sulfate, "water_sulfate_max")
	high("solids", " mg/L", w.Solids, "water_solids_max")
	high("pH", "", w.PH, "water_ph_max")
	if w.PH.Known && w.PH.Value < t.lim.waterPHMin {
		list = append(list, compat.Finding{
			Check: checkWater, Outcome: compat.Caution, Grade: compat.CommonPractice,
			Says:   fmt.Sprintf("Water: pH %g is below %g; use deionised water.", w.PH.Value, t.lim.waterPHMin),
			Origin: []compat.Evidence{compat.Cite(t.limits["water_ph_min"].row)},
		})
	}
	return list
}

// water checks the water of the question: where water is poured it counts by
// itself, with a coolant it makes pairs with silicate or phosphate worse.
func (s *situation) water() {
	pure := s.t.is(&s.add, waterID)
	found := s.t.CheckWater(Water{Hardness: s.q.WaterHardness, Chloride: s.q.WaterChloride})
	for _, f := range found {
		if !pure && f.Outcome != compat.Yes && !s.hardens() {
			f.Outcome = compat.Yes
			f.Says += " It does not touch what is poured here."
		}
		s.note(f)
	}
	if pure && len(found) == 0 {
		s.note(compat.NotChecked(checkWater, "the hardness and chloride of the water", "Tap water is not known: deionised water is the safe one."))
	}
}

func (s *situation) hardens() bool {
	for i := range s.worlds {
		for j := range s.worlds[i].links {
			if s.worlds[i].links[j].rule.harden {
				return true
			}
		}
	}
	return false
}
