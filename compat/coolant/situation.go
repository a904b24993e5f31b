package coolant

import (
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// situation is one question with everything that does not depend on how much
// is poured.
type situation struct {
	t    *Tables
	q    *Question
	loop *catalog.Circuit
	ask  string

	fill, add substance
	asked     []catalog.Approval // approvals that the engine's maker asks for
	want      []int              // chemistries that he asks for

	sameProduct, bothApproved, bothMeet bool
	named                               bool // the bottle is the fluid that the loop's maker names
	hardWater, badWater                 bool
	byNames                             string // approval that both labels carry

	vol    volumes
	worlds []world
	outs   []compat.Outcome // of every world, as last weighed

	spentAll bool // by the tests it has to come out, whatever it is

	findings []compat.Finding // of checks that no amount changes
	missing  []compat.Finding // not checked
}

func (t *Tables) situation(q *Question) *situation {
	s := t.labels(q)
	s.makeWorlds()
	return s
}

// labels is a situation without what the fluids come to when they meet.
func (t *Tables) labels(q *Question) *situation {
	s := &situation{t: t, q: q}
	q.Nitrite = nitriteRead(q)
	var f *compat.Finding
	s.loop, f, s.ask = loopOf(q.Engine, q.Circuit)
	if f != nil {
		s.note(*f)
	}
	s.readStrength()
	s.fill = t.substance(&q.Fill, false, s.loop)
	s.add = t.substance(&q.Add, true, s.loop)
	if s.loop != nil {
		s.asked = catalog.ReadApprovals(s.loop.CoolantApproval.Value)
		s.want = t.splitIDs(s.loop.CoolantChem.Value)
	}
	s.approvals()
	s.hardWater = q.WaterHardness.Known && q.WaterHardness.Value > t.lim.hardnessMax
	s.badWater = s.hardWater || q.WaterChloride.Known && q.WaterChloride.Value > t.lim.chlorideMax
	s.vol = volumesOf(q, s.loop)
	return s
}

// approvals finds out what both labels have in common.
func (s *situation) approvals() {
	s.sameProduct = sameProduct(s.q.Fill.Product, s.q.Add.Product)
	top, name := standingFor(s.add.approvals, s.asked)
	old, _ := standingFor(s.fill.approvals, s.asked)
	if s.fill.how == presumption {
		old = catalog.Approved
	}
	s.bothApproved = top == catalog.Approved && old == catalog.Approved
	s.bothMeet = top >= catalog.Meets && old >= catalog.Meets
	s.named = s.sameProduct || top == catalog.Approved
	s.byNames = name
}

// note files a finding with those made or those that lacked a fact.
func (s *situation) note(f compat.Finding) {
	if f.NotChecked {
		s.missing = append(s.missing, f)
		return
	}
	var origin []compat.Evidence
	for _, e := range f.Origin {
		if !slices.Contains(origin, e) {
			origin = append(origin, e)
		}
	}
	f.Origin = some(origin)
	s.findings = append(s.findings, f)
}

// shares returns the bottle's part for an amount in litres.
func (s *situation) shares(a float64) shares {
	v := s.vol.before(a)
	part := func(old, top float64) float64 {
		if top <= 0 {
			return 0
		}
		return top / (old + top)
	}
	return shares{
		share{part(v*s.fill.high, a*s.add.low), part(v*s.fill.low, a*s.add.high)},
		share{part(v, a), part(v, a)},
	}
}

// charge returns what the system holds after a litres are poured. It is not
// known where a strength is not.
func (s *situation) charge(a float64) (Charge, bool) {
	if !s.fill.exact || !s.add.exact && a > 0 {
		return Charge{}, false
	}
	c := s.t.pour(s.fill.glycol, s.vol.before(a), s.fill.low/100)
	if a > 0 {
		c = c.Add(s.t.pour(s.add.glycol, a, s.add.low/100))
	}
	return c, true
}

// glycolKnown reports whether both glycols are stated, as far as there is any.
func (s *situation) glycolKnown() bool {
	return (s.fill.glycol != "" || s.fill.exact && s.fill.high == 0) && (s.add.glycol != "" || s.add.exact && s.add.high == 0)
}

// special reports whether a fluid is in play whose freezing and boiling
// the glycol tables do not hold.
func (s *situation) special() bool {
	for _, sub := range []*substance{&s.fill, &s.add} {
		if i, ok := sub.only(); ok && !s.t.families[i].engine && s.t.families[i].id != waterID {
			return true
		}
	}
	return false
}

// poured returns the amount and whether it is known together with the volume
// in the engine.
func (s *situation) poured() (float64, bool) {
	if !s.q.AddVolume.Known || s.vol.perLitre || s.q.AddVolume.Value.Litres() < 0 {
		return 0, false
	}
	return s.q.AddVolume.Value.Litres(), true
}

// nothing reports whether the question is about pouring nothing.
func (s *situation) nothing() bool {
	return s.q.AddVolume.Known && s.q.AddVolume.Value.Compare(units.Volume{}) == 0
}
