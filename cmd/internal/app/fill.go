package app

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// FillSaid is a filling as it is told. Texts carry their units; empty means not
// said.
type FillSaid struct {
	Vehicle  string
	Circuit  string
	What     string // product number, chemistry, colour or water; empty: the house coolant
	Strength string
	Volume   string
	Water    string // poured along with it
	Drained  string
	Date     string // empty: today
	Note     string
}

// FillLine is a filling as it is on file.
type FillLine struct {
	Date      string          `json:"date"`
	Circuit   string          `json:"circuit"`
	Number    string          `json:"number"`
	Chemistry string          `json:"chemistry"`
	Colour    string          `json:"colour"`
	Strength  *float64        `json:"strength_vol_pct"`
	Volume    *float64        `json:"volume_l"`
	Drained   *float64        `json:"drained_l"`
	Note      string          `json:"note"`
	Origin    compat.Evidence `json:"origin"`
	Entry     int64           `json:"entry,omitempty"` // of the log, where it was made by hand

	fill catalog.Fill
}

// Says words the filling in one line.
func (f FillLine) Says(u units.System) string {
	what := cmp.Or(f.Number, f.Chemistry, f.Colour, "not said what")
	if f.Number != "" && cmp.Or(f.Chemistry, f.Colour) != "" {
		what += " (" + cmp.Or(f.Chemistry, f.Colour) + ")"
	}
	if f.fill.Strength.Known && f.fill.Strength.Value.Percents() > 0 {
		what += fmt.Sprintf(", %.0f %%", f.fill.Strength.Value.Percents())
	}
	if f.fill.Volume.Known {
		what = u.FormatVolume(f.fill.Volume.Value) + " of " + what
	}
	if f.fill.Drained.Known && f.fill.Drained.Value.Nanolitres() > 0 {
		what += ", " + u.FormatVolume(f.fill.Drained.Value) + " drained"
	}
	return what
}

func fillLine(f catalog.Fill) FillLine {
	l := FillLine{
		Date: f.Date.String(), Circuit: f.Circuit, Number: f.Number, Chemistry: f.Chemistry, Colour: f.Colour, Note: f.Note,
		Origin: compat.From(f.Origin), fill: f,
	}
	if f.Strength.Known {
		p := f.Strength.Value.Percents()
		l.Strength = &p
	}
	litres := func(v catalog.Stated[units.Volume]) *float64 {
		if !v.Known {
			return nil
		}
		n := v.Value.Litres()
		return &n
	}
	l.Volume, l.Drained = litres(f.Volume), litres(f.Drained)
	if f.Origin.ByHand() {
		l.Entry = int64(f.Origin.Line)
	}
	return l
}

// FillLogged is an entry of the log with what it tells.
type FillLogged struct {
	Vehicle string     `json:"vehicle"`
	Fill    FillLine   `json:"fill"`
	Now     CircuitNow `json:"now"`
}

// AddFill logs what went into a vehicle and tells what follows: air or spill,
// what is in there now, and a leak.
func (s *Shop) AddFill(ctx context.Context, said FillSaid) (FillLogged, error) {
	var f catalog.Fill
	err := s.store.View(ctx, func(v *sqlite.View) error {
		car, err := vehicleNamed(ctx, v, said.Vehicle)
		if err != nil {
			return err
		}
		f, err = s.readFill(ctx, v, car, said)
		return err
	})
	if err != nil {
		return FillLogged{}, err
	}
	entry, err := s.store.Log(ctx, catalog.Logged{At: s.timestamp(), Fill: &f})
	if err != nil {
		return FillLogged{}, err
	}
	a := FillLogged{Vehicle: f.Vehicle}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		car, err := vehicleNamed(ctx, v, f.Vehicle)
		if err != nil {
			return err
		}
		fills, err := v.Fills(ctx, car.Mark)
		if err != nil {
			return err
		}
		a.Fill = fillLine(f)
		for _, have := range fills {
			if have.Origin.ByHand() && int64(have.Origin.Line) == entry {
				a.Fill = fillLine(have)
			}
		}
		a.Now, err = s.circuitNow(ctx, v, car, f.Circuit, fills)
		return err
	})
	a.Fill.Entry = entry
	return a, err
}

// readFill turns what was told into a filling.
func (s *Shop) readFill(ctx context.Context, v *sqlite.View, car catalog.Vehicle, said FillSaid) (catalog.Fill, error) {
	f := catalog.Fill{Vehicle: car.Mark, Engine: car.Engine, Note: strings.TrimSpace(said.Note)}
	var err error
	if f.Date, err = s.day("--date", said.Date); err != nil {
		return f, err
	}
	named := coolant.Question{Circuit: said.Circuit}
	if car.Engine != "" {
		if named.Engine, err = familyOf(ctx, v, car.Engine); err != nil {
			return f, err
		}
	}
	if said.Circuit == "" && named.Engine != nil && len(named.Engine.Circuits) > 1 {
		var names []string
		for _, c := range named.Engine.Circuits {
			names = append(names, c.Name)
		}
		return f, &UsageError{Problem: fmt.Sprintf("%s has %d circuits: which one was it?", car.Mark, len(names)), Hint: "add --circuit " + strings.Join(names, ", --circuit ")}
	}
	if err := s.nameCircuit(&named); err != nil {
		return f, err
	}
	f.Circuit = named.Circuit
	if f.Circuit == "" {
		f.Circuit = catalog.DefaultCircuit
	}
	if said.What == "" {
		said.What = s.Settings.HouseCoolant
	}
	if strings.TrimSpace(said.What) == "" {
		return f, &UsageError{Problem: "not said what went in", Hint: "add --number NUMBER, --chemistry NAME or water, or set house_coolant"}
	}
	fluid, _, err := s.fluid(ctx, v, "number", FluidSaid{What: said.What, Strength: said.Strength}, nil, "")
	if err != nil {
		return f, err
	}
	switch {
	case fluid.Product != nil:
		f.Number, f.Colour = fluid.Product.Number, fluid.Product.Colour.Value
		f.Chemistry = fluid.Product.Chemistry.Value
	case fluid.ByColour != "":
		f.Colour = fluid.ByColour
	case len(fluid.Chemistries) == 1:
		f.Chemistry = fluid.Chemistries[0]
	default:
		return f, &UsageError{Problem: fmt.Sprintf("%q leaves open what went in", said.What), Hint: "one fluid went in: name its number, its chemistry or its colour"}
	}
	f.Strength = fluid.Strength
	if !f.Strength.Known {
		f.Strength = s.coolant().BottleStrength(fluid)
	}
	if f.Volume, err = s.volume("--volume", said.Volume, "3.6L"); err != nil {
		return f, err
	}
	if f.Drained, err = s.volume("--drained", said.Drained, "4.4L"); err != nil {
		return f, err
	}
	water, err := s.volume("--water", said.Water, "0.4L")
	if err != nil {
		return f, err
	}
	if !f.Volume.Known || f.Volume.Value.Nanolitres() == 0 {
		return f, &UsageError{Problem: "not said how much went in", Hint: "add --volume, such as --volume 3.6L: without it the log cannot tell what is in there"}
	}
	if water.Known && water.Value.Nanolitres() > 0 {
		return f, addWater(&f, water.Value, s.Settings.Units)
	}
	return f, nil
}

// addWater counts the water that was poured along with a coolant: one filling,
// thinner and more.
func addWater(f *catalog.Fill, water units.Volume, u units.System) error {
	if !f.Strength.Known {
		return &UsageError{Problem: "--water needs to know how strong the coolant is that it thins", Hint: "add --strength, such as --strength 99%"}
	}
	all := f.Volume.Value.Add(water)
	note := u.FormatVolume(f.Volume.Value) + " and " + u.FormatVolume(water) + " of water"
	f.Strength = catalog.Say(units.Percents(f.Strength.Value.Percents()*f.Volume.Value.Ratio(all)), f.Strength.Text, catalog.Origin{})
	f.Volume = catalog.Say(all, f.Volume.Text+" + "+u.FormatVolume(water), catalog.Origin{})
	if f.Note != "" {
		note += "; " + f.Note
	}
	f.Note = note
	return nil
}

// day reads a day of the past; an empty text is today.
func (s *Shop) day(flag, text string) (catalog.Date, error) {
	today := s.today()
	if strings.TrimSpace(text) == "" {
		return today, nil
	}
	d, err := catalog.ParseDate(strings.TrimSpace(text))
	if err != nil {
		return d, &UsageError{Problem: flag + ": " + err.Error(), Hint: "such as " + flag + " " + today.String()}
	}
	if d > today {
		return d, &UsageError{Problem: fmt.Sprintf("%s %s has not come yet", flag, d), Hint: "today is " + today.String()}
	}
	return d, nil
}

// FillsAnswer is the log of a vehicle's fills with what it tells.
type FillsAnswer struct {
	Vehicle  string       `json:"vehicle"`
	Engine   string       `json:"engine"`
	Fills    []FillLine   `json:"fills"`
	Circuits []CircuitNow `json:"circuits"`
}

// Fills lists what went into a vehicle, oldest first, and what is in there now.
func (s *Shop) Fills(ctx context.Context, vehicle string) (FillsAnswer, error) {
	a := FillsAnswer{Fills: []FillLine{}, Circuits: []CircuitNow{}}
	err := s.store.View(ctx, func(v *sqlite.View) error {
		car, err := vehicleNamed(ctx, v, vehicle)
		if err != nil {
			return err
		}
		a.Vehicle, a.Engine = car.Mark, car.Engine
		fills, err := v.Fills(ctx, car.Mark)
		if err != nil {
			return err
		}
		for _, f := range fills {
			a.Fills = append(a.Fills, fillLine(f))
		}
		a.Circuits, err = s.circuitsNow(ctx, v, car, fills)
		return err
	})
	return a, err
}

// TakeBack takes an entry out of the log that was mistyped. Entry 0 is the last
// one of its kind. It returns the number.
func (s *Shop) TakeBack(ctx context.Context, kind catalog.LogKind, entry int64) (int64, error) {
	var entries []catalog.Logged
	err := s.store.View(ctx, func(v *sqlite.View) (err error) {
		entries, err = v.Logged(ctx, kind)
		return err
	})
	if err != nil {
		return 0, err
	}
	if entry == 0 && len(entries) > 0 {
		entry = entries[len(entries)-1].ID
	}
	for _, l := range entries {
		if l.ID == entry {
			return entry, s.store.TakeBack(ctx, kind, entry, s.timestamp())
		}
	}
	if len(entries) == 0 {
		return 0, &UsageError{Problem: "nothing of that kind was logged by hand", Hint: "what a sheet brought goes with its sheet: fitfill sheets undo ID"}
	}
	return 0, &UsageError{Problem: fmt.Sprintf("there is no entry %d of that kind in the log", entry), Hint: fmt.Sprintf("the last one is %d", entries[len(entries)-1].ID)}
}
