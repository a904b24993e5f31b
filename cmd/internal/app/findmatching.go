package app

import (
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/words"
)

// matching keeps the judged parts that have what else was said: words, words of
// the trade, sizes. A word that none of them has is left out and said to be,
// where a type was said.
func (f *finder) matching(all []judged) []judged {
	keep := func(has func(*catalog.Part) bool) bool {
		kept := slices.DeleteFunc(slices.Clone(all), func(j judged) bool { return !has(j.part) })
		if len(kept) == 0 && len(f.types) > 0 && f.q.Type == "" {
			return false
		}
		all = kept
		return true
	}
	for _, c := range f.r.Concepts {
		keep(func(p *catalog.Part) bool {
			return slices.ContainsFunc(c.Any, func(phrase string) bool { return says(p, phrase) })
		})
	}
	for _, w := range f.r.Words {
		if !keep(func(p *catalog.Part) bool { return says(p, w) || numbered(p, w) }) {
			f.a.LeftOut = append(f.a.LeftOut, w)
		}
	}
	for _, z := range f.r.Sizes {
		terms := sizeTerms(z, f.types)
		if !keep(func(p *catalog.Part) bool { return measures(p, terms) }) {
			f.a.LeftOut = append(f.a.LeftOut, z.Text)
		}
	}
	return all
}

// says reports whether a part's texts have all words of a phrase.
func says(p *catalog.Part, phrase string) bool {
	text := " " + words.Fold(strings.Join([]string{
		p.Type.Value, p.Description.Value, p.Brand.Value, p.Notes.Value, p.Material.Value, p.Colour.Value, p.Chemistry.Value, p.Glycol.Value,
		p.Form.Value, p.Approvals.Value, p.FilterCharge.Value, p.Thread.Value, p.SealForm.Value, p.ORingSize.Value, p.ThermostatType.Value,
	}, " ")) + " "
	for _, w := range strings.Fields(words.Fold(phrase)) {
		if !strings.Contains(text, " "+w+" ") {
			return false
		}
	}
	return true
}

// numbered reports whether a word with a digit is part of a part's number.
func numbered(p *catalog.Part, word string) bool {
	key := catalog.Key(word)
	return len(key) >= shortestMiddle && hasDigit(key) && strings.Contains(p.Key, key)
}

// measures reports whether a part has a size of one of the terms.
func measures(p *catalog.Part, terms []string) bool {
	if p.ClampMin.Known && p.ClampMax.Known && slices.ContainsFunc(catalog.ClampTerms(p.ClampMin.Value.Nanometres(), p.ClampMax.Value.Nanometres()), func(t string) bool { return slices.Contains(terms, t) }) {
		return true
	}
	for _, have := range p.SizeTerms() {
		if slices.Contains(terms, have) {
			return true
		}
	}
	return false
}
