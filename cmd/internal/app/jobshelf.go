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

// pours judges the coolants on file for the job, the best first: by outcome,
// the house coolant before others, then by what the amount costs. Behind two that
// go in as they are it may leave out any others.
func (s *Shop) pours(ctx context.Context, v *sqlite.View, q JobQuestion, j job.Job, family *catalog.EngineFamily, loop catalog.Circuit, fill coolant.Fluid, capacity units.Volume, drained catalog.Stated[units.Volume]) ([]pour, error) {
	judge := func(part *catalog.Part) (pour, bool) {
		p, ok := s.pour(j, q.Rounds, family, loop, fill, part, capacity, drained)
		return p, ok && (p.outcome == compat.Yes || p.outcome == compat.Caution || q.Add != "") // what was asked for is answered, whatever it is
	}
	if !q.Rounds && j.ID != roleCoolant && q.Add == "" {
		return s.cheapestPours(ctx, v, judge, func(part *catalog.Part) (pour, bool) {
			p, ok := s.refill(loop, fill, part, capacity, drained)
			return p.pour, ok
		})
	}
	products, err := s.coolantsOnFile(ctx, v, q.Add)
	if err != nil {
		return nil, err
	}
	var out []pour
	for i := range products {
		if p, ok := judge(&products[i]); ok {
			out = append(out, p)
		}
	}
	s.arrange(out)
	return out, nil
}

// cheapestPours is pours where an amount can be told without judging: a shelf of
// thousands is put in the order of what that costs, and judged until two go in as
// they are.
func (s *Shop) cheapestPours(ctx context.Context, v *sqlite.View, judge, amount func(*catalog.Part) (pour, bool)) ([]pour, error) {
	ids, err := v.PartIDsOfType(ctx, "coolant")
	if err != nil {
		return nil, err
	}
	var offers []offered
	err = v.EachPart(ctx, ids, func(part *catalog.Part) error {
		if p, ok := amount(part); ok {
			p.cost, _, _ = s.costOf(part, p.bottle)
			offers = append(offers, s.offer(&p))
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(offers, offered.compare)
	var out []pour
	certain := 0
	for more := 16; len(offers) > 0 && certain < 2; more *= 2 {
		next := offers[:min(more, len(offers))]
		offers = offers[len(next):]
		ids = ids[:0]
		for _, o := range next {
			ids = append(ids, o.id)
		}
		parts, err := v.Parts(ctx, ids)
		if err != nil {
			return nil, err
		}
		for i := 0; i < len(parts) && certain < 2; i++ {
			if p, ok := judge(&parts[i]); ok {
				out = append(out, p)
				if p.outcome == compat.Yes {
					certain++
				}
			}
		}
	}
	s.arrange(out)
	return out, nil
}

// offered is what the order of equally good coolants goes by.
type offered struct {
	id     int64
	number string
	house  bool
	cost   catalog.Stated[units.Money]
}

func (s *Shop) offer(p *pour) offered {
	return offered{p.part.ID, p.part.Number, p.part.Key == catalog.Key(s.Settings.HouseCoolant), p.cost}
}

// compare puts the house coolant first, then what is cheaper, then what has a
// price at all.
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
	return cmp.Or(first(x.house, y.house), cost, first(x.cost.Known, y.cost.Known), strings.Compare(x.number, y.number))
}

// arrange puts pours in order, the best first.
func (s *Shop) arrange(pours []pour) {
	slices.SortStableFunc(pours, func(x, y pour) int {
		switch {
		case y.outcome.Worse(x.outcome):
			return -1
		case x.outcome.Worse(y.outcome):
			return 1
		}
		return s.offer(&x).compare(s.offer(&y))
	})
}

// coolantsOnFile returns the coolants in the sheets, or the one that is wanted.
func (s *Shop) coolantsOnFile(ctx context.Context, v *sqlite.View, wanted string) ([]catalog.Part, error) {
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
	return v.Parts(ctx, ids)
}

// pour judges one coolant and computes its amount. It reports false where its
// label does not say how strong it is.
func (s *Shop) pour(j job.Job, rounds bool, family *catalog.EngineFamily, loop catalog.Circuit, fill coolant.Fluid, part *catalog.Part, capacity units.Volume, drained catalog.Stated[units.Volume]) (pour, bool) {
	add := ofProduct(coolant.Fluid{}, part)
	if !rounds {
		p, ok := s.refilledWith(family, loop, fill, part, capacity, drained)
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

// refilledWith is a coolant that goes in for what came out, judged with what stays
// in. It reports false where its label does not say how strong it is.
func (s *Shop) refilledWith(family *catalog.EngineFamily, loop catalog.Circuit, fill coolant.Fluid, part *catalog.Part, capacity units.Volume, drained catalog.Stated[units.Volume]) (pour, bool) {
	p, ok := s.refill(loop, fill, part, capacity, drained)
	if !ok {
		return p.pour, false
	}
	return s.mixed(p, family, loop, fill, drained), true
}

// refilled is a coolant that goes in for what came out, with how much of it.
type refilled struct {
	pour
	job.Refill
	add      coolant.Fluid // as it is mixed
	reckoned bool          // nobody has said how strong that is which stays in
}

// refill computes how much of a coolant goes in for what came out, with what
// stays in. It reports false where its label does not say how strong it is.
func (s *Shop) refill(loop catalog.Circuit, fill coolant.Fluid, part *catalog.Part, capacity units.Volume, drained catalog.Stated[units.Volume]) (refilled, bool) {
	p := refilled{pour: pour{part: part}, add: ofProduct(coolant.Fluid{}, part)}
	target := s.strengthOf(loop)
	strength := s.coolant().BottleStrength(p.add)
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
	p.Refill = job.Refilled(capacity, drained.Value, present.Value, target, strength.Value, part.Form.Value != "concentrate")
	p.bottle, p.water, p.reckoned = p.Bottle, p.Water, !present.Known
	p.add.Strength = catalog.Say(units.Percents(100*p.Bottle.Ratio(drained.Value)*strength.Value.Fraction()), "", strength.Origin)
	return p, true
}

// strengthOf is the strength that a loop is filled at.
func (s *Shop) strengthOf(loop catalog.Circuit) units.Percent {
	return loop.Strength.Or(s.job().Strength())
}

// mixed judges a coolant that goes in for what came out.
func (s *Shop) mixed(p refilled, family *catalog.EngineFamily, loop catalog.Circuit, fill coolant.Fluid, drained catalog.Stated[units.Volume]) pour {
	a := s.coolant().Mix(coolant.Question{
		Engine: family, Circuit: loop.Name, Fill: fill, Add: p.add, AddVolume: drained, Coldest: s.Settings.Coldest,
		Altitude: s.Settings.Altitude, CapPressure: statedOr(s.Settings.CapPressure, family.CapPressure), TestsAtHand: s.Settings.TestsAtHand, Show: s.Settings.Units,
	})
	p.outcome, p.first, p.findings, p.cautions = a.Outcome, a.First, a.Findings, a.Cautions
	target := s.strengthOf(loop).Percents()
	p.ends = fmt.Sprintf("; ends at %.0f %%", p.Ends.Percents())
	if p.reckoned {
		p.ends += fmt.Sprintf(" if what stays in has %.0f %%: measure it", target)
	}
	if p.DrainMore {
		p.ends += ": for more, drain more"
	}
	if p.Ends.Percents() < target-wholePercent/2 {
		p.outcome = compat.Worst(p.outcome, compat.Caution)
		p.ends += fmt.Sprintf(", the engine takes %.0f %%", target)
	}
	return s.priced(p.pour)
}
