package app

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
	"fitfill/compat/fit"
)

// FitQuestion asks which parts go into an engine.
type FitQuestion struct {
	Engine   string
	Type     string
	Part     string
	Supplier string
	Year     int
	VIN8     string
}

// FitAnswer is every part that could be meant, judged, best first.
type FitAnswer struct {
	Engine  string     `json:"engine"`
	Type    string     `json:"type"`
	Answers []PartFit  `json:"answers"`
	Waiting []HeldNote `json:"waiting,omitempty"`
	Hint    string     `json:"hint,omitempty"`
}

// PartFit is the verdict on one part.
type PartFit struct {
	Supplier    string           `json:"supplier"`
	Number      string           `json:"number"`
	Type        string           `json:"type"`
	Description string           `json:"description"`
	Outcome     compat.Outcome   `json:"outcome"`
	First       string           `json:"first"`
	Findings    []compat.Finding `json:"findings"`
	Ask         []string         `json:"ask"`
}

// HeldNote is a held row about a part that was asked for.
type HeldNote struct {
	Sheet  string `json:"sheet"`
	Line   int    `json:"line"`
	Number string `json:"number"`
	Reason string `json:"reason"`
}

// Outcome is the best of the answers: what the question comes to.
func (a FitAnswer) Outcome() compat.Outcome {
	best := compat.CannotSay
	for i, p := range a.Answers {
		if i == 0 || best.Worse(p.Outcome) {
			best = p.Outcome
		}
	}
	return best
}

// Fit judges which parts go into an engine: those that lists name for it,
// those that cross-references lead to, and the one that was asked for.
func (s *Shop) Fit(ctx context.Context, q FitQuestion) (FitAnswer, error) {
	a := FitAnswer{Engine: q.Engine, Type: q.Type, Answers: []PartFit{}}
	switch {
	case q.Year != 0 && (q.Year < 1886 || q.Year > 2100):
		return a, &UsageError{Problem: fmt.Sprintf("--year %d is no model year", q.Year), Hint: "write all four digits, such as --year 2004"}
	case len(catalog.Key(q.VIN8)) > 1:
		return a, &UsageError{Problem: fmt.Sprintf("--vin8 %q is more than one character", q.VIN8), Hint: "it is the one letter or digit at position 8 of the VIN"}
	}
	err := s.store.View(ctx, func(v *sqlite.View) error {
		suppliers, err := v.Suppliers(ctx)
		if err != nil {
			return err
		}
		if q.Supplier, err = supplierName(q.Supplier, suppliers); err != nil {
			return err
		}
		if q.Type, err = s.partType(ctx, v, q.Type); err != nil {
			return err
		}
		a.Type = q.Type
		keys, family, err := engineKeys(ctx, v, q.Engine)
		if err != nil {
			return err
		}
		a.Engine = family.Family
		byType, err := s.candidates(ctx, v, q, keys)
		if err != nil {
			return err
		}
		return s.judgeFit(ctx, v, q, family, byType, &a)
	})
	return a, err
}

func (s *Shop) judgeFit(ctx context.Context, v *sqlite.View, q FitQuestion, family catalog.EngineFamily, byType map[string][]fit.Candidate, a *FitAnswer) error {
	types := make([]string, 0, len(byType))
	for t := range byType {
		types = append(types, t)
	}
	slices.Sort(types)
	var keys []string
	for _, t := range types {
		verdicts := s.fit.Judge(fit.Question{Engine: family, Type: t, Year: q.Year, VIN8: q.VIN8, Show: s.Settings.Units}, byType[t])
		for _, d := range verdicts {
			if q.Supplier != "" && d.Part.Supplier != q.Supplier || q.Part != "" && d.Part.Key != catalog.Key(q.Part) {
				continue
			}
			keys = append(keys, d.Part.Key)
			p := PartFit{
				Supplier: d.Part.Supplier, Number: d.Part.Number, Type: t, Description: d.Part.Description.Value,
				Outcome: d.Outcome, First: d.First, Findings: d.Findings, Ask: d.Ask,
			}
			if p.Ask == nil {
				p.Ask = []string{}
			}
			if err := fillTexts(ctx, v, p.Findings); err != nil {
				return err
			}
			a.Answers = append(a.Answers, p)
		}
	}
	slices.SortStableFunc(a.Answers, func(x, y PartFit) int {
		switch {
		case y.Outcome.Worse(x.Outcome):
			return -1
		case x.Outcome.Worse(y.Outcome):
			return 1
		}
		return 0
	})
	if len(a.Answers) == 0 {
		a.Hint = "no list names such a part for this engine: leave --type out to see what is listed, or ask for one part with --part NUMBER"
	}
	if q.Part != "" {
		keys = append(keys, catalog.Key(q.Part))
	}
	var err error
	a.Waiting, err = heldNotes(ctx, v, keys...)
	return err
}

// unknownPart says that no active sheet has a number; a held row about it is
// the likeliest reason.
func unknownPart(ctx context.Context, v *sqlite.View, number string) error {
	held, err := v.HeldAbout(ctx, []string{catalog.Key(number)})
	if err != nil {
		return err
	}
	hint := fmt.Sprintf("try: fitfill find %s", number)
	if len(held) > 0 {
		hint = fmt.Sprintf("a row about it is held back (%s line %d: %s)", held[0].Origin.Sheet, held[0].Line, held[0].Reason)
	}
	return &UnknownPart{Number: number, Hint: hint}
}

// UnknownPart says that no sheet in use has a part number.
type UnknownPart struct{ Number, Hint string }

// Error returns the problem.
func (e *UnknownPart) Error() string { return fmt.Sprintf("no sheet has the number %q", e.Number) }

// ErrBusy is returned while another process imports.
var ErrBusy = sqlite.ErrBusy

// IsUnknown reports whether an error says that something asked for is not in
// the catalogue, and returns the hint.
func IsUnknown(err error) (hint string, ok bool) {
	var engine *UnknownEngine
	var part *UnknownPart
	switch {
	case errors.As(err, &engine):
		return engine.Hint, true
	case errors.As(err, &part):
		return part.Hint, true
	}
	return "", false
}
