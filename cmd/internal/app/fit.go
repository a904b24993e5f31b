package app

import (
	"cmp"
	"context"
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
	Circuit       string   // the loop that a coolant is for
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
	Place   string     `json:"place,omitempty"` // lower, where a lower hose was asked for: parts for other places are left out
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
	go s.fit() // read while the catalogue is being read
	if q.Type == roleCoolant {
		go s.coolant()
	}
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
		if q.Part == "" {
			ask.places = s.fit().Places(q.Type)
		}
		if q.Type, err = s.partType(ctx, v, q.Type); err != nil {
			return err
		}
		ask.Supplier, ask.Type, a.Type, a.Place = q.Supplier, q.Type, q.Type, strings.Join(ask.places, ", ")
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
	if err := loopSaid(&family, q.Circuit); err != nil {
		return err
	}
	known, err := s.knownOf(ctx, v, q, &family, byType)
	if err != nil {
		return err
	}
	shown := func(p *catalog.Part) bool { return q.shown(p) && !s.fit().Elsewhere(p, q.places) }
	other := notOfLetter(&family, q.VIN8)
	for _, t := range types {
		weighed := s.fit().Weigh(known.question(t, byType[t]), byType[t])
		verdicts := weighed.Judge()
		if n, ok := weighed.Next(shown); ok && (a.Next == nil || n.Left-float64(n.Doubtful) < a.Next.Left-float64(a.Next.Doubtful)) {
			a.Next = nextQuestion(n)
		}
		a.Answers = slices.Grow(a.Answers, len(verdicts))
		for i := range verdicts {
			d := &verdicts[i]
			if !shown(d.Part) || t == fit.Clamp && q.Part == "" && !speaksFor(*d) {
				continue
			}
			keys = append(keys, d.Part.Key)
			p := PartFit{
				Supplier: d.Part.Supplier, Number: d.Part.Number, Type: t, Description: d.Part.Description.Value,
				Place: strings.Join(s.fit().Places(d.Part.Description.Value), ", "), Outcome: d.Outcome, First: d.First, Faulty: d.Faulty, Findings: d.Findings, Ask: []string{}, part: d.Part,
				Stock: d.Part.Stock.Value, Delivery: d.Part.Delivery.Value,
			}
			p.priced(d.Part)
			for _, k := range d.Ask {
				p.Ask, p.AnswerWith = append(p.Ask, k.Text), append(p.AnswerWith, k.Flag)
			}
			s.suitsCoolant(&p, d.Part, &family, q.Circuit)
			doubtEngine(&family, other, &p.Outcome, &p.First, &p.Findings)
			p.Superseded = s.superseded(joined, d.Part, verdicts)
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
	a.Hint = cmp.Or(other, notOfYear(&family, q.year))
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

// ErrBusy is returned while another process imports.
var ErrBusy = sqlite.ErrBusy
