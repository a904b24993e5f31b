package coolant

import (
	"cmp"
	"slices"

	"fitfill/compat"
)

// rule is what the tables say of two families in this question, with what
// labels, water and the engine's maker add to it.
type rule struct {
	pair   *pairRow
	a, b   int
	same   bool   // one product, or both approved by the engine's maker: as one family
	forbid string // reason id of a rule that nothing lifts
	harden bool   // hard water: one step worse
	lift   bool   // a label claims that they mix: never worse than caution
	cap    bool   // a label leaves it open: never better than caution
	gels   bool   // silicate that may fall out of a mix that is too strong
}

const (
	amineID  = "amine"
	amineNO2 = "r5"
	hardOnly = "r3"
	gelID    = "r2"
	lowCond  = "r9"
	dryOnly  = "r10"
	plainID  = "r0"
	waterBad = "r16"
)

// ruleFor builds the rule of one family of the fill and one of the bottle.
func (s *situation) ruleFor(f, a int) rule {
	t := s.t
	r := rule{pair: t.pairs[f][a], a: f, b: a}
	fam, fbm := &t.families[f], &t.families[a]
	switch {
	case s.sameProduct:
		r.same = true
	case fam.id == lowConductivityID && fbm.id == lowConductivityID && !s.named:
		r.forbid = lowCond
	case fam.id == waterlessID && fbm.id == waterlessID && s.fill.glycol != "" && s.add.glycol != "" && s.fill.glycol != s.add.glycol:
		r.forbid = dryOnly
	case s.amineMeetsNitrite(fam, fbm):
		r.forbid = amineNO2
	case s.bothApproved && !r.pair.trace:
		r.same = true
	}
	claim := s.fill.claim == claimAny || s.add.claim == claimAny
	r.lift = (claim || s.bothMeet) && !r.pair.trace
	r.cap = s.add.universal || f != a && fbm.id != waterID && (s.add.claim == claimNone || s.fill.claim == claimNone)
	if f != a && s.hardWater {
		r.harden = slices.Contains(r.pair.reasons, gelID) || slices.Contains(r.pair.reasons, hardOnly)
	}
	if fbm.id == waterID || fam.id == waterID {
		r.harden = s.badWater && slices.Contains(r.pair.reasons, waterBad)
	}
	r.gels = slices.Contains(r.pair.reasons, gelID)
	return r
}

// amineMeetsNitrite reports whether one side is declared to hold amine and the
// other holds nitrite.
func (s *situation) amineMeetsNitrite(f, a *family) bool {
	has := func(x *substance, fam *family, what string) bool {
		return slices.Contains(x.contains, what) || fam.holds[what] == plus && !slices.Contains(x.free, what)
	}
	return has(&s.fill, f, amineID) && has(&s.add, a, nitriteID) || has(&s.add, a, amineID) && has(&s.fill, f, nitriteID)
}

// judge returns the outcome at a share of foreign concentrate in per cent and
// the band of the class, -1 where the share is too small to count.
func (r *rule) judge(pct float64, strong bool) (compat.Outcome, int) {
	if pct <= 0 {
		return compat.Yes, -1
	}
	if r.forbid != "" {
		return compat.No, len(r.pair.class.bands) - 1
	}
	if r.same {
		return compat.Yes, -1
	}
	band := r.pair.class.band(pct, r.pair.trace)
	if band < 0 && !r.cap {
		return compat.Yes, -1
	}
	out := compat.Yes
	if band >= 0 {
		out = r.pair.class.bands[band].outcome
	}
	if r.harden {
		out = stepDown(out)
	}
	if strong && r.gels {
		out = stepDown(out)
	}
	if r.lift && out == compat.No {
		out = compat.Caution
	}
	if r.cap {
		out = compat.Worst(out, compat.Caution)
	}
	return out, band
}

// stepDown is one step worse: yes, caution, no.
func stepDown(o compat.Outcome) compat.Outcome {
	if o == compat.Yes {
		return compat.Caution
	}
	return compat.No
}

// gravest orders the kinds of reasons for the one that is told.
var gravest = []string{"never", "deposit", "wear", "guard", "life", "note"}

// why returns the reasons behind a rule, the gravest first.
func (t *Tables) why(r *rule) []reason {
	if r.forbid != "" {
		return []reason{t.reasons[r.forbid]}
	}
	var list []reason
	for _, id := range r.pair.reasons {
		list = append(list, t.reasons[id])
	}
	slices.SortStableFunc(list, func(a, b reason) int {
		return cmp.Compare(slices.Index(gravest, a.kind), slices.Index(gravest, b.kind))
	})
	return list
}
