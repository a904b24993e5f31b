package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

// FlushQuestion asks how to get from one coolant to another. Texts carry their
// units; empty means not said.
type FlushQuestion struct {
	Engine, Circuit string
	From, To        FluidSaid
	Volume, Drain   string
	DrainWith       string // tap, block-plug or vacuum
	Residue         string // per cent of the old fill that may stay
	Strength        string
	Rinse           string // water or coolant
	CoolantRounds   int
	Cleaner         string // product number
	Look            string
}

// FlushAnswer is the plan with what the question was read as.
type FlushAnswer struct {
	coolant.FlushPlan
	Engine, From, To string
	Own              *OwnNote

	// Frost says against which cold the rounds were checked that may not be left
	// standing.
	Frost string
}

// Flush plans how to get the old coolant out and the new one in.
func (s *Shop) Flush(ctx context.Context, q FlushQuestion) (FlushAnswer, error) {
	var a FlushAnswer
	err := s.store.View(ctx, func(v *sqlite.View) error {
		cq := coolant.FlushQuestion{
			Circuit: q.Circuit, Coldest: s.Settings.Coldest, Show: s.Settings.Units,
			Method: strings.ToLower(strings.TrimSpace(q.DrainWith)), Rinse: strings.ToLower(strings.TrimSpace(q.Rinse)), Fresh: q.CoolantRounds,
		}
		if q.Engine != "" {
			_, family, err := s.engineSaid(ctx, v, q.Engine)
			if err != nil {
				return err
			}
			cq.Engine, a.Engine = &family, family.Family
		}
		named := coolant.Question{Engine: cq.Engine, Circuit: q.Circuit, Condition: q.Look}
		if err := s.nameCircuit(&named); err != nil {
			return err
		}
		if err := s.nameLook(&named); err != nil {
			return err
		}
		cq.Circuit, cq.Condition = named.Circuit, named.Condition
		if err := s.flushFigures(q, &cq); err != nil {
			return err
		}
		if q.To.What == "" {
			q.To.What = s.Settings.HouseCoolant
		}
		var err error
		if cq.From, _, err = s.fluid(ctx, v, "from", q.From, cq.Engine, cq.Circuit); err != nil {
			return err
		}
		if cq.To, _, err = s.fluid(ctx, v, "to", q.To, cq.Engine, cq.Circuit); err != nil {
			return err
		}
		if cq.Cleaner, err = cleanerProduct(ctx, v, q.Cleaner); err != nil {
			return err
		}
		a.From, a.To = cq.From.Said, cq.To.Said
		a.Frost = "it protects hardly more than water does."
		if cq.Coldest.Known {
			a.Frost = "it may freeze at " + s.Settings.Units.FormatTemperature(cq.Coldest.Value) + "."
		}
		if a.FlushPlan, err = s.coolant().Flush(cq); err != nil {
			return &UsageError{Problem: err.Error(), Hint: "see: fitfill flush --help"}
		}
		if len(s.own) > 0 {
			by, err := s.shipped.coolant().Flush(cq)
			if err != nil {
				by.First = "it cannot be planned: " + err.Error()
			}
			if a.Own, err = s.ownDifference("coolant_", a.FlushPlan, by, a.Findings, a.First, by.First); err != nil {
				return err
			}
		}
		return fillTexts(ctx, v, a.Findings)
	})
	return a, err
}

// flushFigures reads the figures of the question.
func (s *Shop) flushFigures(q FlushQuestion, cq *coolant.FlushQuestion) error {
	for _, x := range []struct {
		flag, text, example string
		into                *catalog.Stated[units.Volume]
	}{{"volume", q.Volume, "8L", &cq.Volume}, {"drain", q.Drain, "4.4L", &cq.Drain}} {
		v, err := s.volume("--"+x.flag, x.text, x.example)
		if err != nil {
			return err
		}
		*x.into = v
	}
	for _, x := range []struct {
		flag, text, example string
		into                *catalog.Stated[units.Percent]
	}{{"residue", q.Residue, "5%", &cq.Left}, {"strength", q.Strength, "50%", &cq.Strength}} {
		if x.text == "" {
			continue
		}
		p, err := units.ParsePercent(x.text)
		if err != nil {
			return &UsageError{Problem: fmt.Sprintf("--%s: %v", x.flag, err), Hint: "write it like --" + x.flag + " " + x.example}
		}
		*x.into = catalog.Say(p, x.text, catalog.Origin{})
	}
	if cq.Left.Known && cq.Left.Value.Percents() == 0 {
		return &UsageError{Problem: "--residue 0: rinsing never gets the last of it out", Hint: "name what may stay, like --residue 2%, or leave it out"}
	}
	if cq.Method != "" && !slices.Contains(s.coolant().DrainMethods(), cq.Method) {
		return &UsageError{Problem: fmt.Sprintf("--drain-with %q is no way to drain that is on file", q.DrainWith), Hint: "it is one of " + strings.Join(s.coolant().DrainMethods(), ", ")}
	}
	if q.CoolantRounds < 0 {
		return &UsageError{Problem: fmt.Sprintf("--coolant-rounds %d is no number of rounds", q.CoolantRounds), Hint: "it is how many of the last rounds get coolant: 1 or more"}
	}
	return nil
}

// volume reads an amount with its unit; an empty text is not known.
func (s *Shop) volume(flag, text, example string) (catalog.Stated[units.Volume], error) {
	if strings.TrimSpace(text) == "" {
		return catalog.Stated[units.Volume]{}, nil
	}
	hint := "write it with its unit, like " + flag + " " + example
	v, err := units.ParseVolume(text, "")
	if err != nil {
		return catalog.Stated[units.Volume]{}, &UsageError{Problem: flag + ": " + err.Error(), Hint: hint}
	}
	if v.Nanolitres() < 0 {
		return catalog.Stated[units.Volume]{}, &UsageError{Problem: fmt.Sprintf("%s %s is less than nothing", flag, text), Hint: hint}
	}
	return catalog.Say(v, text, catalog.Origin{}), nil
}

// cleanerProduct finds a cleaner by its number.
func cleanerProduct(ctx context.Context, v *sqlite.View, number string) (*catalog.Part, error) {
	if number == "" {
		return nil, nil
	}
	ids, err := v.PartIDs(ctx, catalog.Key(number))
	if err != nil {
		return nil, err
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return nil, err
	}
	for i := range parts {
		if parts[i].Type.Value == "cleaner" {
			return &parts[i], nil
		}
	}
	if len(parts) > 0 {
		return nil, &UsageError{Problem: fmt.Sprintf("%s is no cleaner but: %s", parts[0].Number, parts[0].Description.Value), Hint: "see: fitfill find cleaner"}
	}
	return nil, &UsageError{Problem: fmt.Sprintf("--cleaner %q is no product number on file", number), Hint: "see: fitfill find cleaner"}
}
