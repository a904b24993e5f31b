package app

import (
	"context"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/words"
)

// modelsByFirstWord reads a word that nothing else knows as the models whose
// names begin with it: at the counter a "Haulm 12" is a Haulm.
func (f *finder) modelsByFirstWord(ctx context.Context) error {
	if f.r.As == words.AsNumber || len(f.r.Engines)+len(f.r.Models)+len(f.r.Marks) > 0 || f.r.VIN != "" {
		return nil
	}
	for _, w := range slices.Clone(f.r.Words) {
		if len(w) < shortestSpelt || hasDigit(w) {
			continue
		}
		names, err := f.v.VehicleNamesBeginning(ctx, catalog.Key(w))
		if err != nil {
			return err
		}
		var models []string
		for _, n := range names {
			first, rest, _ := strings.Cut(strings.TrimSpace(n.Text), " ")
			if n.Model && rest != "" && catalog.Key(first) == catalog.Key(w) && !slices.Contains(f.r.Models, n.Key) {
				f.r.Models = append(f.r.Models, n.Key)
				models = append(models, n.Text)
			}
		}
		if len(models) > 0 {
			f.r.Words = slices.DeleteFunc(f.r.Words, func(x string) bool { return x == w })
			f.r.Spans = append(f.r.Spans, words.Span{Text: w, Means: "model: " + strings.Join(models, ", ")})
		}
	}
	return nil
}
