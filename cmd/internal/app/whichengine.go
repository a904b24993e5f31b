package app

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/words"
)

// Which is what a text that stands for an engine can mean: an engine's name, a
// VIN, a vehicle on file, or vehicle words such as "Sandrel 3.8 2001".
type Which struct {
	Text    string        `json:"text"`
	ReadAs  words.As      `json:"read_as"`
	Engines []EngineMeant `json:"engines"`
	Ask     string        `json:"ask,omitempty"` // tells several engines apart
	Vehicle string        `json:"vehicle,omitempty"`
	VIN8    string        `json:"vin8,omitempty"`
	Years   []int         `json:"years,omitempty"`

	// YearSure says that the years were said, or that the VIN's maker is bound
	// to state the model year.
	YearSure bool `json:"year_sure,omitempty"`
}

// WhichEngine says which engines a text can mean. One that nothing on file is
// comes as *UnknownEngine; a VIN that is none as written comes as a UsageError
// with what it was meant to be.
func (s *Shop) WhichEngine(ctx context.Context, text string) (Which, error) {
	var w Which
	err := s.store.View(ctx, func(v *sqlite.View) (err error) {
		w, err = s.whichEngine(ctx, v, text)
		return err
	})
	return w, err
}

func (s *Shop) whichEngine(ctx context.Context, v *sqlite.View, text string) (Which, error) {
	w := Which{Text: text, ReadAs: words.AsEngine}
	_, family, unknown := engineKeys(ctx, v, text)
	if unknown == nil {
		e, err := s.engineNamed(ctx, v, family.Family)
		w.Engines = []EngineMeant{e}
		return w, err
	}
	var nobody *UnknownEngine
	if !errors.As(unknown, &nobody) {
		return w, unknown
	}
	table, err := s.words()
	if err != nil {
		return w, err
	}
	suppliers, err := v.Suppliers(ctx)
	if err != nil {
		return w, err
	}
	keys := table.Keys(text)
	if whole := catalog.Key(text); whole != "" {
		keys = append(keys, whole) // a mark may have more words than a stretch
	}
	known, err := s.lookUp(ctx, v, keys, suppliers)
	if err != nil {
		return w, err
	}
	f := &finder{s: s, v: v, table: table, a: &FindAnswer{}, known: known, r: table.Read(text, known.Known)}
	if mark := known.cars[catalog.Key(text)]; mark.Mark != "" {
		f.r.Marks = []string{catalog.Key(text)}
	}
	f.r.Code = ""
	if err := f.narrowed(ctx); err != nil {
		return w, err
	}
	w.Engines, w.Vehicle, w.Years, w.YearSure = f.engines, f.a.Vehicle, f.r.Years, true
	switch {
	case f.a.VIN != nil:
		w.ReadAs, w.VIN8, w.Years, w.YearSure = words.AsVIN, f.a.VIN.VIN8, f.a.VIN.Years, f.a.VIN.reading.YearBound
		if !f.a.VIN.Valid {
			return w, &UsageError{Problem: text + " is " + f.a.VIN.First(), Hint: "fitfill vin " + f.r.VIN}
		}
	case len(f.r.Marks) > 0:
		w.ReadAs = words.AsVehicle
	}
	if len(w.Engines) == 0 {
		return w, unknown
	}
	w.Ask = askWhichEngine(w.Engines)
	return w, nil
}

// oneEngine is whichEngine for a question that takes one engine only. Several
// come as *SeveralEngines with the question that tells them apart.
func (s *Shop) oneEngine(ctx context.Context, v *sqlite.View, text string) (EngineMeant, Which, error) {
	w, err := s.whichEngine(ctx, v, text)
	switch {
	case err != nil:
		return EngineMeant{}, w, err
	case len(w.Engines) == 1 && !w.Engines[0].Guess:
		return w.Engines[0], w, nil
	case len(w.Engines) == 1:
		return EngineMeant{}, w, &SeveralEngines{text, w.Engines[0].Engine, w.Engines[0].Why}
	}
	var asks []string
	for _, e := range w.Engines[:min(4, len(w.Engines))] {
		asks = append(asks, e.Plate())
	}
	return EngineMeant{}, w, &SeveralEngines{text, strings.Join(engineNamesOf(w.Engines), " or "), fmt.Sprintf("%s (%s)", w.Ask, strings.Join(asks, "; "))}
}

// engineSaid is engineKeys for an engine as it is said: by its name, a VIN, a
// vehicle on file, or vehicle words. Several engines are *SeveralEngines.
func (s *Shop) engineSaid(ctx context.Context, v *sqlite.View, text string) ([]string, catalog.EngineFamily, error) {
	keys, family, err := engineKeys(ctx, v, text)
	var unknown *UnknownEngine
	if !errors.As(err, &unknown) {
		return keys, family, err
	}
	e, _, err := s.oneEngine(ctx, v, text)
	if err != nil {
		return nil, catalog.EngineFamily{}, err
	}
	return e.keys, e.known(), nil
}

// takeSaid puts the engine's name, and the vehicle's mark where one was said,
// in place of what stands for an engine in a question. A name stays as it is.
func (s *Shop) takeSaid(ctx context.Context, v *sqlite.View, engine, vehicle *string) (Which, error) {
	_, _, err := engineKeys(ctx, v, *engine)
	var unknown *UnknownEngine
	if *engine == "" || !errors.As(err, &unknown) {
		return Which{}, nil // a wrong name is told where the engine is read
	}
	e, w, err := s.oneEngine(ctx, v, *engine)
	if err != nil {
		return w, err
	}
	*engine = e.Engine
	if *vehicle == "" {
		*vehicle = w.Vehicle
	}
	return w, nil
}

// fitSaid is takeSaid for a fit question: the words also tell the year, the
// position-8 character and the displacement. Words that nothing on file knows
// are left to what reads lists' texts.
func (s *Shop) fitSaid(ctx context.Context, v *sqlite.View, q *FitQuestion, ask *asked) error {
	text := q.Engine
	if q.Displacement != "" {
		text += " " + q.Displacement
	}
	said := q.Engine
	w, err := s.takeSaid(ctx, v, &said, &q.Vehicle)
	var several *SeveralEngines
	if errors.As(err, &several) && text != q.Engine {
		said = text
		w, err = s.takeSaid(ctx, v, &said, &q.Vehicle)
	}
	var unknown *UnknownEngine
	if errors.As(err, &unknown) {
		return nil
	}
	if err != nil {
		return err
	}
	q.Engine, ask.Engine = said, said
	if ask.VIN8 == "" {
		ask.VIN8 = w.VIN8
	}
	if ask.year == 0 && len(w.Years) == 1 && w.YearSure {
		ask.year = w.Years[0]
	}
	return nil
}
