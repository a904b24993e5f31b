package app

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
)

// BayQuestion says which vehicle stands in the bay: by its mark, plate or VIN,
// or by its engine alone.
type BayQuestion struct{ Vehicle, Engine string }

// BayAnswer is what a mechanic may choose from before he has asked anything.
type BayAnswer struct {
	Vehicle  string        `json:"vehicle,omitempty"`
	Engine   string        `json:"engine,omitempty"`
	Asks     string        `json:"asks_for,omitempty"` // what the engine is filled with by its maker
	Circuits []string      `json:"circuits"`
	Bottles  []Bottle      `json:"bottles"`
	Colours  []string      `json:"colours"`
	Looks    []string      `json:"looks"`
	Vehicles []VehicleLine `json:"vehicles"`
	RunsAt   *float64      `json:"thermostat_opens_c,omitempty"`

	Running *units.Temperature `json:"-"` // where the engine's thermostat opens
}

// Bottle is a fluid that can be poured.
type Bottle struct {
	Number      string `json:"number"`
	Supplier    string `json:"supplier"`
	Description string `json:"description"`
	Kind        string `json:"kind"` // its chemistry by name
	House       bool   `json:"house,omitempty"`
	Asked       bool   `json:"asked_for,omitempty"` // of the kind that the engine asks for
}

// Bay lists what may stand in the bay, what may be in it and what may go in:
// the shop's own coolant first, then what the engine asks for.
func (s *Shop) Bay(ctx context.Context, q BayQuestion) (BayAnswer, error) {
	a := BayAnswer{Circuits: []string{}, Bottles: []Bottle{}, Vehicles: []VehicleLine{}, Colours: []string{}, Looks: s.coolant().Conditions()}
	colours, err := s.ref.Table("coolant_colours")
	if err != nil {
		return a, err
	}
	for _, r := range colours { // each by its first name; the others are read too
		a.Colours = append(a.Colours, r.Get("colour"))
	}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		var asked []string
		engine := q.Engine
		if q.Vehicle != "" {
			car, err := vehicleNamed(ctx, v, q.Vehicle)
			if err != nil {
				return err
			}
			a.Vehicle, engine = car.Mark, cmp.Or(engine, car.Engine)
		}
		if engine != "" {
			_, family, err := s.engineSaid(ctx, v, engine)
			if err != nil {
				return err
			}
			a.Engine = family.Family
			for _, c := range family.Circuits {
				a.Circuits = append(a.Circuits, c.Name)
				asked = append(asked, c.CoolantChem.Value)
			}
			if len(family.Circuits) == 1 && family.Circuits[0].CoolantChem.Known {
				a.Asks = s.coolant().Name(family.Circuits[0].CoolantChem.Value)
			}
			if family.OpeningTemp.Known {
				c := family.OpeningTemp.Value.Celsius()
				a.RunsAt, a.Running = &c, &family.OpeningTemp.Value
			}
		}
		all, err := v.Vehicles(ctx)
		if err != nil {
			return err
		}
		for _, c := range all {
			a.Vehicles = append(a.Vehicles, vehicleLine(c))
		}
		a.Bottles, err = s.bottles(ctx, v, asked)
		return err
	})
	return a, err
}

// bottles lists the fluids on file, those of the shop first.
func (s *Shop) bottles(ctx context.Context, v *sqlite.View, asked []string) ([]Bottle, error) {
	var ids []int64
	for _, t := range []string{"coolant", "water"} {
		more, err := v.PartIDsOfType(ctx, t)
		if err != nil {
			return nil, err
		}
		ids = append(ids, more...)
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return nil, err
	}
	house := catalog.Key(s.Settings.HouseCoolant)
	list := []Bottle{}
	for _, p := range parts {
		b := Bottle{Number: p.Number, Supplier: p.Supplier, Description: p.Description.Value, House: house != "" && p.Key == house}
		switch {
		case p.Type.Value == "water":
			b.Kind = "water"
		case p.Chemistry.Known:
			b.Kind = s.coolant().Name(p.Chemistry.Value)
			b.Asked = slices.Contains(asked, p.Chemistry.Value)
		}
		list = append(list, b)
	}
	rank := func(b Bottle) int {
		switch {
		case b.House:
			return 0
		case b.Asked:
			return 1
		case b.Kind == "water":
			return 2
		}
		return 3
	}
	slices.SortStableFunc(list, func(x, y Bottle) int {
		return cmp.Or(cmp.Compare(rank(x), rank(y)), strings.Compare(x.Supplier, y.Supplier), strings.Compare(x.Number, y.Number))
	})
	return list, nil
}

// Meant reads what somebody called a car: a vehicle on file by its mark, plate
// or VIN, else the one engine that the words can mean. What is neither is an
// UnknownVehicle; words for several engines are a SeveralEngines.
func (s *Shop) Meant(ctx context.Context, car string) (BayQuestion, error) {
	var q BayQuestion
	err := s.store.View(ctx, func(v *sqlite.View) error {
		known, err := vehicleNamed(ctx, v, car)
		var unknown *UnknownVehicle
		if err == nil || !errors.As(err, &unknown) {
			q.Vehicle = known.Mark
			return err
		}
		which, nobody := s.whichEngine(ctx, v, car)
		if nobody != nil || len(which.Engines) == 0 {
			return err
		}
		if len(which.Engines) > 1 {
			var names []string
			for _, e := range which.Engines {
				names = append(names, e.Plate())
			}
			return &SeveralEngines{Name: car, Which: strings.Join(names, " or "), Hint: which.Ask}
		}
		q.Engine = which.Engines[0].Engine
		return nil
	})
	return q, err
}

// Tonight returns the shop with another coldest temperature to reckon with, such
// as "-12 C". An empty text changes nothing.
func (s *Shop) Tonight(coldest string) (*Shop, error) {
	if strings.TrimSpace(coldest) == "" {
		return s, nil
	}
	t, err := units.ParseTemperature(coldest, s.Settings.Units.Temperature)
	if err != nil {
		return nil, &UsageError{Problem: "--coldest: " + err.Error(), Hint: `write it like --coldest "-12 C"`}
	}
	other := *s
	other.Settings.Coldest = catalog.Say(t, coldest, catalog.Origin{})
	return &other, nil
}
