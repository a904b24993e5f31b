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
	err := s.store.View(ctx, func(v *sqlite.View) error {
		suppliers, err := v.Suppliers(ctx)
		if err != nil {
			return err
		}
		if q.Supplier, err = supplierName(q.Supplier, suppliers); err != nil {
			return err
		}
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
		for _, c := range byType[t] {
			keys = append(keys, c.Part.Key)
		}
		verdicts := s.fit.Judge(fit.Question{Engine: family, Type: t, Year: q.Year, VIN8: q.VIN8, Show: s.Settings.Units}, byType[t])
		for _, d := range verdicts {
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
	held, err := v.HeldAbout(ctx, keys)
	for _, h := range held {
		a.Waiting = append(a.Waiting, HeldNote{Sheet: h.Origin.Sheet, Line: h.Line, Number: h.Number, Reason: h.Reason})
	}
	return err
}

// candidates collects the parts that could be meant, by type.
func (s *Shop) candidates(ctx context.Context, v *sqlite.View, q FitQuestion, engine []string) (map[string][]fit.Candidate, error) {
	listed, err := v.ListedFor(ctx, engine)
	if err != nil {
		return nil, err
	}
	links, others, err := s.links(ctx, v, listed)
	if err != nil {
		return nil, err
	}
	var ids []int64
	if q.Part != "" {
		if ids, err = v.PartIDs(ctx, catalog.Key(q.Part)); err != nil {
			return nil, err
		}
		if len(ids) == 0 {
			return nil, unknownPart(ctx, v, q.Part)
		}
	} else {
		ids = append(keysOf(listed), keysOf(links)...)
	}
	slices.Sort(ids)
	ids = slices.Compact(ids)
	if ids, err = s.ofType(ctx, v, ids, q.Type); err != nil {
		return nil, err
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return nil, err
	}
	byType := map[string][]fit.Candidate{}
	for _, p := range parts {
		if q.Supplier != "" && p.Supplier != q.Supplier {
			continue
		}
		c := fit.Candidate{Part: p, Listings: listed[p.ID], Links: links[p.ID], OtherSizes: others[p.ID]}
		for i := range c.Listings {
			o := &c.Listings[i].Origin
			if o.Text, err = v.TextAt(ctx, *o); err != nil {
				return nil, err
			}
		}
		byType[p.Type.Value] = append(byType[p.Type.Value], c)
	}
	return byType, nil
}

// ofType keeps the parts of one type; of all types if it is empty.
func (s *Shop) ofType(ctx context.Context, v *sqlite.View, ids []int64, partType string) ([]int64, error) {
	if partType == "" {
		return ids, nil
	}
	types, err := v.TypesOf(ctx, ids)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(ids, func(id int64) bool { return types[id] != partType }), nil
}

// links follows the cross-references one step from the listed parts, in the
// direction in which they hold: "same" both ways, a supersession from the old
// number to the new one.
func (s *Shop) links(ctx context.Context, v *sqlite.View, listed map[int64][]catalog.Fitment) (map[int64][]fit.Link, map[int64][]catalog.Part, error) {
	links, others := map[int64][]fit.Link{}, map[int64][]catalog.Part{}
	ids := keysOf(listed)
	from, err := v.Parts(ctx, ids)
	if err != nil {
		return nil, nil, err
	}
	outgoing, err := v.CrossReferences(ctx, ids)
	if err != nil {
		return nil, nil, err
	}
	for _, p := range from {
		for _, x := range outgoing[p.ID] {
			to, err := v.PartIDs(ctx, x.OtherKey)
			if err != nil {
				return nil, nil, err
			}
			if x.Relation == catalog.Replaces {
				continue // that the listed part replaces another does not make the other fit
			}
			if x.Relation == catalog.ReplacedBy {
				x.Relation = catalog.Replaces // seen from the other part
			}
			if err := s.link(ctx, v, links, others, to, p, x); err != nil {
				return nil, nil, err
			}
		}
		incoming, err := v.CrossReferencesTo(ctx, p.Key)
		if err != nil {
			return nil, nil, err
		}
		for id, refs := range incoming {
			for _, x := range refs {
				if x.Relation == catalog.ReplacedBy {
					continue
				}
				if err := s.link(ctx, v, links, others, []int64{id}, p, x); err != nil {
					return nil, nil, err
				}
			}
		}
	}
	return links, others, nil
}

func (s *Shop) link(ctx context.Context, v *sqlite.View, links map[int64][]fit.Link, others map[int64][]catalog.Part, to []int64, via catalog.Part, x catalog.CrossReference) error {
	parts, err := v.Parts(ctx, to)
	if err != nil {
		return err
	}
	for _, p := range parts {
		if p.ID == via.ID {
			continue
		}
		links[p.ID] = append(links[p.ID], fit.Link{Via: via, Relation: x.Relation, Hops: 1, Origin: x.Origin})
		if x.Relation == catalog.Same {
			others[p.ID] = append(others[p.ID], via)
			others[via.ID] = append(others[via.ID], p)
		}
	}
	return nil
}

func keysOf[V any](m map[int64]V) []int64 {
	ids := make([]int64, 0, len(m))
	for id := range m {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
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
