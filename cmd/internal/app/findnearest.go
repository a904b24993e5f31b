package app

import (
	"context"

	"fitfill/catalog/bleveindex"
	"fitfill/catalog/words"
)

// nearestNumbers offers what the number may have been meant to be. It is never
// an answer: whoever typed it has to say so.
func (f *finder) nearestNumbers(ctx context.Context, key string) error {
	f.a.Hint = "no sheet has it: try a part of the number, or words"
	if len(key) < shortestTypo {
		return nil
	}
	byKey, err := f.v.PartIDsOf(ctx, words.Variants(key))
	if err != nil {
		return err
	}
	var found []placed
	for other, ids := range byKey {
		why := "two characters exchanged: check the number"
		switch {
		case words.WithoutZeros(other) == words.WithoutZeros(key):
			why = "zeros in front differ: check the number"
		case words.LookAlike(other) == words.LookAlike(key):
			why = "looks alike: check the number"
		}
		for _, id := range ids {
			found = append(found, placed{id: id, score: scoreNearest, why: why})
		}
	}
	if len(found) == 0 {
		x, err := f.late.index(ctx)
		if err != nil {
			return err
		}
		if found, _, err = f.take(ctx, x, bleveindex.Query{Typo: key}, scoreNearest, "one letter or digit differs: check the number"); err != nil {
			return err
		}
	}
	found, _, err = f.ordered(ctx, found[:min(len(found), mostFound)])
	if err != nil {
		return err
	}
	f.a.Nearest, err = f.hits(ctx, found[:min(len(found), f.q.Limit)])
	if len(f.a.Nearest) > 0 {
		f.a.Hint = "no sheet has it as written; the nearest that exist are shown"
	}
	return err
}
