package app

import (
	"context"
	"errors"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/words"
	"fitfill/compat"
)

// CounterQuestion is what a counter asks: words or a number, and the engine on
// the bench with what is known of the vehicle.
type CounterQuestion struct {
	Find       FindQuestion
	Bench      FitQuestion // without an engine nothing is judged
	Everywhere bool        // words look beyond what is listed for the engine
}

// CounterAnswer is what was found, each part judged for the engine on the
// bench, or for the one that the words name.
type CounterAnswer struct {
	FindAnswer
	Bench    string        `json:"bench,omitempty"`
	For      string        `json:"judged_for,omitempty"`
	Narrowed bool          `json:"narrowed_to_bench,omitempty"`
	Verdicts []PartFit     `json:"verdicts,omitempty"` // of each hit, in their order
	Next     *NextQuestion `json:"next,omitempty"`
}

// Counter finds parts and judges them. Words are looked for among what is
// listed for the engine on the bench first; a number in the whole catalogue.
// Words that name an engine themselves are about that one: the parts are not
// judged for another that happens to lie on the bench.
func (s *Shop) Counter(ctx context.Context, q CounterQuestion) (CounterAnswer, error) {
	a := CounterAnswer{Bench: q.Bench.Engine}
	var err error
	if a.FindAnswer, err = s.Find(ctx, q.Find); err != nil {
		return a, err
	}
	bench := q.Bench
	if a.Bench != "" {
		which, err := s.WhichEngine(ctx, a.Bench)
		if err != nil {
			return a, err
		}
		switch len(which.Engines) {
		case 0:
			return a, &UnknownEngine{Name: a.Bench}
		case 1:
			a.Bench, bench.Engine = which.Engines[0].Engine, which.Engines[0].Engine
		default:
			a.Bench, a.Engines, a.Ask = "", which.Engines, which.Ask
			return a, nil
		}
	}
	switch named := a.Engines; {
	case len(named) == 1 && named[0].Engine != a.Bench:
		bench = FitQuestion{Engine: named[0].Engine, Year: q.Bench.Year}
	case len(named) > 1 && !slices.ContainsFunc(named, func(e EngineMeant) bool { return e.Engine == a.Bench }):
		return a, nil // first it has to be said which
	case a.Bench == "":
		return a, nil
	case !q.Everywhere && q.Find.Engine == "" && (a.ReadAs == string(words.AsWords) || a.Checks != nil):
		narrow := q.Find
		narrow.Engine = a.Bench
		found, err := s.Find(ctx, narrow)
		if err != nil {
			return a, err
		}
		if found.Total > 0 || a.Checks != nil {
			a.FindAnswer, a.Narrowed = found, found.Total > 0
		}
	}
	if a.For, a.Verdicts, a.Next, err = s.judgeHits(ctx, bench, a.Hits); err != nil {
		return a, err
	}
	if a.Narrowed {
		a.bestFirst()
	}
	return a, nil
}

// bestFirst puts the parts that fit in front.
func (a *CounterAnswer) bestFirst() {
	order := make([]int, len(a.Hits))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch x, y := a.Verdicts[i].Outcome, a.Verdicts[j].Outcome; {
		case y.Worse(x):
			return -1
		case x.Worse(y):
			return 1
		}
		return 0
	})
	hits, verdicts := make([]Hit, len(order)), make([]PartFit, len(order))
	for to, from := range order {
		hits[to], verdicts[to] = a.Hits[from], a.Verdicts[from]
	}
	a.Hits, a.Verdicts = hits, verdicts
}

// judgeHits judges each hit for an engine: those of one type together, as their
// lists speak for and against each other.
func (s *Shop) judgeHits(ctx context.Context, bench FitQuestion, hits []Hit) (engine string, verdicts []PartFit, next *NextQuestion, err error) {
	engine = bench.Engine
	type id struct{ supplier, key string }
	judged := map[id]PartFit{}
	asked := map[string]bool{}
	ask := func(q FitQuestion) error {
		a, err := s.Fit(ctx, q)
		if err != nil {
			return err
		}
		engine = a.Engine
		if a.Next != nil && (next == nil || a.Next.Doubtful > next.Doubtful) {
			next = a.Next
		}
		for _, p := range a.Answers {
			judged[id{p.Supplier, catalog.Key(p.Number)}] = p
		}
		return nil
	}
	for _, h := range hits {
		if q := bench; h.Type != "" && !asked[h.Type] {
			asked[h.Type], q.Type, q.Part, q.Supplier = true, h.Type, "", ""
			if err := ask(q); err != nil {
				return engine, nil, nil, err
			}
		}
	}
	for _, h := range hits {
		at := id{h.Supplier, catalog.Key(h.Number)}
		if _, ok := judged[at]; !ok {
			q := bench
			q.Part, q.Supplier, q.Type = h.Number, h.Supplier, ""
			var unknown *UnknownPart
			if err := ask(q); err != nil && !errors.As(err, &unknown) {
				return engine, nil, nil, err
			}
		}
		p, ok := judged[at]
		if !ok {
			p = PartFit{Supplier: h.Supplier, Number: h.Number, Type: h.Type, Outcome: compat.CannotSay, First: "cannot say: not listed", Findings: []compat.Finding{}, Ask: []string{}}
		}
		verdicts = append(verdicts, p)
	}
	return engine, verdicts, next, nil
}

// TypeCounted is a type of part with how many parts of it could be meant for an
// engine.
type TypeCounted struct {
	Type  string `json:"type"`
	Parts int    `json:"parts"`
}

// BenchAnswer is what is on file for an engine, before anything is asked.
type BenchAnswer struct {
	Engine string        `json:"engine"`
	Types  []TypeCounted `json:"types"`
	Jobs   []JobName     `json:"jobs"`
}

// JobName is a job that the program knows.
type JobName struct {
	Job   string `json:"job"`
	Title string `json:"title"`
}

// Bench says what types of part are on file for an engine, and which jobs the
// program knows.
func (s *Shop) Bench(ctx context.Context, q FitQuestion) (BenchAnswer, error) {
	q.Type, q.Part = "", ""
	fit, err := s.Fit(ctx, q)
	if err != nil {
		return BenchAnswer{}, err
	}
	a := BenchAnswer{Engine: fit.Engine, Types: []TypeCounted{}, Jobs: s.Jobs()}
	at := map[string]int{}
	for _, p := range fit.Answers {
		if strings.TrimSpace(p.Type) == "" {
			continue
		}
		i, ok := at[p.Type]
		if !ok {
			i = len(a.Types)
			at[p.Type] = i
			a.Types = append(a.Types, TypeCounted{Type: p.Type})
		}
		a.Types[i].Parts++
	}
	return a, nil
}

// Jobs lists the jobs that the program knows.
func (s *Shop) Jobs() []JobName {
	var list []JobName
	for _, id := range s.job().Jobs() {
		j, _ := s.job().Find(id)
		list = append(list, JobName{j.ID, j.Title})
	}
	return list
}
