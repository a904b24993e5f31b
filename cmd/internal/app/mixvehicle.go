package app

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat/coolant"
)

// vehicleOf finds the vehicle that the question names, and takes its engine
// where the question names none. A vehicle may be known by its fills alone.
func (s *Shop) vehicleOf(ctx context.Context, v *sqlite.View, q *MixQuestion) (catalog.Vehicle, []catalog.Fill, error) {
	car, err := vehicleNamed(ctx, v, q.Vehicle)
	if err != nil {
		return car, nil, err
	}
	if q.Engine == "" {
		q.Engine = car.Engine
	}
	fills, err := v.Fills(ctx, car.Mark)
	return car, fills, err
}

// fillOfVehicle works out what is in a circuit of a vehicle: its first fill and
// the log of what went in since.
func (s *Shop) fillOfVehicle(ctx context.Context, v *sqlite.View, car catalog.Vehicle, fills []catalog.Fill, q *coolant.Question) (coolant.Fluid, error) {
	f := coolant.Fluid{Said: "what " + car.Mark + " holds"}
	loop, known := loopMeant(q)
	if !known && q.Engine != nil && len(q.Engine.Circuits) > 1 {
		return f, nil // the judgement asks for the circuit first
	}
	if err := s.firstFill(ctx, v, car, &f, q); err != nil {
		return f, err
	}
	if _, since := firstFillOf(car); since.Known {
		f.ChangedMonths = s.monthsSince(since.Value)
	}
	var log []coolant.Poured
	var products []*catalog.Part
	for _, fill := range fills {
		if c := fill.Circuit; c != "" && known && catalog.Fold(c) != catalog.Fold(loop.Name) || !fill.Volume.Known {
			continue
		}
		p, part, err := s.poured(ctx, v, fill)
		if err != nil {
			return f, err
		}
		log, products = append(log, p), append(products, part)
		if isChange(fill) {
			f.ChangedMonths = s.monthsSince(fill.Date)
		}
	}
	if len(log) == 0 {
		if f.Presumed {
			f.Said = "the first fill of " + car.Mark + ", presumed untouched"
		}
		return f, nil
	}
	f.Said += " by its log"
	if !known || !loop.CoolantCapacity.Known {
		return lastOnly(f, log), nil
	}
	f = s.coolant().FillByLog(f, loop.CoolantCapacity.Value, log)
	if len(f.Mixed) == 1 { // one product alone keeps its label
		if p := oneProduct(log, products); p != nil {
			f.Product = p
		}
	}
	return f, nil
}

// isChange reports whether a line of the log let the old coolant out.
func isChange(f catalog.Fill) bool { return f.Drained.Known && f.Drained.Value.Nanolitres() > 0 }

// monthsSince is how long ago a day was, in months; not known of a day to come.
func (s *Shop) monthsSince(day catalog.Date) catalog.Stated[float64] {
	then, err := time.Parse(time.DateOnly, day.String())
	now, err2 := time.Parse(time.DateOnly, s.today().String())
	if err != nil || err2 != nil || then.After(now) {
		return catalog.Stated[float64]{}
	}
	return catalog.Say(now.Sub(then).Hours()/24*monthsAYear/daysAYear, day.String(), catalog.Origin{})
}

// lossOf returns what the log says that the circuit of a question loses; nil
// where it says nothing of it, or the circuit is not named.
func (s *Shop) lossOf(fills []catalog.Fill, q *coolant.Question) *coolant.Loss {
	loop, known := loopMeant(q)
	expansion := ""
	switch {
	case known:
		expansion = q.Engine.Expansion.Value
	case q.Engine != nil && len(q.Engine.Circuits) > 1:
		return nil
	}
	var here []catalog.Fill
	for _, f := range fills {
		if !known || catalog.Fold(circuitOf(f)) == catalog.Fold(loop.Name) {
			here = append(here, f)
		}
	}
	if l, ok := s.coolant().Loss(here, expansion, q.Show); ok {
		return &l
	}
	return nil
}

// loopMeant returns the circuit that the question is about, where that is
// clear.
func loopMeant(q *coolant.Question) (catalog.Circuit, bool) {
	if q.Engine == nil {
		return catalog.Circuit{}, false
	}
	if q.Circuit == "" && len(q.Engine.Circuits) == 1 {
		return q.Engine.Circuits[0], true
	}
	return q.Engine.Circuit(q.Circuit)
}

// firstFill reads what a vehicle's own record says of its first fill.
func (s *Shop) firstFill(ctx context.Context, v *sqlite.View, car catalog.Vehicle, f *coolant.Fluid, q *coolant.Question) error {
	what, _ := firstFillOf(car)
	if what == "" {
		return nil
	}
	said := f.Said
	f.Said = what
	err := s.identify(ctx, v, "vehicle", f, q.Engine, q.Circuit)
	f.Said = said
	var usage *UsageError
	if errors.As(err, &usage) { // the record says something that nothing is on file of: not known
		*f = coolant.Fluid{Said: said}
		return nil
	}
	return err
}

// poured turns a line of the log into what it poured. What its number or
// chemistry does not say is not known.
func (s *Shop) poured(ctx context.Context, v *sqlite.View, fill catalog.Fill) (coolant.Poured, *catalog.Part, error) {
	p := coolant.Poured{Volume: fill.Volume.Value, Drained: fill.Drained, Strength: fill.Strength, Origin: fill.Origin}
	var part *catalog.Part
	if fill.Number != "" {
		var err error
		var usage *UsageError
		if part, err = s.coolantProduct(ctx, v, fill.Number, false); err != nil && !errors.As(err, &usage) {
			return p, nil, err
		}
	}
	if id := strings.ToLower(strings.TrimSpace(fill.Chemistry)); slices.Contains(s.coolant().Chemistries(), id) {
		p.Chemistry = id
	}
	if part != nil {
		f := coolant.Fluid{Product: part}
		if id := part.Chemistry.Value; p.Chemistry == "" && slices.Contains(s.coolant().Chemistries(), id) {
			p.Chemistry = id
		}
		p.Glycol = part.Glycol.Value
		if !p.Strength.Known {
			p.Strength = s.coolant().BottleStrength(f)
		}
	}
	return p, part, nil
}

// lastOnly is what a log tells of a system whose capacity nobody knows: if all
// that went in is of one kind from a change on, that; otherwise nothing.
func lastOnly(f coolant.Fluid, log []coolant.Poured) coolant.Fluid {
	from := 0
	for i, p := range log {
		if p.Drained.Known {
			from = i
		}
		f.Origins = append(f.Origins, p.Origin)
	}
	id := log[from].Chemistry
	for _, p := range log[from:] {
		if p.Chemistry != id && p.Chemistry != "water" {
			id = ""
		}
	}
	if id != "" && log[from].Drained.Known {
		f.Chemistries = []string{id}
	}
	return f
}

// oneProduct returns the product that all of a log is, water aside.
func oneProduct(log []coolant.Poured, products []*catalog.Part) *catalog.Part {
	var one *catalog.Part
	for i, p := range products {
		switch {
		case log[i].Chemistry == "water":
		case p == nil || one != nil && (p.ID != one.ID):
			return nil
		default:
			one = p
		}
	}
	return one
}
