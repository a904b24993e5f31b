package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/vin"
	"fitfill/compat"
)

// VINAnswer is what a VIN says, and which engines it can mean by the garage's
// own table and by what lists state for position 8.
type VINAnswer struct {
	Text        string          `json:"text"`
	VIN         string          `json:"vin"`
	Valid       bool            `json:"valid"`
	Problems    []VINProblem    `json:"problems"`
	CheckDigit  *VINCheckDigit  `json:"check_digit,omitempty"`
	Years       []int           `json:"model_years"`
	YearNote    string          `json:"year_note,omitempty"`
	Maker       string          `json:"maker,omitempty"`
	LowVolume   bool            `json:"low_volume_maker,omitempty"`
	Region      string          `json:"region,omitempty"`
	VIN8        string          `json:"vin8,omitempty"`
	Corrections []VINCorrection `json:"corrections"`
	Vehicle     string          `json:"vehicle,omitempty"` // the shop's own mark for it
	Engines     []EngineMeant   `json:"engines"`
	Ask         string          `json:"ask,omitempty"`

	reading vin.Reading
}

// VINProblem is one thing that keeps the text from being a VIN.
type VINProblem struct {
	Position int    `json:"position,omitempty"`
	Says     string `json:"says"`
}

// VINCheckDigit compares the check digit with the other characters.
type VINCheckDigit struct {
	Is    string `json:"is"`
	Wants string `json:"wants"`
	Right bool   `json:"right"`
	Bound bool   `json:"bound"` // whether the rule asks this maker for one
}

// VINCorrection is a VIN that the text may have been meant to be.
type VINCorrection struct {
	VIN     string `json:"vin"`
	Changed string `json:"changed"`
	Proved  bool   `json:"check_digit_right"`
	Vehicle string `json:"vehicle,omitempty"` // on file under this mark
}

// Settled reports whether exactly one engine is meant.
func (a VINAnswer) Settled() bool { return a.Valid && len(a.Engines) == 1 && !a.Engines[0].Guess }

// First is the first line of the answer.
func (a VINAnswer) First() string {
	switch {
	case !a.Valid:
		return "no VIN as written: " + a.Problems[0].Says
	case len(a.Engines) == 1 && a.Engines[0].Guess:
		return a.VIN + ": perhaps " + a.Engines[0].Engine
	case len(a.Engines) == 1:
		return a.VIN + ": " + a.Engines[0].Engine
	case len(a.Engines) > 1:
		return fmt.Sprintf("%s: %d engines can be meant", a.VIN, len(a.Engines))
	}
	return a.VIN + ": no engine on file for it"
}

// VIN takes a VIN apart. heavy says that position 7 does not tell its year.
func (s *Shop) VIN(ctx context.Context, text string, heavy bool) (VINAnswer, error) {
	var a VINAnswer
	err := s.store.View(ctx, func(v *sqlite.View) (err error) {
		a, err = s.readVIN(ctx, v, text, heavy)
		return err
	})
	return a, err
}

func (s *Shop) readVIN(ctx context.Context, v *sqlite.View, text string, heavy bool) (VINAnswer, error) {
	r := vin.Read(text, heavy)
	a := VINAnswer{Text: text, VIN: r.VIN, Valid: r.Valid(), Problems: []VINProblem{}, Years: []int{}, Corrections: []VINCorrection{}, Engines: []EngineMeant{}, reading: r}
	for _, p := range r.Problems {
		a.Problems = append(a.Problems, VINProblem{p.Position, p.Says})
	}
	onFile, err := v.Vehicles(ctx)
	if err != nil {
		return a, err
	}
	a.correct(onFile)
	if !a.Valid {
		return a, nil
	}
	a.Maker, a.LowVolume, a.Region, a.VIN8 = r.Maker, r.LowVolume, r.Region, r.Engine
	a.CheckDigit = &VINCheckDigit{string(r.VIN[8]), string(r.CheckDigit), r.CheckRight, r.CheckBound}
	a.Years = append(a.Years, r.Years...)
	a.YearNote = yearNote(r)
	return a, s.vinEngines(ctx, v, &a, onFile)
}

func yearNote(r vin.Reading) string {
	var note string
	if len(r.Years) == 0 {
		note = fmt.Sprintf("position 10 is %s, which is no year", r.VIN[9:10])
	} else {
		note = fmt.Sprintf("position 10 is %s, position 7 is %s", r.VIN[9:10], r.VIN[6:7])
	}
	if !r.YearBound {
		note += "; outside North America position 10 need not be the year"
	}
	return note
}

// correct offers what the text may have been meant to be: by the rules of a
// VIN, and the VINs on file that differ in one character or two neighbours.
func (a *VINAnswer) correct(onFile []catalog.Vehicle) {
	mark := map[string]string{}
	for _, c := range onFile {
		mark[vin.Clean(c.VIN)] = c.Mark
	}
	delete(mark, "")
	if a.Vehicle = mark[a.VIN]; a.Vehicle != "" {
		return
	}
	for _, c := range onFile {
		if known := vin.Clean(c.VIN); oneSlip(known, a.VIN) {
			a.Corrections = append(a.Corrections, VINCorrection{known, "the VIN on file of " + c.Mark + " differs in one place", vin.Read(known, false).CheckRight, c.Mark})
		}
	}
	for _, c := range vin.Corrections(a.Text) {
		if !slices.ContainsFunc(a.Corrections, func(o VINCorrection) bool { return o.VIN == c.VIN }) && (!a.Valid || a.reading.CheckBound) {
			a.Corrections = append(a.Corrections, VINCorrection{c.VIN, c.Changed, c.Proved, ""})
		}
	}
}

// oneSlip reports whether two texts differ by one character wrong, missing or
// too many, or by two neighbours exchanged.
func oneSlip(known, text string) bool {
	if known == "" || known == text || len(known)-len(text) > 1 || len(text)-len(known) > 1 {
		return false
	}
	i := 0
	for i < len(known) && i < len(text) && known[i] == text[i] {
		i++
	}
	a, b := known[i:], text[i:]
	return a[min(1, len(a)):] == b[min(1, len(b)):] || a == b[min(1, len(b)):] || a[min(1, len(a)):] == b ||
		len(a) > 1 && len(b) > 1 && a[0] == b[1] && a[1] == b[0] && a[2:] == b[2:]
}

// vinEngines finds the engines: the one on file for this very vehicle, and
// those of the character at position 8 in the years of position 10. A vehicle
// on file whose first eight characters are the same is put first and named: it
// proves nothing.
func (s *Shop) vinEngines(ctx context.Context, v *sqlite.View, a *VINAnswer, onFile []catalog.Vehicle) error {
	list, err := s.enginesMeant(ctx, v, vehicleSaid{vin8: a.VIN8, years: a.reading.Years})
	if err != nil {
		return err
	}
	for i := range list {
		e := &list[i]
		e.Why = "position 8 of the VIN is " + a.VIN8
		if len(a.Years) > 0 {
			e.Why += fmt.Sprintf(", model year %s", yearList(a.Years))
		}
		if c := e.facts().VIN8; c.Known {
			e.Origin = append(e.Origin, compat.From(c.Origin))
		}
	}
	same := func(c catalog.Vehicle) bool { return vin.Clean(c.VIN) == a.VIN }
	alike := func(c catalog.Vehicle) bool {
		known := vin.Clean(c.VIN)
		return len(known) == vin.Length && known[:8] == a.VIN[:8] && known[9] == a.VIN[9]
	}
	for _, c := range onFile {
		if c.Engine == "" || !same(c) && !alike(c) {
			continue
		}
		e, err := s.engineNamed(ctx, v, c.Engine)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(list, func(o EngineMeant) bool { return o.Engine == e.Engine })
		if same(c) {
			e.Why = c.Mark + " is on file with this VIN and this engine"
			e.Origin = append(e.Origin, compat.From(c.Origin))
			if len(list) > 1 && i >= 0 {
				e.Why += "; by position 8 alone it could be " + strings.Join(engineNamesOf(list), " or ") + ": look at the displacement"
			}
			a.Engines = []EngineMeant{e}
			return nil
		}
		alikeWords := c.Mark + " on file begins alike"
		switch {
		case i >= 0 && strings.Contains(list[i].Why, "begins alike"):
			continue
		case i >= 0:
			e = list[i]
			e.Why += "; " + alikeWords
			list = slices.Delete(list, i, i+1)
		default:
			e.Why, e.Guess = "a guess: "+alikeWords+"; no sheet says which engine position 8 means", true
			e.Origin = append(e.Origin, compat.From(c.Origin))
		}
		list = append([]EngineMeant{e}, list...)
	}
	a.Engines, a.Ask = append(a.Engines, list...), askWhichEngine(list)
	return nil
}

// engineNamed returns the engine of a name that a record states; one that
// nothing else knows is known by its name.
func (s *Shop) engineNamed(ctx context.Context, v *sqlite.View, name string) (EngineMeant, error) {
	list, err := s.enginesMeant(ctx, v, vehicleSaid{engines: []string{catalog.Key(name)}})
	if err != nil || len(list) > 0 {
		return append(list, EngineMeant{})[0], err
	}
	return EngineMeant{Engine: name, keys: []string{catalog.Key(name)}}, nil
}

func yearList(years []int) string {
	var list []string
	for _, y := range years {
		list = append(list, fmt.Sprint(y))
	}
	return strings.Join(list, " or ")
}
