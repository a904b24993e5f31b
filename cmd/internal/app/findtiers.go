package app

import (
	"context"
	"strings"

	"fitfill/catalog/bleveindex"
)

// A tier is one way in which a part can match; better ways come first, and
// nothing about price or stock moves a part from one to another.
type tier struct {
	score int
	why   string
	find  func(context.Context, *bleveindex.Index, bleveindex.Filter) (bleveindex.Result, error)
	only  bool // tried only while nothing has been found
}

// candidatesPerTier is enough to order a page of hits by supplier and number.
const candidatesPerTier = 1000

// exactScore is the score of the very number.
const exactScore = 100

// The shortest beginning and the shortest middle of a number worth looking for.
const (
	shortestPrefix = 2
	shortestMiddle = 3
	shortestTypo   = 4
)

func hasDigit(key string) bool { return strings.ContainsAny(key, "0123456789") }

func numberTiers(key string) []tier {
	type search func(context.Context, string, bleveindex.Filter, int) (bleveindex.Result, error)
	at := func(score int, why string, only bool, pick func(*bleveindex.Index) search) tier {
		return tier{score, why, func(ctx context.Context, x *bleveindex.Index, f bleveindex.Filter) (bleveindex.Result, error) {
			return pick(x)(ctx, key, f, candidatesPerTier)
		}, only}
	}
	tiers := []tier{at(exactScore, "this number", false, func(x *bleveindex.Index) search { return x.Number })}
	if len(key) >= shortestPrefix {
		tiers = append(tiers, at(80, "number begins with it", false, func(x *bleveindex.Index) search { return x.NumberPrefix }))
	}
	if len(key) >= shortestMiddle && hasDigit(key) {
		tiers = append(tiers, at(70, "number contains it", true, func(x *bleveindex.Index) search { return x.NumberPart }))
	}
	if len(key) >= shortestTypo && hasDigit(key) {
		tiers = append(tiers, at(60, "one letter or digit differs: check the number", true, func(x *bleveindex.Index) search { return x.NumberTypo }))
	}
	return tiers
}

// join appends the hits of later tiers that the earlier ones do not have.
func join(found, more []placed, offset int) []placed {
	seen := map[int64]bool{}
	for _, p := range found {
		seen[p.id] = true
	}
	for _, p := range more {
		if !seen[p.id] {
			found = append(found, placed{p.id, p.tier + offset})
		}
	}
	return found
}

func wordTiers(words []string) []tier {
	return []tier{
		{50, "words in its description", func(ctx context.Context, x *bleveindex.Index, f bleveindex.Filter) (bleveindex.Result, error) {
			return x.Words(ctx, words, f, candidatesPerTier)
		}, false},
		{40, "words in its description, makes, engines or notes", func(ctx context.Context, x *bleveindex.Index, f bleveindex.Filter) (bleveindex.Result, error) {
			return x.WordsAnywhere(ctx, words, f, candidatesPerTier)
		}, false},
		{30, "words with one letter off", func(ctx context.Context, x *bleveindex.Index, f bleveindex.Filter) (bleveindex.Result, error) {
			return x.WordsAlmost(ctx, words, f, candidatesPerTier)
		}, true},
	}
}

// placed is a part with the first tier that it matched.
type placed struct {
	id   int64
	tier int
}

// runTiers returns the hits of each tier that no earlier one has, and how many
// parts the widest tier matches in all.
func (s *Shop) runTiers(ctx context.Context, x *bleveindex.Index, tiers []tier, f bleveindex.Filter) (found []placed, total int, err error) {
	seen := map[int64]bool{}
	for i, t := range tiers {
		if t.only && len(found) > 0 {
			continue
		}
		r, err := t.find(ctx, x, f)
		if err != nil {
			return nil, 0, err
		}
		total = max(total, r.Total)
		for _, id := range r.IDs {
			if !seen[id] {
				seen[id] = true
				found = append(found, placed{id, i})
			}
		}
	}
	return found, total, nil
}
