package app

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
	"fitfill/compat/fit"
)

// FitQuestion asks which parts go into an engine.
type FitQuestion struct {
	Vehicle  string // mark, plate or VIN: its engine, and the answer is kept as said
	Engine   string
	Type     string
	Part     string
	Supplier string

	// What is known of the vehicle and of the part in hand, as a counter says it.
	Year          string   // 2004, or 2004.5 for the second half of a year that lists split
	VIN8          string   // the 8th character of the VIN
	Built         string   // year and month of build: 2004-03
	Displacement  string   // 3.8 L
	With, Without []string // A/C, HD: what a list's note asks for
	On            string   // the thermostat that a seal is to go on
	Measured      []string // flange 53.9 mm, bore 54.8 mm, stamp 82 °C
	Bolt, Torque  string   // a thread and a figure to be judged: M8, 15-22 lbf·ft

	// WithoutRows leaves the rows' own text out of the evidence: a screen of text
	// names the lines alone, and reading a few thousand of them takes its time.
	WithoutRows bool
}

// FitAnswer is every part that could be meant, judged, best first.
type FitAnswer struct {
	Vehicle string     `json:"vehicle,omitempty"`
	Engine  string     `json:"engine"`
	Type    string     `json:"type"`
	Answers []PartFit  `json:"answers"`
	Waiting []HeldNote `json:"waiting,omitempty"`

	// Rings are the standard rings that a measured one may be.
	Rings []RingLike `json:"rings,omitempty"`

	// Torque is what is on file about the bolts of the housing.
	Torque *TorqueAnswer `json:"torque,omitempty"`

	// Next is what to ask first, where an answer settles any part in doubt.
	Next *NextQuestion `json:"next,omitempty"`
	Hint string        `json:"hint,omitempty"`

	// NotKept says why the answer is not on record for the vehicle.
	NotKept string `json:"not_kept,omitempty"`

	Own *OwnNote `json:"own_tables,omitempty"`
}

// PartFit is the verdict on one part.
type PartFit struct {
	Supplier    string           `json:"supplier"`
	Number      string           `json:"number"`
	Type        string           `json:"type"`
	Description string           `json:"description"`
	Outcome     compat.Outcome   `json:"outcome"`
	First       string           `json:"first"`
	Faulty      bool             `json:"faulty,omitempty"` // the piece in hand failed its test: it may be the right part all the same
	Findings    []compat.Finding `json:"findings"`
	Price       string           `json:"price,omitempty"`
	Stock       string           `json:"stock,omitempty"`
	StockDate   string           `json:"stock_date,omitempty"`
	Delivery    string           `json:"delivery,omitempty"`
	Ask         []string         `json:"ask"`
	AnswerWith  []string         `json:"answer_with,omitempty"` // the flag that takes each answer, empty where looking settles it
	Superseded  *Superseded      `json:"superseded,omitempty"`  // what became of the number

	part *catalog.Part // large, and answers are moved about while they are put in order
}

func (p *PartFit) priced(part *catalog.Part) {
	if part.Price.Known {
		p.Price = part.Price.Value.String()
		if per := part.PricePer.Value; per != "" && per != "each" {
			p.Price += " per " + per
		}
	}
	if part.StockDate.Known {
		p.StockDate = part.StockDate.Value.String()
	}
}

// Offer says what the part costs and who has it when, with the day on which
// that was stated.
func (p PartFit) Offer() string {
	parts := []string{p.Price}
	if p.Stock != "" {
		parts = append(parts, "stock "+p.Stock)
	}
	if p.Delivery != "" {
		parts = append(parts, "delivery "+p.Delivery)
	}
	if p.StockDate != "" {
		parts = append(parts, "as of "+p.StockDate)
	}
	return strings.TrimPrefix(strings.Join(parts, "; "), "; ")
}

// NextQuestion is the question that is expected to settle most.
type NextQuestion struct {
	Ask        string  `json:"ask"`
	AnswerWith string  `json:"answer_with"`
	Doubtful   int     `json:"doubtful"` // parts in doubt now
	Left       float64 `json:"left"`     // parts expected in doubt after the answer
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
	a := FitAnswer{Engine: q.Engine, Type: q.Type, Answers: []PartFit{}, Own: s.ownNote("fit_")}
	ask, err := s.readAsked(q)
	if err != nil {
		return a, err
	}
	if q.Engine == "" && q.Vehicle == "" {
		return s.ringOnly(a, &ask)
	}
	a.Rings = s.ringsLike(&ask.measured)
	err = s.store.View(ctx, func(v *sqlite.View) error {
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
		ask.Supplier, ask.Type, a.Type = q.Supplier, q.Type, q.Type
		if err := s.fitSaid(ctx, v, &q, &ask); err != nil {
			return err
		}
		if err := s.fitVehicle(ctx, v, &q, &ask, &a); err != nil {
			return err
		}
		keys, family, err := s.fitEngine(ctx, v, ask)
		if err != nil {
			return err
		}
		a.Engine = family.Family
		if ask.displacement.Known {
			all, err := v.Families(ctx)
			if err != nil {
				return err
			}
			if err := ask.sameEngine(family, all); err != nil {
				return err
			}
		}
		byType, joined, err := s.candidates(ctx, v, ask, keys, &family)
		if err != nil {
			return err
		}
		return s.judgeFit(ctx, v, ask, family, byType, joined, &a)
	})
	if err == nil && a.Vehicle != "" {
		a.NotKept = s.Said(ctx, saidFit(a.Vehicle, a))
	}
	return a, err
}

func (s *Shop) judgeFit(ctx context.Context, v *sqlite.View, q asked, family catalog.EngineFamily, byType map[string][]fit.Candidate, joined *fit.Network, a *FitAnswer) error {
	types := make([]string, 0, len(byType))
	for t := range byType {
		types = append(types, t)
	}
	slices.Sort(types)
	var keys []string
	known, err := s.knownOf(ctx, v, q, &family, byType)
	if err != nil {
		return err
	}
	for _, t := range types {
		question := known.question(t, byType[t])
		verdicts := s.fit().Judge(question, byType[t])
		if n, ok := s.fit().Next(question, byType[t], q.shown); ok && (a.Next == nil || n.Left-float64(n.Doubtful) < a.Next.Left-float64(a.Next.Doubtful)) {
			a.Next = nextQuestion(n)
		}
		a.Answers = slices.Grow(a.Answers, len(verdicts))
		for i := range verdicts {
			d := &verdicts[i]
			if !q.shown(&d.Part) || t == fit.Clamp && q.Part == "" && !speaksFor(*d) {
				continue
			}
			keys = append(keys, d.Part.Key)
			p := PartFit{
				Supplier: d.Part.Supplier, Number: d.Part.Number, Type: t, Description: d.Part.Description.Value,
				Outcome: d.Outcome, First: d.First, Faulty: d.Faulty, Findings: d.Findings, Ask: []string{}, part: &d.Part,
				Stock: d.Part.Stock.Value, Delivery: d.Part.Delivery.Value,
			}
			p.priced(&d.Part)
			for _, k := range d.Ask {
				p.Ask, p.AnswerWith = append(p.Ask, k.Text), append(p.AnswerWith, k.Flag)
			}
			s.suitsCoolant(&p, &d.Part, &family)
			p.Superseded = s.superseded(joined, &d.Part, verdicts)
			if !q.WithoutRows {
				if err := fillTexts(ctx, v, p.Findings); err != nil {
					return err
				}
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
	if len(a.Answers) == 0 && q.Type == fit.Clamp {
		a.Hint = `no clamp in the sheets suits the hose, or the hose is not on file: measure over it on its neck, --measured "hose 47 mm"`
	} else if len(a.Answers) == 0 {
		a.Hint = "no list names such a part for this engine: leave --type out to see what is listed, or ask for one part with --part NUMBER"
	}
	if q.Part != "" {
		keys = append(keys, catalog.Key(q.Part))
	}
	if err := s.addListingRecords(ctx, v, a.Answers, !q.WithoutRows); err != nil {
		return err
	}
	if a.Torque, err = s.torque(ctx, v, q, family, types); err != nil {
		return err
	}
	a.Waiting, err = heldNotes(ctx, v, keys...)
	return err
}

// unknownPart says that no active sheet has a number. A part that replaces it,
// or a held row about it, is the likeliest reason.
func unknownPart(ctx context.Context, v *sqlite.View, engine, number string) error {
	hint := fmt.Sprintf("try: fitfill find %s", number)
	now, err := replacements(ctx, v, number)
	if err != nil {
		return err
	}
	if len(now) > 0 {
		return &UnknownPart{Number: number, Hint: fmt.Sprintf("%s; try: fitfill fit %s --part %s", now[0].Says, engine, now[0].Number)}
	}
	held, err := v.HeldAbout(ctx, []string{catalog.Key(number)})
	if err != nil {
		return err
	}
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
	var vehicle *UnknownVehicle
	var several *SeveralEngines
	var sheet *UnknownSheet
	switch {
	case errors.As(err, &sheet):
		return "the sheets in use stand in: fitfill sheets list", true
	case errors.As(err, &several):
		return several.Hint, true
	case errors.As(err, &engine):
		return engine.Hint, true
	case errors.As(err, &part):
		return part.Hint, true
	case errors.As(err, &vehicle):
		return vehicle.Hint, true
	}
	return "", false
}
