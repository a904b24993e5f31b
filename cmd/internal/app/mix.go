package app

import (
	"context"
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

// MixQuestion asks whether one fluid may go on top of another.
type MixQuestion struct {
	Vehicle   string // mark or plate: its engine, and what is in it by its log
	Engine    string
	Circuit   string
	Fill, Add FluidSaid
	Look      string // clear, hazy, rusty, oily or gel
	Hardness  string // of the water, mg/L as CaCO3
	Chloride  string // of the water, mg/L
	Tests     TestsSaid
}

// MixAnswer is the judgement with what the question was read as.
type MixAnswer struct {
	coolant.Answer
	Vehicle string
	Engine  string
	Fill    string // what the fill was read as
	Add     string
	Filter  bool // a coolant filter was asked about, no bottle

	// Loss is what the log of the vehicle says that the system loses.
	Loss *coolant.Loss

	// NotKept says why the answer is not on record for the vehicle.
	NotKept string

	Own *OwnNote
}

// Mix judges a top-off.
func (s *Shop) Mix(ctx context.Context, q MixQuestion) (MixAnswer, error) {
	var a MixAnswer
	err := s.store.View(ctx, func(v *sqlite.View) error {
		cq := coolant.Question{
			Circuit: q.Circuit, Coldest: s.Settings.Coldest, Altitude: s.Settings.Altitude,
			TestsAtHand: s.Settings.TestsAtHand, Show: s.Settings.Units, Condition: q.Look,
		}
		var car catalog.Vehicle
		var fills []catalog.Fill
		if _, err := s.takeSaid(ctx, v, &q.Engine, &q.Vehicle); err != nil {
			return err
		}
		if q.Vehicle != "" {
			var err error
			if car, fills, err = s.vehicleOf(ctx, v, &q); err != nil {
				return err
			}
			a.Vehicle = car.Mark
		}
		if q.Engine != "" {
			_, family, err := engineKeys(ctx, v, q.Engine)
			if err != nil {
				return err
			}
			cq.Engine, a.Engine = &family, family.Family
			cq.CapPressure = family.CapPressure
		}
		if s.Settings.CapPressure.Known {
			cq.CapPressure = s.Settings.CapPressure
		}
		if _, err := s.coolant().Ambient(s.Settings.Altitude); err != nil {
			return &UsageError{Problem: "setting altitude: " + err.Error(), Hint: "write it like 500 m or 1640 ft"}
		}
		var err error
		if err = s.nameCircuit(&cq); err != nil {
			return err
		}
		if err = s.nameLook(&cq); err != nil {
			return err
		}
		if cq.WaterHardness, err = milligrams("--hardness", q.Hardness, hardnessUnits); err != nil {
			return err
		}
		if cq.WaterChloride, err = milligrams("--chloride", q.Chloride, nil); err != nil {
			return err
		}
		said := q.Fill
		if q.Vehicle != "" && said.What == "" {
			said.What = "unknown"
		}
		if cq.Fill, cq.FillVolume, err = s.fluid(ctx, v, "fill", said, cq.Engine, cq.Circuit); err != nil {
			return err
		}
		if q.Vehicle != "" && q.Fill.What == "" {
			said := cq.Fill
			if cq.Fill, err = s.fillOfVehicle(ctx, v, car, fills, &cq); err != nil {
				return err
			}
			a.Loss = s.lossOf(fills, &cq)
			if said.Strength.Known { // measured on the vehicle
				cq.Fill.Strength, cq.Fill.StrengthPM = said.Strength, units.Percent{}
			}
			if said.Glycol != "" {
				cq.Fill.Glycol = said.Glycol
			}
		}
		if cq.Add, cq.AddVolume, err = s.fluid(ctx, v, "add", q.Add, cq.Engine, cq.Circuit); err != nil {
			return err
		}
		if err := q.Tests.readings(&cq); err != nil {
			return err
		}
		a.Fill, a.Add = cq.Fill.Said, cq.Add.Said
		judge := (*coolant.Tables).Mix
		if p := cq.Add.Product; p != nil && p.Type.Value == filterType {
			a.Filter = true
			judge = func(t *coolant.Tables, q coolant.Question) coolant.Answer { return t.Filter(q, p) }
		}
		a.Answer = judge(s.coolant(), cq)
		if len(s.own) > 0 {
			by := judge(s.shipped.coolant(), cq)
			if a.Own, err = s.ownDifference("coolant_", a.Answer, by, a.Findings, a.First, by.First); err != nil {
				return err
			}
		}
		if err := fillTexts(ctx, v, a.Findings); err != nil {
			return err
		}
		return fillTexts(ctx, v, a.NotChecked)
	})
	if err == nil && a.Vehicle != "" {
		a.NotKept = s.Said(ctx, saidMix(a, q))
	}
	return a, err
}

// nameCircuit finds the circuit that is meant among those on file, whatever
// its capitals.
func (s *Shop) nameCircuit(q *coolant.Question) error {
	if q.Circuit == "" {
		return nil
	}
	if q.Engine == nil {
		return &UsageError{Problem: "--circuit needs to know the engine", Hint: "add --engine CODE"}
	}
	var names []string
	for _, c := range q.Engine.Circuits {
		if catalog.Fold(c.Name) == catalog.Fold(q.Circuit) {
			q.Circuit = c.Name
			return nil
		}
		names = append(names, c.Name)
	}
	hint := "none is on file: leave --circuit out, or put it into the engines sheet"
	if len(names) > 0 {
		hint = "on file are: " + strings.Join(names, ", ")
	}
	return &UsageError{Problem: fmt.Sprintf("%s has no circuit called %q", q.Engine.Family, q.Circuit), Hint: hint}
}

func (s *Shop) nameLook(q *coolant.Question) error {
	if q.Condition == "" {
		return nil
	}
	name, ok := s.coolant().Condition(q.Condition)
	if !ok {
		return &UsageError{Problem: fmt.Sprintf("--look %q is not a look that is on file", q.Condition), Hint: "it is one of " + strings.Join(s.coolant().Conditions(), ", ")}
	}
	q.Condition = name
	return nil
}

func statedOr[T any](a, b catalog.Stated[T]) catalog.Stated[T] {
	if a.Known {
		return a
	}
	return b
}
