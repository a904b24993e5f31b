package coolant

import (
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// known says how it is known what a fluid is.
type known uint8

const (
	notKnown    known = iota
	byColour          // only a colour is known
	presumption       // the first fill, presumed untouched
	said              // somebody said so, or a record
	byLabel           // the product's own label
	byLog             // the log of what went in
)

// substance is a fluid as the judgement sees it.
type substance struct {
	fluid *Fluid
	how   known
	may   []int // families, the likeliest first
	mixed []component
	rest  float64 // 0 to 1: part of a mixed fill that may be any of may

	low, high float64 // vol % as poured
	exact     bool    // low and high are one known figure
	glycol    string  // "" not stated

	contains, free []string
	claim          string // any, none or ""
	universal      bool   // the label claims mixing and states no chemistry
	approvals      []catalog.Approval
	standards      []standard
	odd            []string // what was said and is not on file, or does not agree
	ruledOut       [][]int  // by each reading of the fluid
	against        []bool   // readings that contradict what is known of it
	pm             float64  // vol % that the strength may be off
}

// component is one family's part in the concentrate of a fluid.
type component struct {
	family int
	share  float64 // 0 to 1
}

// substance works out what a fluid may be. A bottle may hold anything; what is
// found in an engine is looked for among the engine families.
func (t *Tables) substance(f *Fluid, bottle bool, loop *catalog.Circuit) substance {
	s := substance{
		fluid: f, claim: t.claimOf(f.Product), approvals: labelApprovals(f.Product),
		standards: t.labelStandards(f.Product), glycol: f.Glycol,
	}
	if f.ByApproval != "" {
		s.approvals = append(s.approvals, catalog.ReadApprovals(f.ByApproval)...)
	}
	contains, free := t.labelContents(f.Product)
	s.contains = append(slices.Clone(f.Contains), contains...)
	s.free = append(slices.Clone(f.FreeOf), free...)
	if s.glycol == "" && f.Product != nil {
		s.glycol = f.Product.Glycol.Value
	}
	t.identify(&s, bottle, loop)
	s.may = t.narrow(&s)
	if !bottle {
		t.narrowByReadings(&s)
	}
	t.mix(&s)
	t.strengthOf(&s, bottle, loop)
	return s
}

// mix takes the shares of a fill that is known to be a mix. What is not known
// of it may be any of the families found so far; if that is only one, it is
// known.
func (t *Tables) mix(s *substance) {
	whole := 0.0
	for _, sh := range s.fluid.Mixed {
		i, known := t.byID[sh.Chemistry]
		part := sh.Percent.Fraction()
		switch {
		case part <= 0:
			continue
		case known:
			s.mixed = merge(s.mixed, component{i, part})
		case len(s.may) == 1:
			s.mixed = merge(s.mixed, component{s.may[0], part})
		default:
			s.rest += part
		}
		whole += part
	}
	if len(s.mixed) == 0 {
		s.rest = 0
		return
	}
	s.how = byLog
	s.rest /= whole
	for i := range s.mixed {
		s.mixed[i].share /= whole
	}
	if s.rest > 0 {
		return
	}
	s.may = nil
	for _, c := range s.mixed {
		s.may = append(s.may, c.family)
	}
}

// merge adds a component to those of its family.
func merge(list []component, c component) []component {
	for i := range list {
		if list[i].family == c.family {
			list[i].share += c.share
			return list
		}
	}
	return append(list, c)
}

// knownMix reports whether all that a mixed fill holds is known.
func (s *substance) knownMix() bool { return len(s.mixed) > 0 && s.rest == 0 }

// identify fills in what the fluid may be and how that is known.
func (t *Tables) identify(s *substance, bottle bool, loop *catalog.Circuit) {
	f := s.fluid
	unknown := false
	for _, id := range f.Chemistries {
		if i, ok := t.byID[id]; ok {
			s.may = append(s.may, i)
		} else if id == unknownID {
			unknown = true
		} else {
			s.odd = append(s.odd, id)
		}
	}
	presumed := f.Presumed && !t.otherColour(f, loop)
	switch {
	case presumed && len(s.may) == 0 && loop != nil:
		s.may = t.splitIDs(loop.CoolantChem.Value)
	case f.Presumed && !presumed:
		s.may = nil
	}
	switch {
	case len(s.odd) > 0 || unknown:
		s.may = nil
	case presumed && len(s.may) > 0:
		s.how = presumption
		return
	case f.ByColour != "":
		rest := t.byColour(f.ByColour, bottle && !t.coolantLabel(s))
		s.may = append(s.may, slices.DeleteFunc(rest, func(i int) bool { return slices.Contains(s.may, i) })...)
		s.how = byColour
		return
	case len(s.may) > 0:
		s.how = said
		return
	case f.Product != nil && f.Product.Chemistry.Known:
		if s.may = t.splitIDs(f.Product.Chemistry.Value); len(s.may) > 0 {
			s.how = byLabel
			return
		}
	}
	for _, st := range s.standards {
		if len(st.chemistries) > 0 {
			s.may, s.how = st.chemistries, byLabel
			return
		}
	}
	s.universal = s.claim == claimAny
	s.may = t.everyFluid(bottle && !t.coolantLabel(s))
	if low := t.byID[lowConductivityID]; !bottle && loop != nil && slices.Contains(t.splitIDs(loop.CoolantChem.Value), low) {
		s.may = append([]int{low}, s.may...)
	}
}

// only returns the family where just one is possible.
func (s *substance) only() (int, bool) {
	if len(s.may) == 1 && s.rest == 0 {
		return s.may[0], true
	}
	return 0, false
}

// is reports whether the fluid is known to be of that chemistry.
func (t *Tables) is(s *substance, id string) bool {
	i, ok := s.only()
	return ok && t.families[i].id == id
}

// strengthOf works out the strength as poured: what is stated, what the label
// or the engine's own facts give, else the usual range, of which the worst
// counts.
func (t *Tables) strengthOf(s *substance, bottle bool, loop *catalog.Circuit) {
	f := s.fluid
	full := t.lim.concentrate
	if s.pm = f.StrengthPM.Percents(); s.pm <= 0 {
		s.pm = t.lim.strengthPM
	}
	known := func(v float64) { s.low, s.high, s.exact = v, v, true }
	switch {
	case f.Strength.Known && f.Strength.Value.Percents() >= 0 && f.Strength.Value.Percents() <= 100:
		known(f.Strength.Value.Percents())
	case t.is(s, waterID):
		known(0)
	case !bottle && s.how == presumption && loop != nil && loop.Strength.Known:
		known(loop.Strength.Value.Percents())
	case !bottle:
		s.low, s.high = t.lim.fillLow, t.lim.fillHigh
	case f.Product != nil && f.Product.Form.Value == "concentrate":
		known(full)
	case f.Product != nil && f.Product.Strength.Known:
		known(f.Product.Strength.Value.Percents() * full / 100)
	case f.Product != nil && f.Product.Form.Value == "premix":
		known(t.lim.premix)
	default:
		s.low, s.high = t.lim.premix, full
	}
}

// grade is how strong the knowledge of what a fluid is makes a finding.
func (s *substance) grade(otherwise compat.Grade) compat.Grade {
	switch {
	case s.how == presumption:
		return compat.Presumed
	case s.universal:
		return compat.Label
	}
	return otherwise
}

// evidence cites where the fluid's chemistry was read.
func (s *substance) evidence() []compat.Evidence {
	if len(s.fluid.Origins) > 0 {
		return cite(s.fluid.Origins[len(s.fluid.Origins)-1])
	}
	if s.fluid.Product != nil && s.fluid.Product.Chemistry.Origin.Known() {
		return []compat.Evidence{compat.From(s.fluid.Product.Chemistry.Origin)}
	}
	return nil
}

// litres is a volume from litres.
func litres(v float64) units.Volume { return units.Litres(v) }
