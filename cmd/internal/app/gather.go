package app

import (
	"context"
	"fmt"
	"slices"

	"fitfill/catalog"
)

// GatherQuestion is parts that somebody put on a list, with the engine that
// they are for, where one is known.
type GatherQuestion struct {
	Bench FitQuestion
	Parts []Chosen
	Job   string
}

// Chosen is a part by its number and whose it is.
type Chosen struct{ Number, Supplier string }

// GatherAnswer is the list: the parts as they are on file, each judged for the
// engine.
type GatherAnswer struct {
	Engine   string    `json:"engine,omitempty"`
	Parts    []Hit     `json:"parts"`
	Verdicts []PartFit `json:"verdicts,omitempty"` // of each part, in their order
	Gone     []string  `json:"gone,omitempty"`     // numbers that no sheet in use has any more
	Jobs     []JobName `json:"jobs"`
}

// Gather looks the parts of a list up again and judges them.
func (s *Shop) Gather(ctx context.Context, q GatherQuestion) (GatherAnswer, error) {
	a := GatherAnswer{Engine: q.Bench.Engine, Parts: []Hit{}, Jobs: s.Jobs()}
	for _, c := range q.Parts {
		found, err := s.Find(ctx, FindQuestion{Words: c.Number, Supplier: c.Supplier, Limit: 1})
		if err != nil {
			return a, err
		}
		if len(found.Hits) == 0 || catalog.Key(found.Hits[0].Number) != catalog.Key(c.Number) {
			a.Gone = append(a.Gone, fmt.Sprintf("%s of %s", c.Number, c.Supplier))
			continue
		}
		a.Parts = append(a.Parts, found.Hits[0])
	}
	if q.Bench.Engine == "" {
		return a, nil
	}
	var err error
	a.Engine, a.Verdicts, _, err = s.judgeHits(ctx, q.Bench, a.Parts)
	return a, err
}

// Places says which of the parts take which place on the list of a job, as the
// job's question wants it ("seal=QM-2038"), and which find none.
func (s *Shop) Places(jobName string, parts []Hit) (take []string, rest []Hit) {
	j, ok := s.job().Find(jobName)
	if !ok {
		return nil, parts
	}
	var taken []string
	for _, p := range parts {
		placed := false
		for _, r := range j.Roles {
			if r.Type == p.Type && !placed && !slices.Contains(taken, r.Name) {
				take, taken, placed = append(take, r.Name+"="+p.Number), append(taken, r.Name), true
			}
		}
		if !placed {
			rest = append(rest, p)
		}
	}
	return take, rest
}
