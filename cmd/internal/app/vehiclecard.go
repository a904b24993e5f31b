package app

import (
	"context"
	"slices"

	"fitfill/catalog/sqlite"
	"fitfill/compat"
)

// VehicleCard is all that is on file of a vehicle: have we had it before, what
// was done, what is in it, what came back.
type VehicleCard struct {
	VehicleLine
	Make      string         `json:"make,omitempty"`
	Model     string         `json:"model,omitempty"`
	First     string         `json:"first"` // at most 60 characters
	LastSeen  string         `json:"last_seen"`
	Circuits  []CircuitNow   `json:"circuits"`
	Fills     []FillLine     `json:"fills"`
	Fitted    []FittedLine   `json:"fitted"`
	Comebacks []ComebackLine `json:"comebacks"`
	Told      []ToldLine     `json:"told"`
	Again     string         `json:"again,omitempty"` // that it keeps coming back, and for what
}

// Vehicle shows all that is on file of the vehicle with that mark or VIN.
func (s *Shop) Vehicle(ctx context.Context, text string) (VehicleCard, error) {
	c := VehicleCard{Fills: []FillLine{}, Fitted: []FittedLine{}, Comebacks: []ComebackLine{}, Told: []ToldLine{}}
	err := s.store.View(ctx, func(v *sqlite.View) error {
		car, err := vehicleNamed(ctx, v, text)
		if err != nil {
			return err
		}
		c.VehicleLine = vehicleLine(car)
		family, err := familyOf(ctx, v, car.Engine)
		if err != nil {
			return err
		}
		if family != nil {
			c.Make, c.Model = family.Make.Value, family.Model.Value
		}
		fills, err := v.Fills(ctx, car.Mark)
		if err != nil {
			return err
		}
		for _, f := range fills {
			c.Fills = append(c.Fills, fillLine(f))
			c.LastSeen = max(c.LastSeen, f.Date.String())
		}
		if c.Circuits, err = s.circuitsNow(ctx, v, car, fills); err != nil {
			return err
		}
		if err := s.fittedInto(ctx, v, car.Mark, &c); err != nil {
			return err
		}
		told, err := v.Said(ctx, "", car.Mark)
		if err != nil {
			return err
		}
		for _, d := range told {
			c.Told = append(c.Told, toldLine(d))
		}
		if c.Comebacks, err = s.comebacksOf(ctx, v, car.Mark, told); err != nil {
			return err
		}
		for _, b := range c.Comebacks {
			c.LastSeen = max(c.LastSeen, b.Date)
		}
		c.Again = again(c.Comebacks)
		c.First = c.first()
		return nil
	})
	return c, err
}

// first is the card's first line: the thing to know, else when it was here.
func (c VehicleCard) first() string {
	lead := c.Vehicle
	if c.Engine != "" {
		lead += " (" + c.Engine + ")"
	}
	loss := slices.IndexFunc(c.Circuits, func(n CircuitNow) bool { return n.Loss != nil && n.Loss.Outcome == compat.No })
	switch {
	case c.Again != "":
		return lead + ": keeps coming back; look for the cause"
	case loss >= 0:
		return lead + ": loses coolant, find where it goes"
	case c.LastSeen != "":
		return lead + ": last seen " + c.LastSeen
	}
	return lead + ": on file, nothing done yet"
}
