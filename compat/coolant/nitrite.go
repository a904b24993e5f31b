package coolant

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/compat"
)

const checkNitrite = "nitrite for the liners"

// nitriteNeed is what a fill that guards wet liners with nitrite needs of it.
type nitriteNeed struct {
	floor float64 // mg/kg
	low   float64 // mg/kg below which topping it up is not enough

	// With molybdate less nitrite will do: both together molybdateSum, each at
	// least molybdateEach. 0: it does not count.
	molybdateSum, molybdateEach float64
	watch, tooLow               string // the next step
	row                         catalog.RefRow
}

func (t *Tables) loadNitrite(rows []catalog.RefRow) error {
	t.nitrite = map[int]nitriteNeed{}
	for _, r := range rows {
		i, ok := t.byID[r.Get("chemistry")]
		if !ok || t.families[i].liner != nitriteID {
			return unreadable(r, "chemistry", "is no chemistry of coolant_families that guards liners with nitrite")
		}
		n := nitriteNeed{watch: r.Get("says_watch"), tooLow: r.Get("says_low"), row: r}
		for name, into := range map[string]*float64{
			"floor": &n.floor, "low": &n.low, "molybdate_sum": &n.molybdateSum, "molybdate_each": &n.molybdateEach,
		} {
			if r.Get(name) == "" && into != &n.floor && into != &n.low {
				continue
			}
			var err error
			if *into, err = r.Float(name); err != nil {
				return err
			}
		}
		if n.low > n.floor {
			return unreadable(r, "low", "must not lie above the floor")
		}
		t.nitrite[i] = n
	}
	return nil
}

// enough reports whether levels of nitrite and molybdate guard the liners.
func (n *nitriteNeed) enough(nitrite, molybdate float64) bool {
	both := n.molybdateSum > 0 && nitrite >= n.molybdateEach && molybdate >= n.molybdateEach && nitrite+molybdate >= n.molybdateSum
	return nitrite >= n.floor || both
}

// nitriteFloor follows the nitrite of a fill that guards its liners with it.
func (s *situation) nitriteFloor(a float64, poured bool) {
	need, ok := s.nitriteNeed()
	if !ok {
		return
	}
	switch {
	case !s.q.Nitrite.Known:
		s.note(compat.NotChecked(checkNitrite, "the nitrite in the fill", "Dip a nitrite strip: pouring nitrite-free coolant or water thins it."))
		return
	case !s.wetLiners():
		says := fmt.Sprintf("If its liners are wet: nitrite %.0f mg/kg is at least the %.0f they need.", s.q.Nitrite.Value, need.floor)
		if s.nitriteShort(0) {
			says = fmt.Sprintf("If its liners are wet: nitrite %.0f mg/kg is below the %.0f they need: %s.", s.q.Nitrite.Value, need.floor, need.step(s.q.Nitrite.Value))
		}
		s.note(compat.NotChecked(checkNitrite, "whether the liners are wet", says))
		return
	case !poured && !s.nitriteShort(0):
		s.note(compat.NotChecked(checkNitrite, s.amountFact(), "It is enough as it is; what is poured may thin it."))
		return
	case !poured:
		a = 0
	}
	level := s.nitriteAfter(a)
	f := compat.Finding{Check: checkNitrite, Outcome: compat.Yes, Grade: compat.Standard, Origin: []compat.Evidence{compat.Cite(need.row)}}
	f.Says = fmt.Sprintf("Nitrite would be about %.0f mg/kg, enough for the liners.", level)
	if s.nitriteShort(a) {
		f.Outcome = compat.Caution
		f.Says = fmt.Sprintf("Nitrite would be about %.0f mg/kg, below the %.0f the liners need: %s.", level, need.floor, need.step(level))
	}
	s.note(f)
}

// step is what to do next at a level that is too low.
func (n *nitriteNeed) step(level float64) string {
	if level < n.low {
		return n.tooLow
	}
	return n.watch
}

// nitriteNeed returns what the fill needs, where it is known to guard liners
// with nitrite and the engine is not known to have dry ones.
func (s *situation) nitriteNeed() (nitriteNeed, bool) {
	fam, ok := s.fill.only()
	if !ok || !s.wetLiners() && (!s.q.Nitrite.Known || s.q.Engine != nil && s.q.Engine.WetLiner.Known) {
		return nitriteNeed{}, false
	}
	need, ok := s.t.nitrite[fam]
	return need, ok
}

func (s *situation) wetLiners() bool {
	e := s.q.Engine
	return e != nil && e.WetLiner.Known && e.WetLiner.Value
}

func (s *situation) nitriteAfter(a float64) float64 {
	return s.afterPouring(s.q.Nitrite.Value, nitriteID, a)
}

// afterPouring is a level in the fill after a litres of the bottle, which
// thins it unless the bottle holds the same.
func (s *situation) afterPouring(level float64, of string, a float64) float64 {
	if only, ok := s.add.only(); ok && s.t.families[only].holds[of] == plus {
		return level
	}
	return Diluted(level, s.vol.before(a), a)
}

// nitriteLow reports whether an amount leaves wet liners too little nitrite.
func (s *situation) nitriteLow(a float64) bool { return s.wetLiners() && s.nitriteShort(a) }

func (s *situation) nitriteShort(a float64) bool {
	need, ok := s.nitriteNeed()
	if !ok || !s.q.Nitrite.Known {
		return false
	}
	molybdate := 0.0
	for _, r := range s.fill.fluid.Readings {
		if r.Of == "molybdate" && r.Level.Known {
			molybdate = s.afterPouring(r.Level.Value, r.Of, a)
		}
	}
	return !need.enough(s.nitriteAfter(a), molybdate)
}
