package app

import (
	"context"
	"errors"
	"slices"
	"sync"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/words"
	"fitfill/compat/codes"
	"fitfill/data"
)

// knownStretches is what the catalogue has under the stretches of a sentence.
type knownStretches struct {
	words.Known
	parts map[string][]int64                 // by the key of their own number
	refs  map[int64][]catalog.CrossReference // of parts that name one of the keys as another's number
	makes map[string]string                  // key -> as written
	cars  map[string]catalog.Vehicle         // by the key of their mark
}

// shippedWords is the vocabulary of the counter where the garage has no tables of
// its own.
var shippedWords = sync.OnceValues((&Shop{ref: data.Shipped()}).counterWords)

// PrepareFind reads the vocabulary of the counter while the catalogue is opened,
// in a process that was started to look for something.
func PrepareFind() {
	go func() { _, _ = shippedWords() }() // the question finds out what is wrong with it
}

// counterWords builds the vocabulary of the counter; words keeps it.
func (s *Shop) counterWords() (*words.Table, error) {
	l, err := s.findLimits()
	if err != nil {
		return nil, err
	}
	t, err := words.NewTable(s.ref, words.Limits{
		LengthWhole: l["length_whole"], LengthExact: l["length_exact"], LengthInch: l["length_inch"], Rating: l["rating_same"], Pressure: l["pressure_same"],
		Volume: l["volume_same"], CelsiusLow: l["bare_celsius_low"], CelsiusHigh: l["bare_celsius_high"], FahrenheitLow: l["bare_fahrenheit_low"], FahrenheitHigh: l["bare_fahrenheit_high"],
	})
	if err != nil {
		return nil, err
	}
	t.IsCode = func(text string) bool {
		_, err := codes.Parse(text)
		return err == nil
	}
	return t, nil
}

// read reads the words; where a word is known to nothing, it is read as the
// nearest word that is, and said to be.
func (f *finder) read(ctx context.Context) (err error) {
	if f.suppliers, err = f.v.Suppliers(ctx); err != nil {
		return err
	}
	if f.table, err = f.s.words(); err != nil { // it may still be being read
		return err
	}
	if err = f.readText(ctx, f.q.Words); err != nil {
		return err
	}
	if err := f.modelsByFirstWord(ctx); err != nil {
		return err
	}
	text, changed, err := f.spelt(ctx)
	if err != nil || !changed {
		return err
	}
	return f.readText(ctx, text)
}

func (f *finder) readText(ctx context.Context, text string) (err error) {
	if f.known, err = f.s.lookUp(ctx, f.v, f.table.Keys(text), f.suppliers); err != nil {
		return err
	}
	f.r = f.table.Read(text, f.known.Known)
	return nil
}

// lookUp asks the catalogue for the stretches of a sentence.
func (s *Shop) lookUp(ctx context.Context, v *sqlite.View, keys []string, suppliers []sqlite.Supplier) (k knownStretches, err error) {
	k = knownStretches{Known: words.Known{}, makes: map[string]string{}, cars: map[string]catalog.Vehicle{}}
	add := func(key string, kind words.NameKind) {
		if key != "" && slices.Contains(keys, key) && !slices.Contains(k.Known[key], kind) {
			k.Known[key] = append(k.Known[key], kind)
		}
	}
	if len(keys) == 0 {
		return k, nil
	}
	families, err := v.FamilyNamesFor(ctx, keys)
	if err != nil {
		return k, err
	}
	for _, e := range families {
		for _, n := range e.Names {
			add(catalog.Key(n), words.NameEngine)
		}
	}
	engines, err := v.EngineNames(ctx, keys)
	if err != nil {
		return k, err
	}
	for key := range engines {
		add(key, words.NameEngine)
	}
	for _, e := range families {
		for _, n := range splitNames(e.Model) {
			add(catalog.Key(n), words.NameModel)
		}
		for _, n := range splitNames(e.Make) {
			add(catalog.Key(n), words.NameMake)
		}
	}
	names, err := v.VehicleNames(ctx, keys)
	if err != nil {
		return k, err
	}
	for _, n := range names {
		k.makes[n.Key] = n.Text
		if n.Model {
			add(n.Key, words.NameModel)
		}
		if n.Make {
			add(n.Key, words.NameMake)
		}
	}
	for _, sup := range suppliers {
		for _, n := range append([]string{sup.Name}, sup.OtherNames...) {
			add(catalog.Key(n), words.NameSupplier)
		}
	}
	cars, err := v.VehiclesMarked(ctx, keys)
	if err != nil {
		return k, err
	}
	for _, c := range cars {
		add(catalog.Key(c.Mark), words.NameMark)
		k.cars[catalog.Key(c.Mark)] = c
	}
	return k, s.lookUpNumbers(ctx, v, keys, &k, add)
}

func (s *Shop) lookUpNumbers(ctx context.Context, v *sqlite.View, keys []string, k *knownStretches, add func(string, words.NameKind)) (err error) {
	if k.parts, err = v.PartIDsOf(ctx, keys); err != nil {
		return err
	}
	for key := range k.parts {
		add(key, words.NameNumber)
	}
	if k.refs, err = v.CrossReferencesTo(ctx, keys); err != nil {
		return err
	}
	for _, list := range k.refs {
		for _, x := range list {
			add(x.OtherKey, words.NameNumber)
		}
	}
	return nil
}

// narrowed works out the types and the engines in question, from the flags
// before the words.
func (f *finder) narrowed(ctx context.Context) error {
	f.types = f.r.Types
	if f.q.Type != "" {
		t, err := f.s.partType(ctx, f.v, f.q.Type)
		if err != nil {
			return err
		}
		f.types = []string{t}
	}
	if f.r.Code != "" {
		if err := f.checks(ctx); err != nil {
			return err
		}
	}
	switch {
	case f.q.Engine != "":
		which, err := f.s.whichEngine(ctx, f.v, f.q.Engine)
		f.engines = which.Engines
		return err
	case f.r.VIN != "":
		return f.vin(ctx)
	case len(f.r.Marks) > 0:
		return f.vehicle(ctx)
	}
	var err error
	f.engines, err = f.s.enginesMeant(ctx, f.v, saidBy(&f.r))
	return err
}

// saidBy takes out of a reading what it says of the engine.
func saidBy(r *words.Reading) vehicleSaid {
	return vehicleSaid{
		engines: r.Engines, makes: r.Makes, models: r.Models, years: r.Years, displacement: r.Displacement,
		cylinders: r.Cylinders, fuel: r.Fuel, electrified: r.Electrified,
	}
}

func (f *finder) checks(ctx context.Context) error {
	a, err := f.s.checksIn(ctx, f.v, ChecksQuestion{Codes: []string{f.r.Code}})
	if err != nil {
		return err
	}
	f.a.Checks = &a
	return nil
}

// vin reads the VIN, and where it is none as written, the one that it was
// surely meant to be: the answer says which.
func (f *finder) vin(ctx context.Context) error {
	a, err := f.s.readVIN(ctx, f.v, f.r.VIN, false)
	if err != nil {
		return err
	}
	f.a.VIN, f.a.Vehicle, f.engines = &a, a.Vehicle, a.Engines
	if a.Valid || len(a.Corrections) != 1 || !a.Corrections[0].Proved {
		return nil
	}
	meant, err := f.s.readVIN(ctx, f.v, a.Corrections[0].VIN, false)
	f.engines = meant.Engines
	for i := range f.engines {
		f.engines[i].Why = "if the VIN is " + meant.VIN + " (" + a.Corrections[0].Changed + "): " + f.engines[i].Why
	}
	return err
}

// vehicle takes the engine of a vehicle on file.
func (f *finder) vehicle(ctx context.Context) error {
	car, err := vehicleNamed(ctx, f.v, f.known.cars[f.r.Marks[0]].Mark)
	var unknown *UnknownVehicle
	if errors.As(err, &unknown) {
		return nil
	}
	if err != nil {
		return err
	}
	f.a.Vehicle = car.Mark
	if car.Engine == "" {
		return nil
	}
	e, err := f.s.engineNamed(ctx, f.v, car.Engine)
	e.Why = car.Mark + " is on file with it"
	f.engines = []EngineMeant{e}
	return err
}
