package coolant

import (
	"fitfill/catalog/units"
	"fitfill/compat"
)

// getHome is the most water that keeps the engine usable until it is mended,
// where nothing better may be poured or only water is at hand. Never for waterless coolant, a
// low-conductivity loop, a loop that is not named or a fill that points to a
// head gasket.
//
// With strength and coldest day known it is the water that brings the freezing
// point, with the table's error, up to that day; otherwise a share of the
// volume that does little harm.
func (s *situation) getHome(o compat.Outcome) *GetHome {
	bad := o == compat.No || o == compat.CannotSay
	if !bad && !s.t.is(&s.add, waterID) || s.ask != "" || s.lowConductivityLoop() {
		return nil
	}
	if look, ok := s.look(); ok && !look.getHome {
		return nil
	}
	for _, i := range s.fill.may {
		if r, ok := s.condemnedBy(i); ok && !s.t.limitOf(r.Of, i).getHome {
			return nil
		}
	}
	for _, i := range s.fill.may {
		if f := s.t.families[i]; !f.engine && f.id != waterID {
			return nil
		}
	}
	most := s.space()
	show := s.q.Show
	const then = " Engine cold, then find the leak and change it."
	if s.vol.perLitre || !s.fill.exact || !s.q.Coldest.Known {
		// Where only the capacity is known, what is poured was missing before.
		most = largest(most, func(water float64) bool { return water <= s.vol.before(water)*s.t.lim.getHomeWater/100 })
		g := &GetHome{Water: litres(most)}
		g.Says = "To get home: up to " + show.FormatVolume(g.Water) + " of deionised or drinking water"
		if s.vol.perLitre {
			g.Says += " for every litre in the engine"
		}
		if s.fill.exact {
			f := s.thinned(most)
			if f != nil {
				g.Freeze = f
				g.Says += "; it then freezes at about " + show.FormatTemperature(*f)
			}
		}
		g.Says += "." + then
		return g
	}
	if !s.safeFor(0) {
		return &GetHome{Says: "No water: it is too weak for " + show.FormatTemperature(s.q.Coldest.Value) + " as it is." + then}
	}
	low := largest(most, s.safeFor)
	g := &GetHome{Water: litres(low), Freeze: s.thinned(low)}
	g.Says = "To get home: up to " + show.FormatVolume(g.Water) + " of deionised or drinking water"
	if g.Freeze != nil {
		g.Says += "; it then freezes at about " + show.FormatTemperature(*g.Freeze) + " against " + show.FormatTemperature(s.q.Coldest.Value)
	}
	g.Says += "." + then
	return g
}

// largest returns the largest amount up to most that is still ok, by bisection;
// ok must hold for small amounts and, once lost, stay lost.
func largest(most float64, ok func(float64) bool) float64 {
	if ok(most) {
		return most
	}
	low, high := 0.0, most
	for range 50 {
		if mid := (low + high) / 2; ok(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// space is the most water that there is room for: what was to be poured, else
// the free space.
func (s *situation) space() float64 {
	if a, ok := s.poured(); ok && a > 0 && !s.t.is(&s.add, waterID) {
		return a
	}
	return s.vol.most
}

// thinned returns the freezing point after that much water, nil above the
// table's end.
func (s *situation) thinned(water float64) *units.Temperature {
	f, err := s.t.freeze(s.thin(water))
	if err != nil {
		return nil
	}
	at := units.Celsius(f)
	return &at
}

func (s *situation) thin(water float64) Charge {
	return s.t.pour(s.fill.glycol, s.vol.before(water), s.fill.low/100).Add(s.t.pour("", water, 0))
}

func (s *situation) safeFor(water float64) bool {
	c := s.thin(water)
	f, err := s.t.freeze(c)
	return err != nil || f+s.t.freezePM(c, 0) <= s.q.Coldest.Value.Celsius()
}
