package app

import (
	"context"
	"fmt"

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
