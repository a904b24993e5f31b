package app

import (
	"context"
	"strings"

	"fitfill/catalog/bleveindex"
	"fitfill/catalog/words"
)

// spelt puts the nearest known word in place of each that neither the
// vocabulary nor any part has.
func (f *finder) spelt(ctx context.Context) (text string, changed bool, err error) {
	text = f.r.Text
	if f.r.As == words.AsNumber {
		return text, false, nil
	}
	var known []string
	for _, w := range f.r.Words {
		if len(w) < shortestSpelt || strings.ContainsAny(w, "0123456789") {
			continue
		}
		has, err := f.has(ctx, w)
		if err != nil {
			return text, false, err
		}
		if has {
			continue
		}
		if known == nil {
			if known, err = f.vocabulary(ctx); err != nil {
				return text, false, err
			}
		}
		if near := nearestWord(w, known); near != "" {
			f.a.Corrected = append(f.a.Corrected, Correction{w, near})
			text = strings.Replace(text, w, near, 1)
			changed = true
		}
	}
	return text, changed, nil
}

// shortestSpelt is the length from which a word is looked for as misspelt.
const shortestSpelt = 4

// nearestWord returns the known word that one slip makes of this one, two in a
// long word; "" where none is so near.
func nearestWord(word string, known []string) string {
	best, bestAt := "", 2
	if len(word) >= 8 {
		bestAt = 3
	}
	for _, k := range known {
		if d := len(k) - len(word); d > 2 || d < -2 {
			continue
		}
		if d := distance(strings.ToLower(word), strings.ToLower(k)); d < bestAt {
			best, bestAt = k, d
		}
	}
	return best
}

// has reports whether any part's texts have a word.
func (f *finder) has(ctx context.Context, word string) (bool, error) {
	x, err := f.late.index(ctx)
	if err != nil {
		return false, err
	}
	return x.Has(ctx, bleveindex.Query{Words: []string{word}})
}

// vocabulary returns every word that a sentence may be made of: those of the
// trade, and the names of engines, makes and models.
func (f *finder) vocabulary(ctx context.Context) ([]string, error) {
	names, err := f.v.AllVehicleNames(ctx)
	if err != nil {
		return nil, err
	}
	var list []string
	for _, n := range names {
		list = append(list, n.Text)
	}
	families, err := f.v.FamilyNames(ctx)
	if err != nil {
		return nil, err
	}
	for _, e := range families {
		list = append(append(append(list, e.Family), splitNames(e.Make)...), splitNames(e.Model)...)
	}
	return append(list, f.table.Phrases()...), nil
}
