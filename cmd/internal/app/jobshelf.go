package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
	"fitfill/compat/job"
)

// pour is one coolant that could go in, with how much of it.
type pour struct {
	part          *catalog.Part
	outcome       compat.Outcome
	first         string
	findings      []compat.Finding
	cautions      []string
	bottle, water units.Volume
	ends          string
	cost          catalog.Stated[units.Money]
	packs         string
}

// pours judges the coolants on file for the job and returns the best two: by
// outcome, the house coolant before others, then by what the amount costs. A
// trade has thousands of them and a few labels: each label is judged once, and
// only the two are put into words.
func (s *Shop) pours(ctx context.Context, v *sqlite.View, q JobQuestion, j job.Job, family *catalog.EngineFamily, loop catalog.Circuit, fill coolant.Fluid, capacity units.Volume, drained catalog.Stated[units.Volume]) ([]pour, error) {
	judge := func(part *catalog.Part) (pour, bool) {
		p, ok := s.pour(j, q.Rounds, family, loop, fill, part, capacity, drained)
		return p, ok && (p.outcome == compat.Yes || p.outcome == compat.Caution || q.Add != "") // what was asked for is answered, whatever it is
	}
	best, err := s.bestOnFile(ctx, v, q.Add, fill.Product, judge)
	if err != nil {
		return nil, err
	}
	var out []pour
	for i := range best {
		if p, ok := judge(&best[i]); ok {
			out = append(out, p)
		}
	}
	return out, nil
}

// bestOnFile returns the best two of the coolants in the sheets, or the one that
// is wanted. filled is the product that is in the engine, nil where nobody knows.
func (s *Shop) bestOnFile(ctx context.Context, v *sqlite.View, wanted string, filled *catalog.Part, judge func(*catalog.Part) (pour, bool)) ([]catalog.Part, error) {
	if wanted != "" {
		p, err := s.coolantProduct(ctx, v, wanted, false)
		if err != nil || p == nil {
			if err == nil {
				err = &UsageError{Problem: fmt.Sprintf("--add %q is no product number on file", wanted), Hint: "see: fitfill find coolant --type coolant"}
			}
			return nil, err
		}
		return []catalog.Part{*p}, nil
	}
	ids, err := v.PartIDsOfType(ctx, "coolant")
	if err != nil {
		return nil, err
	}
	type judged struct {
		bottle units.Volume
		offered
		ok bool
	}
	labels := map[label]judged{}
	var list []offered
	err = v.EachPart(ctx, ids, func(part *catalog.Part) error {
		says := labelOf(part, filled)
		of, known := labels[says]
		if !known {
			var p pour
			p, of.ok = judge(part)
			of.bottle, of.outcome = p.bottle, p.outcome
			labels[says] = of
		}
		if of.ok {
			of.id, of.number, of.house = part.ID, part.Number, s.inHouse(part)
			of.cost, _, _ = s.costOf(part, of.bottle)
			list = append(list, of.offered)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(list, offered.compare)
	ids = ids[:0]
	for _, o := range list[:min(2, len(list))] {
		ids = append(ids, o.id)
	}
	return v.Parts(ctx, ids)
}

// label is what is judged of a coolant: two with one label go into an engine
// alike, whoever sells them for what.
type label struct {
	says     [9]string
	stated   [9]bool
	strength units.Percent
	exact    bool
	number   string // where it may be the product that is in the engine
}

func labelOf(p, filled *catalog.Part) label {
	l := label{strength: p.Strength.Value, exact: p.Strength.Known}
	for i, cell := range [len(l.says)]*catalog.Stated[string]{&p.Type, &p.Description, &p.Notes, &p.MixingClaim, &p.Approvals, &p.Chemistry, &p.Glycol, &p.Form, &p.Colour} {
		l.says[i], l.stated[i] = cell.Value, cell.Known
	}
	if filled != nil && catalog.Key(filled.Number) == p.Key {
		l.number = p.Supplier + " " + p.Number
	}
	return l
}

// offered is what the order of coolants goes by.
type offered struct {
	id      int64
	outcome compat.Outcome
	house   bool
	cost    catalog.Stated[units.Money]
	number  string
}

// compare puts the better outcome first, the house coolant before others, then
// what is cheaper, then what has a price at all.
func (x offered) compare(y offered) int {
	first := func(a, b bool) int {
		switch {
		case a == b:
			return 0
		case a:
			return -1
		}
		return 1
	}
	cost := 0
	if x.cost.Known && y.cost.Known {
		cost = cmp.Compare(x.cost.Value.TenThousandths(), y.cost.Value.TenThousandths())
	}
	return cmp.Or(first(y.outcome.Worse(x.outcome), x.outcome.Worse(y.outcome)), first(x.house, y.house), cost, first(x.cost.Known, y.cost.Known), strings.Compare(x.number, y.number))
}

// pour judges one coolant and computes its amount. It reports false where its
// label does not say how strong it is.
func (s *Shop) pour(j job.Job, rounds bool, family *catalog.EngineFamily, loop catalog.Circuit, fill coolant.Fluid, part *catalog.Part, capacity units.Volume, drained catalog.Stated[units.Volume]) (pour, bool) {
	add := ofProduct(coolant.Fluid{}, part)
	if !rounds {
		p, ok := s.refill(family, loop, fill, add, part, capacity, drained)
		same := fill.ByColour+strings.Join(fill.Chemistries, "") == strings.Join(add.Chemistries, "")
		// A change is for getting rid of what does not go together with the new one.
		if j.ID != roleCoolant || same || ok && p.outcome == compat.Yes {
			return p, ok
		}
	}
	p := pour{part: part}
	plan, err := s.coolant().Flush(coolant.FlushQuestion{Engine: family, Circuit: loop.Name, From: fill, To: add, Drain: drained, Coldest: s.Settings.Coldest, Show: s.Settings.Units})
	if err != nil || plan.Final == nil {
		return p, false
	}
	p.outcome, p.first, p.findings, p.cautions = plan.Outcome, plan.First, plan.Findings, plan.Cautions
	p.bottle, p.water = plan.Bottle, deionised(plan)
	return s.priced(p), true
}

// refill judges a coolant that goes in for what came out, with what stays in,
// and computes its amount. It reports false where its label does not say how
// strong it is.
func (s *Shop) refill(family *catalog.EngineFamily, loop catalog.Circuit, fill, add coolant.Fluid, part *catalog.Part, capacity units.Volume, drained catalog.Stated[units.Volume]) (pour, bool) {
	p := pour{part: part}
	target := s.job().Strength()
	if loop.Strength.Known {
		target = loop.Strength.Value
	}
	strength := s.coolant().BottleStrength(add)
	if !strength.Known {
		return p, false
	}
	present := fill.Strength
	if slices.Equal(fill.Chemistries, []string{"water"}) {
		present = catalog.Say(units.Percent{}, "", catalog.Origin{})
	}
	if !present.Known { // reckoned with what the engine should hold, and said so
		present.Value = target
	}
	r := job.Refilled(capacity, drained.Value, present.Value, target, strength.Value, part.Form.Value != "concentrate")
	p.bottle, p.water = r.Bottle, r.Water
	p.ends = fmt.Sprintf("; ends at %.0f %%", r.Ends.Percents())
	if !present.Known {
		p.ends += fmt.Sprintf(" if what stays in has %.0f %%: measure it", target.Percents())
	}
	if r.DrainMore {
		p.ends += ": for more, drain more"
	}
	add.Strength = catalog.Say(units.Percents(100*r.Bottle.Ratio(drained.Value)*strength.Value.Fraction()), "", strength.Origin) // as it is mixed
	short := r.Ends.Percents() < target.Percents()-wholePercent/2
	a := s.coolant().Mix(coolant.Question{
		Engine: family, Circuit: loop.Name, Fill: fill, Add: add, AddVolume: drained, Coldest: s.Settings.Coldest,
		Altitude: s.Settings.Altitude, CapPressure: statedOr(s.Settings.CapPressure, family.CapPressure), TestsAtHand: s.Settings.TestsAtHand, Show: s.Settings.Units,
	})
	p.outcome, p.first, p.findings, p.cautions = a.Outcome, a.First, a.Findings, a.Cautions
	if short {
		p.outcome = compat.Worst(p.outcome, compat.Caution)
		p.ends += fmt.Sprintf(", the engine takes %.0f %%", target.Percents())
	}
	return s.priced(p), true
}
