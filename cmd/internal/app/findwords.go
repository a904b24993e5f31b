package app

import (
	"context"
	"math"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/bleveindex"
	"fitfill/catalog/words"
	"fitfill/compat/fit"
)

// sizeKinds is the kind of field that holds each kind of size.
var sizeKinds = map[words.SizeKind]catalog.Kind{
	words.SizeLength: catalog.KindLength, words.SizeTemperature: catalog.KindTemperature,
	words.SizePressure: catalog.KindPressure, words.SizeVolume: catalog.KindVolume,
}

// sizeTerms are the search terms of a size that was said. The length beside a
// clamp is the hose that it goes over.
func sizeTerms(z words.Size, types []string) []string {
	if z.Kind == words.SizeLength && len(types) == 1 && types[0] == fit.Clamp {
		return catalog.ClampTerms(z.At, z.At)
	}
	return catalog.SizeTerms(sizeKinds[z.Kind], z.At-z.Near, z.At+z.Near)
}

// ahead looks in the index for the sort of part and the sizes that were said while
// it is found out which engines are meant, unless those will be so few that parts
// are judged for them and the index is not asked.
func (f *finder) ahead(ctx context.Context) error {
	switch {
	case f.r.As == words.AsNumber || f.r.As == words.AsBarcode || f.r.As == words.AsCode, f.q.Engine != "", f.r.VIN != "",
		len(f.r.Engines)+len(f.r.Models)+len(f.r.Marks) > 0, !saidBy(&f.r).names():
		return nil
	}
	q := bleveindex.Query{Types: f.r.Types}
	for _, z := range f.r.Sizes {
		q.Sizes = append(q.Sizes, sizeTerms(z, f.r.Types))
	}
	return f.late.ahead(ctx, q)
}

// query turns what was read into a query for the index.
func (f *finder) query() bleveindex.Query {
	q := bleveindex.Query{Words: slices.Clone(f.r.Words), Types: f.types}
	for _, c := range f.r.Concepts {
		q.Groups = append(q.Groups, c.Any)
	}
	for _, z := range f.r.Sizes {
		q.Sizes = append(q.Sizes, sizeTerms(z, f.types))
	}
	q.Words = append(q.Words, slices.Concat(f.r.With, f.r.Without)...)
	for _, e := range f.engines { // more than are judged
		q.EngineKeys = append(append(q.EngineKeys, e.keys...), e.described...)
	}
	return q
}

// words answers with the parts that have the words: in type and description
// first, then in any of their texts, then with one letter wrong. A word that no
// part has is left out, and said to be, where the others say enough.
func (f *finder) words(ctx context.Context) error {
	x, err := f.late.index(ctx)
	if err != nil {
		return err
	}
	supplier, err := f.supplierOf()
	if err != nil {
		return err
	}
	q := f.query()
	types := q.Types
	if err := f.leaveOut(ctx, x, &q); err != nil {
		return err
	}
	if len(q.Words)+len(q.Groups)+len(q.Sizes)+len(q.Types)+len(q.EngineKeys) == 0 {
		return nil
	}
	var wide []bleveindex.Found
	search := func() (err error) {
		if f.q.Quick {
			wide, err = x.Search(ctx, q, max(f.q.Limit, judgedHits))
			return err
		}
		wide, f.a.Facets.Type, f.a.Facets.Engine, err = x.SearchCounted(ctx, q, max(f.q.Limit, judgedHits))
		return err
	}
	if err := search(); err != nil {
		return err
	}
	if total(wide) == 0 && len(q.Sizes) > 0 {
		has, err := x.Has(ctx, bleveindex.Query{Sizes: q.Sizes})
		if err != nil {
			return err
		}
		if !has { // then no other reading of the words finds a part of that size
			if f.q.Type == "" {
				f.types = nil
			}
			f.countSuppliers(wide, supplier, 0)
			return f.show(ctx, nil, 0)
		}
	}
	if total(wide) == 0 && len(q.Words) > 0 && len(q.Sizes) > 0 && len(q.Types) > 0 {
		// A kind of part and a size say enough: another figure beside them may be read off a part that is like it.
		f.a.LeftOut, q.Words = append(f.a.LeftOut, q.Words...), nil
		if err := search(); err != nil {
			return err
		}
	}
	if total(wide) == 0 && len(q.Types) > 0 && f.q.Type == "" {
		// No part is of the sort that the words mean; they may stand in a text.
		q.Words, q.Types, f.types = append(q.Words, f.r.TypeWords...), nil, nil
		if err := search(); err != nil {
			return err
		}
	}
	why := f.wordsWhy()
	score := scoreAnywhere
	if total(wide) == 0 && len(q.Words) > 0 {
		q.Fuzzy, why, score = true, "words with one letter off", scoreAlmost
		if err := search(); err != nil {
			return err
		}
	}
	if total(wide) == 0 && len(q.Words) > 0 && len(q.Words)+len(q.Groups) > 1 && len(types) > 0 {
		// "Charged or blank": no part has all of the words, but the sort of part is known.
		q.Fuzzy, q.Types, f.types, score = false, types, types, scoreAnywhere
		any := slices.Clone(f.r.Words)
		for _, c := range f.r.Concepts {
			any = append(any, c.Any...)
		}
		q.Groups, q.Words, why = [][]string{any}, nil, "type, one of the words"
		if err := search(); err != nil {
			return err
		}
	}
	var found []placed
	if len(q.Words)+len(q.Groups) > 0 && !q.Fuzzy {
		near := q
		near.TextOnly = true
		list, err := x.Search(ctx, near, max(f.q.Limit, judgedHits))
		if err != nil {
			return err
		}
		found = f.bySupplier(found, list, supplier, scoreWords, f.wordsWhy()+" in type and description")
		why += " in makes, engines or notes"
	} else if !q.Fuzzy {
		score = scoreWords
	}
	found = f.bySupplier(found, wide, supplier, score, why)
	f.countSuppliers(wide, supplier, len(found))
	if found, err = f.clampsFirst(ctx, found); err != nil {
		return err
	}
	return f.show(ctx, found, f.a.Total)
}

// wordsWhy says what of the reading a hit has.
func (f *finder) wordsWhy() string {
	var has []string
	if len(f.types) > 0 {
		has = append(has, "type")
	}
	if len(f.r.Sizes) > 0 {
		has = append(has, "size")
	}
	if len(f.r.Words)+len(f.r.Concepts) > 0 || len(f.types) < len(f.r.Types) {
		has = append(has, "words")
	}
	if len(f.engines) > 0 {
		has = append(has, "listed for the engine")
	}
	return strings.Join(has, ", ")
}

// bySupplier appends the hits of the suppliers in the order of their names,
// without those that are there.
func (f *finder) bySupplier(found []placed, list []bleveindex.Found, supplier string, score int, why string) []placed {
	seen := map[int64]bool{}
	for _, p := range found {
		seen[p.id] = true
	}
	for i, of := range list {
		if supplier != "" && f.indexed()[i] != supplier {
			continue
		}
		for _, id := range of.IDs {
			if !seen[id] {
				found = append(found, placed{id: id, score: score, why: why})
			}
		}
	}
	return found
}

// indexed are the suppliers that have an index, in the order of the indexes.
func (f *finder) indexed() []string {
	var names []string
	for _, s := range f.suppliers {
		if s.IndexFolder != "" {
			names = append(names, s.Name)
		}
	}
	return names
}

func total(list []bleveindex.Found) (n int) {
	for _, of := range list {
		n += of.Total
	}
	return n
}

// countSuppliers counts all hits by supplier.
func (f *finder) countSuppliers(list []bleveindex.Found, supplier string, shown int) {
	counts := map[string]int{}
	for i, of := range list {
		if of.Total > 0 && (supplier == "" || f.indexed()[i] == supplier) {
			counts[f.indexed()[i]] += of.Total
			f.a.Total += of.Total
		}
	}
	f.a.Facets.Supplier = bleveindex.Counted(counts)
	f.a.Total = max(f.a.Total, shown)
}

// leaveOut takes out the words that no part has, where a type, a size or a word
// of the trade is left to go by.
func (f *finder) leaveOut(ctx context.Context, x *bleveindex.Index, q *bleveindex.Query) error {
	if len(q.Words) == 0 || len(q.Types)+len(q.Groups)+len(q.Sizes) == 0 {
		return nil
	}
	var kept []string
	for _, w := range q.Words {
		has, err := x.Has(ctx, bleveindex.Query{Words: []string{w}})
		if err != nil {
			return err
		}
		if has {
			kept = append(kept, w)
		} else {
			f.a.LeftOut = append(f.a.LeftOut, w)
		}
	}
	q.Words = kept
	return nil
}

// clampsFirst puts the clamps first in whose range the hose lies nearest to the
// middle.
func (f *finder) clampsFirst(ctx context.Context, found []placed) ([]placed, error) {
	if len(f.types) != 1 || f.types[0] != fit.Clamp || len(f.r.Sizes) == 0 || f.r.Sizes[0].Kind != words.SizeLength {
		return found, nil
	}
	parts, err := f.v.Parts(ctx, idsOf(found))
	if err != nil {
		return nil, err
	}
	off := map[int64]float64{}
	for _, p := range parts {
		low, high := float64(p.ClampMin.Value.Nanometres()), float64(p.ClampMax.Value.Nanometres())
		off[p.ID] = math.Abs((float64(f.r.Sizes[0].At)-low)/(high-low) - 0.5)
	}
	slices.SortStableFunc(found, func(a, b placed) int {
		switch {
		case off[a.id] < off[b.id]:
			return -1
		case off[a.id] > off[b.id]:
			return 1
		}
		return 0
	})
	return found, nil
}
