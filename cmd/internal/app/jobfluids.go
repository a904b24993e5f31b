package app

import (
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

// wholePercent is the step in which strengths are told.
const wholePercent = 1.0

const (
	roleCoolant = "coolant"
	roleWater   = "distilled water"
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

// jobFluids puts coolant and water on the list: what came out goes back in, at
// the engine's strength. It returns what came out, where somebody said so.
func (s *Shop) jobFluids(ctx context.Context, v *sqlite.View, q JobQuestion, j job.Job, family *catalog.EngineFamily, a *JobAnswer) (catalog.Stated[units.Volume], error) {
	told, err := s.volume("--drained", q.Drained, "4.4L")
	if err != nil {
		return told, err
	}
	loop := engineLoop(family)
	drained, capacity := statedOr(told, loop.DrainVolume), loop.CoolantCapacity
	if told.Known && capacity.Known && told.Value.Compare(capacity.Value) > 0 {
		return told, &UsageError{Problem: fmt.Sprintf("--drained %s is more than the %s that %s holds", q.Drained, s.Settings.Units.FormatVolume(capacity.Value), family.Family), Hint: "say what came out of the engine, without the rinses"}
	}
	fill, guessed, problem, err := s.jobFill(ctx, v, q, a, family, loop)
	if err != nil {
		return told, err
	}
	line := JobLine{Role: roleCoolant, Unit: "litre"}
	switch {
	case problem != "":
		line.Missing = problem
		a.TellWith = append(a.TellWith, "--fill WHAT")
	case !drained.Known || drained.Value.Nanolitres() == 0:
		line.Missing = fmt.Sprintf("how much is not on file: measure what comes out, and have %.0f %% more ready", s.job().Spare().Percents())
		a.TellWith = append(a.TellWith, "--drained VOLUME")
	}
	note := ""
	if !capacity.Known { // then what came out is filled as if it were all
		drained.Value = drained.Value.Scale(1 + s.job().Spare().Fraction())
		capacity = drained
		note = fmt.Sprintf("; what it holds is not on file: %.0f %% more than came out", s.job().Spare().Percents())
	}
	if j.Some && !told.Known {
		note += "; at most: only what runs out is lost"
	}
	if line.Missing != "" {
		line.Why = line.Missing
		a.Lines = append(a.Lines, line)
		return told, nil
	}
	pours, err := s.pours(ctx, v, q, j, family, loop, fill, capacity.Value, drained)
	if err != nil {
		return told, err
	}
	if !q.Rounds && q.Add == "" && (len(pours) == 0 || pours[0].outcome != compat.Yes) {
		// What is in it leaves nothing that this engine asks for: the old coolant comes out first.
		rinsed := q
		rinsed.Rounds = true
		better, err := s.pours(ctx, v, rinsed, j, family, loop, fill, capacity.Value, drained)
		if err != nil {
			return told, err
		}
		if len(better) > 0 && better[0].outcome == compat.Yes {
			pours, note = better, "; not on top of what is in it: get that out first"
		}
	}
	if len(pours) == 0 {
		line.Missing = fmt.Sprintf("no coolant on file goes into %s; %s came out", family.Family, s.Settings.Units.FormatVolume(drained.Value))
		line.Quantity, line.Why = drained.Value.Litres(), line.Missing
		a.Lines = append(a.Lines, line)
		return told, nil
	}
	chosen := s.pourLine(pours)
	if o := pours[0].outcome; !q.Rounds && (o == compat.No || o == compat.CannotSay) {
		note += "; get the old coolant out first"
		a.TellWith = append(a.TellWith, "--rinse")
	}
	if guessed && len(pours) > 0 && chosen.Outcome == compat.Yes {
		// Nobody has said what is in it: that it is the first fill still is a guess.
		chosen.Outcome = compat.Caution
		note += "; nobody has said what is in it: look first"
		a.TellWith = append(a.TellWith, "--fill WHAT", "--vehicle MARK")
	}
	chosen.Why += note
	a.Lines = append(a.Lines, chosen)
	if pours[0].water.Nanolitres() > 0 {
		water, err := s.waterLine(ctx, v, pours[0].water)
		if err != nil {
			return told, err
		}
		a.Lines = append(a.Lines, water)
	}
	a.Cautions = pours[0].cautions
	return told, nil
}

// engineLoop is the loop that these jobs open: the engine's.
func engineLoop(family *catalog.EngineFamily) catalog.Circuit {
	if c, ok := family.Circuit(catalog.DefaultCircuit); ok {
		return c
	}
	if len(family.Circuits) == 1 {
		return family.Circuits[0]
	}
	return catalog.Circuit{Name: catalog.DefaultCircuit}
}

// jobFill is what is in the engine: as told, else by the log of the car, else
// the engine's own coolant, which is then a guess.
func (s *Shop) jobFill(ctx context.Context, v *sqlite.View, q JobQuestion, a *JobAnswer, family *catalog.EngineFamily, loop catalog.Circuit) (fill coolant.Fluid, guessed bool, problem string, err error) {
	said := q.Fill
	if said.What == "" && a.Vehicle != "" {
		car, fills, err := s.vehicleOf(ctx, v, &MixQuestion{Vehicle: a.Vehicle, Engine: family.Family})
		if err != nil {
			return fill, false, "", err
		}
		if len(fills) > 0 || car.FirstFill != "" {
			cq := coolant.Question{Engine: family, Circuit: loop.Name}
			fill, err = s.fillOfVehicle(ctx, v, car, fills, &cq)
			return fill, false, "", err
		}
	}
	if said.What == "" {
		if !loop.CoolantChem.Known {
			return fill, false, "what is in it is not on file: look first, then ask again", nil
		}
		said.What, guessed = "factory", true
	}
	fill, _, err = s.fluid(ctx, v, "fill", said, family, loop.Name)
	return fill, guessed, "", err
}

// pours judges every coolant on file for the job, the best first: by outcome,
// the house coolant before others, then by what the amount costs.
func (s *Shop) pours(ctx context.Context, v *sqlite.View, q JobQuestion, j job.Job, family *catalog.EngineFamily, loop catalog.Circuit, fill coolant.Fluid, capacity units.Volume, drained catalog.Stated[units.Volume]) ([]pour, error) {
	products, err := s.coolantsOnFile(ctx, v, q.Add)
	if err != nil {
		return nil, err
	}
	var out []pour
	for i := range products {
		p, ok := s.pour(j, q.Rounds, family, loop, fill, &products[i], capacity, drained)
		if ok && (p.outcome == compat.Yes || p.outcome == compat.Caution || q.Add != "") { // what was asked for is answered, whatever it is
			out = append(out, p)
		}
	}
	house := catalog.Key(s.Settings.HouseCoolant)
	slices.SortStableFunc(out, func(x, y pour) int {
		switch {
		case x.outcome != y.outcome:
			return map[bool]int{true: 1, false: -1}[x.outcome.Worse(y.outcome)]
		case (x.part.Key == house) != (y.part.Key == house):
			return map[bool]int{true: -1, false: 1}[x.part.Key == house]
		case x.cost.Known && y.cost.Known && x.cost.Value != y.cost.Value:
			return map[bool]int{true: -1, false: 1}[x.cost.Value.TenThousandths() < y.cost.Value.TenThousandths()]
		case x.cost.Known != y.cost.Known:
			return map[bool]int{true: -1, false: 1}[x.cost.Known]
		}
		return strings.Compare(x.part.Number, y.part.Number)
	})
	return out, nil
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

// deionised is the water of a plan that has to be so: what goes in with the
// coolant, and the rinse before it, because part of that stays in.
func deionised(plan coolant.FlushPlan) units.Volume {
	var sum units.Volume
	for i, r := range plan.Rounds {
		if r.With == coolant.RinseCoolant || i+1 < len(plan.Rounds) && plan.Rounds[i+1].With == coolant.RinseCoolant {
			sum = sum.Add(r.Water)
		}
	}
	return sum
}
