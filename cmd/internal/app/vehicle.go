package app

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/vin"
)

// VehicleSaid is what is said of a vehicle. What is empty stays as it is.
type VehicleSaid struct {
	Mark      string
	VIN       string
	Engine    string
	FirstFill string // factory, a chemistry, a colour or a product number; a day: factory, of that day
}

// VehicleLine is a vehicle as it is on file.
type VehicleLine struct {
	Vehicle   string `json:"vehicle"`
	VIN       string `json:"vin"`
	Engine    string `json:"engine"`
	FirstFill string `json:"first_fill"`
	Entry     int64  `json:"entry,omitempty"` // of the log, where this call made one
}

func vehicleLine(v catalog.Vehicle) VehicleLine {
	return VehicleLine{Vehicle: v.Mark, VIN: v.VIN, Engine: v.Engine, FirstFill: v.FirstFill}
}

// Vehicles lists the vehicles on file by mark.
func (s *Shop) Vehicles(ctx context.Context) ([]VehicleLine, error) {
	list := []VehicleLine{}
	err := s.store.View(ctx, func(v *sqlite.View) error {
		all, err := v.Vehicles(ctx)
		for _, c := range all {
			list = append(list, vehicleLine(c))
		}
		return err
	})
	return list, err
}

// readVIN returns a VIN in its plain form; empty stays empty. What is no VIN is
// a UsageError that says what is wrong with it and what it may have been.
func readVIN(text string) (string, error) {
	if strings.TrimSpace(text) == "" {
		return "", nil
	}
	r := vin.Read(text, false)
	if r.Valid() {
		return r.VIN, nil
	}
	hint := "read it again from the plate; a short number of an older vehicle goes into the mark"
	if may := vin.Corrections(text); len(may) > 0 {
		hint = "it may be " + may[0].VIN + " (" + may[0].Changed + "): look at the plate"
	}
	return "", &UsageError{Problem: "--vin " + text + ": " + r.Problems[0].Says, Hint: hint}
}

// AddVehicle puts a vehicle on file, or what is new about one that is there.
func (s *Shop) AddVehicle(ctx context.Context, said VehicleSaid) (VehicleLine, error) {
	mark := strings.TrimSpace(said.Mark)
	if catalog.Key(mark) == "" {
		return VehicleLine{}, &UsageError{Problem: fmt.Sprintf("%q is no mark: it holds neither a letter nor a digit", said.Mark), Hint: "name the vehicle by its plate or by a mark of your own"}
	}
	number, err := readVIN(said.VIN)
	if err != nil {
		return VehicleLine{}, err
	}
	new := catalog.Vehicle{Mark: mark, VIN: number, FirstFill: strings.TrimSpace(said.FirstFill)}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		all, err := v.Vehicles(ctx)
		if err != nil {
			return err
		}
		for _, c := range all {
			switch {
			case catalog.Key(c.Mark) == catalog.Key(mark):
				new.Mark = c.Mark
			case new.VIN != "" && catalog.Key(c.VIN) == catalog.Key(new.VIN):
				return &UsageError{Problem: fmt.Sprintf("the VIN %s is on file as that of %s", new.VIN, c.Mark), Hint: "it is that vehicle: fitfill vehicle show \"" + c.Mark + "\""}
			}
		}
		if said.Engine != "" {
			_, family, err := engineKeys(ctx, v, said.Engine)
			if err != nil {
				return err
			}
			new.Engine = family.Family
		}
		what, since := firstFillOf(new)
		if since.Known {
			if _, err := s.day("--first-fill", since.Text); err != nil {
				return err
			}
			new.FirstFill = what + " " + since.Text
		}
		if what == "" || strings.EqualFold(what, factoryFillName) {
			return nil
		}
		_, _, err = s.fluid(ctx, v, "first-fill", FluidSaid{What: what}, nil, "")
		return err
	})
	if err != nil {
		return VehicleLine{}, err
	}
	entry, err := s.store.Log(ctx, catalog.Logged{At: s.timestamp(), Vehicle: &new})
	if err != nil {
		return VehicleLine{}, err
	}
	if err := s.remember(ctx, new); err != nil {
		return VehicleLine{}, err
	}
	line := vehicleLine(new)
	err = s.store.View(ctx, func(v *sqlite.View) error {
		now, err := v.Vehicle(ctx, new.Mark)
		line = vehicleLine(now)
		return err
	})
	line.Entry = entry
	return line, err
}

// factoryFillName is what a first fill is called that nobody has touched.
const factoryFillName = "factory"

// firstFillOf takes apart what is on file of a vehicle's first fill: what it is,
// and since when. A day alone is that of the factory fill.
func firstFillOf(car catalog.Vehicle) (what string, since catalog.Stated[catalog.Date]) {
	words := strings.Fields(car.FirstFill)
	if n := len(words); n > 0 {
		if d, err := catalog.ParseDate(words[n-1]); err == nil {
			since = catalog.Say(d, words[n-1], car.Origin)
			words = words[:n-1]
			if n == 1 {
				return factoryFillName, since
			}
		}
	}
	return strings.Join(words, " "), since
}

// vehicleNamed finds a vehicle by its mark, plate or VIN. One that only the
// records of its fills and parts name is known by its mark; its engine is the
// one that the last fill names. An unknown one is a *UnknownVehicle with the
// nearest mark.
func vehicleNamed(ctx context.Context, v *sqlite.View, text string) (catalog.Vehicle, error) {
	car, err := v.Vehicle(ctx, text)
	if err == nil || !errors.Is(err, sqlite.ErrNotFound) {
		return car, err
	}
	fills, err := v.Fills(ctx, text)
	if err != nil {
		return car, err
	}
	if n := len(fills); n > 0 {
		return catalog.Vehicle{Mark: fills[n-1].Vehicle, Engine: fills[n-1].Engine, Origin: fills[n-1].Origin}, nil
	}
	fitted, err := v.Fitted(ctx, text)
	if err != nil {
		return car, err
	}
	if n := len(fitted); n > 0 && catalog.Key(text) != "" {
		return catalog.Vehicle{Mark: fitted[n-1].Vehicle, Origin: fitted[n-1].Origin}, nil
	}
	all, err := v.Vehicles(ctx)
	if err != nil {
		return car, err
	}
	var marks []string
	for _, c := range all {
		marks = append(marks, c.Mark)
	}
	return car, &UnknownVehicle{Mark: text, Hint: nearestHint(text, marks, `put it on file: fitfill vehicle add "`+text+`" --engine CODE`)}
}

// UnknownVehicle says that nothing is on file of a vehicle.
type UnknownVehicle struct{ Mark, Hint string }

// Error returns the problem.
func (e *UnknownVehicle) Error() string { return fmt.Sprintf("no vehicle is on file as %q", e.Mark) }
