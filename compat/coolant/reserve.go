package coolant

import (
	"fmt"

	"fitfill/compat"
)

const checkReserve = "acid reserve"

// reserveAfter tells what the acid reserve of the fill becomes: it mixes by
// volume, new coolant of the same kind with all of it, water with none (an
// estimate). Of another kind nobody knows how much it holds.
func (s *situation) reserveAfter(a float64) {
	fill, one := s.fill.only()
	add, other := s.add.only()
	water := other && s.t.families[add].id == waterID
	if !one || !other || !water && add != fill || s.condemned() || a <= 0 {
		return
	}
	for _, r := range s.fill.fluid.Readings {
		l := s.t.limitOf(reserveID, fill)
		if r.Of != reserveID || !r.Level.Known || l == nil {
			continue
		}
		after := Diluted(r.Level.Value, s.vol.before(a), a)
		if !water {
			after += Diluted(100, a, s.vol.before(a))
		}
		s.note(compat.Finding{
			Check: checkReserve, Outcome: compat.Yes, Grade: compat.CommonPractice,
			Says:   fmt.Sprintf("Its acid reserve goes from %.0f to about %.0f %% of new.", r.Level.Value, after),
			Origin: []compat.Evidence{compat.Cite(l.row)},
		})
		return
	}
}
