package app

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

// CapacitySaid is what was measured to find out how much a system holds. Texts
// carry their units.
type CapacitySaid struct {
	Engine, Circuit string
	Before, After   string // strength in %, or what a refractometer reads
	Scale           string // of the refractometer: ethylene or propylene
	Drained         string
	Refilled        string // empty: as much as was drained
	With            string // water, or a product number; empty: water
	WithStrength    string
}

// CapacityAnswer is how much the system holds.
type CapacityAnswer struct {
	First  string   `json:"first"`
	Known  bool     `json:"known"`
	Litres float64  `json:"capacity_l"`
	Low    float64  `json:"low_l"`
	High   float64  `json:"high_l"`
	Steps  []string `json:"steps"`
	OnFile string   `json:"on_file,omitempty"` // how it goes with what is on file
	Next   string   `json:"next"`
}

// Capacity works out how much a system holds from the strength before and
// after a measured drain and refill.
func (s *Shop) Capacity(ctx context.Context, said CapacitySaid) (CapacityAnswer, error) {
	a := CapacityAnswer{Steps: []string{}}
	q, err := s.capacityQuestion(ctx, &said)
	if err != nil {
		return a, err
	}
	c, err := coolant.CapacityFrom(q)
	show := s.Settings.Units
	switch {
	case errors.Is(err, coolant.ErrNoCapacity):
		a.First, a.Next = "cannot say: the strengths are too near each other", "Drain more, or refill with something further off: water into strong coolant, concentrate into weak. Run it hot before you read it again."
		return a, nil
	case err != nil:
		return a, &UsageError{Problem: err.Error(), Hint: "read both after a hot run with the heater on, and see: fitfill fill capacity --help"}
	}
	a.Known, a.Litres, a.Low, a.High, a.Steps = true, c.Litres, c.Low, c.High, c.Steps
	of := func(l float64) string { return show.FormatVolume(units.Litres(math.Round(l*10) / 10)) }
	a.First = fmt.Sprintf("holds about %s (%s to %s)", of(c.Litres), of(c.Low), of(c.High))
	a.Next = "Weigh or measure what comes out at the next full drain, and put it into the engines sheet as coolant_capacity."
	if said.Engine == "" {
		return a, nil
	}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		_, family, err := s.engineSaid(ctx, v, said.Engine)
		if err != nil {
			return err
		}
		cq := coolant.Question{Engine: &family, Circuit: said.Circuit}
		if err := s.nameCircuit(&cq); err != nil {
			return err
		}
		loop, ok := loopMeant(&cq)
		if !ok || !loop.CoolantCapacity.Known {
			return nil
		}
		file := loop.CoolantCapacity
		where := fmt.Sprintf("%s (%s line %d)", show.FormatVolume(file.Value), file.Origin.Sheet, file.Origin.Line)
		a.OnFile = "On file is " + where + ": that agrees."
		if l := file.Value.Litres(); l < c.Low || l > c.High {
			a.OnFile = "On file is " + where + ": that does not agree. Air in the system, a wrong level or a wrong figure: look before you trust either."
		}
		return nil
	})
	return a, err
}

func (s *Shop) capacityQuestion(ctx context.Context, said *CapacitySaid) (q coolant.CapacityQuestion, err error) {
	scale := strings.ToLower(strings.TrimSpace(said.Scale))
	if scale != "" && scale != "ethylene" && scale != "propylene" {
		return q, &UsageError{Problem: fmt.Sprintf("--scale %q is no scale of a refractometer", said.Scale), Hint: "it is ethylene or propylene"}
	}
	for _, x := range []struct {
		flag, text string
		into       *coolant.Measured
	}{{"--before", said.Before, &q.Before}, {"--after", said.After, &q.After}} {
		if *x.into, err = s.strengthRead(x.flag, x.text, scale); err != nil {
			return q, err
		}
	}
	if said.Refilled == "" {
		said.Refilled = said.Drained
	}
	for _, x := range []struct {
		flag, text string
		into       *coolant.Measured
	}{{"--drained", said.Drained, &q.Drained}, {"--refilled", said.Refilled, &q.Refilled}} {
		v, err := s.volume(x.flag, x.text, "3L")
		if err != nil {
			return q, err
		}
		if !v.Known {
			return q, &UsageError{Problem: x.flag + " is missing", Hint: "write how much came out, like " + x.flag + " 3L"}
		}
		*x.into = coolant.Measured{Value: v.Value.Litres(), PM: s.coolant().JugError().Litres()}
	}
	if with := strings.TrimSpace(said.With); with == "" || strings.EqualFold(with, "water") {
		return q, nil
	}
	return q, s.store.View(ctx, func(v *sqlite.View) error {
		f, _, err := s.fluid(ctx, v, "with", FluidSaid{What: said.With, Strength: said.WithStrength}, nil, "")
		if err != nil {
			return err
		}
		strength := f.Strength
		if !strength.Known {
			strength = s.coolant().BottleStrength(f)
		}
		if !strength.Known {
			return &UsageError{Problem: "how strong " + f.Said + " is is not on file", Hint: "add --with-strength 50%"}
		}
		q.With = coolant.Measured{Value: strength.Value.Percents()}
		return nil
	})
}

// strengthRead reads a strength: in per cent, or as the freezing point that a
// refractometer of that scale shows.
func (s *Shop) strengthRead(flag, text, scale string) (coolant.Measured, error) {
	hint := "write the strength like " + flag + ` 50%, or what the refractometer reads like ` + flag + ` "-37 C"`
	switch {
	case strings.TrimSpace(text) == "":
		return coolant.Measured{}, &UsageError{Problem: flag + " is missing", Hint: hint}
	case strings.Contains(text, "%"):
		p, err := units.ParsePercent(text)
		if err != nil {
			return coolant.Measured{}, &UsageError{Problem: flag + ": " + err.Error(), Hint: hint}
		}
		return coolant.Measured{Value: p.Percents(), PM: s.coolant().StrengthError().Percents()}, nil
	}
	t, err := units.ParseTemperature(text, "")
	if err != nil {
		return coolant.Measured{}, &UsageError{Problem: flag + ": " + err.Error(), Hint: hint}
	}
	if scale == "" {
		scale = "ethylene"
	}
	p, pm, err := s.coolant().StrengthRead(scale, t)
	if err != nil {
		return coolant.Measured{}, &UsageError{Problem: flag + " " + text + ": " + err.Error(), Hint: hint}
	}
	return coolant.Measured{Value: p.Percents(), PM: pm.Percents()}, nil
}
