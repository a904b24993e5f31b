package fit

import (
	"cmp"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// field is what the candidates of a question say about the engine together.
type field struct {
	ratings []rated
	years   []dated
}

// rated is an opening temperature that a list gives this engine.
type rated struct {
	at     units.Temperature
	said   statement
	origin catalog.Origin
}

// dated is the years for which lists give this engine some parts.
type dated struct {
	ranges []units.YearRange
	keys   map[string]bool // of the parts
}

// date adds the years of one listing.
func (f *field) date(key string, ranges []units.YearRange) {
	if len(ranges) == 0 {
		return
	}
	for i := range f.years {
		if slices.Equal(f.years[i].ranges, ranges) {
			f.years[i].keys[key] = true
			return
		}
	}
	f.years = append(f.years, dated{ranges, map[string]bool{key: true}})
}

// survey collects the ratings of all listed candidates, each independent list
// once per rating, and their years.
func (t *Tables) survey(q *Question, cands []Candidate) *field {
	f := &field{}
	for i := range cands {
		tr := trial{Tables: t, q: q, c: &evidence{Part: &cands[i].Part}, field: &field{}, show: showIn(q.Show)}
		p := &cands[i].Part
		speaks := false
		for _, l := range cands[i].Listings {
			f.date(partKey(p), l.Years.Ranges)
			speaks = speaks || tr.listing(l).state <= open
		}
		if at, ok := tr.opening(p); ok && speaks {
			f.ratings = append(f.ratings, rated{at, said(p.OpeningTemp.Origin, p.Supplier), p.OpeningTemp.Origin})
		}
	}
	slices.SortStableFunc(f.ratings, func(a, b rated) int {
		return cmp.Or(a.at.Compare(b.at), byOrigin(a.origin, b.origin), cmp.Compare(a.said.supplier, b.said.supplier))
	})
	return f
}

// lists counts the independent lists behind the ratings that keep.
func (f *field) lists(keep func(rated) bool) (n int, origins []catalog.Origin) {
	var sayings []statement
	for _, r := range f.ratings {
		if keep(r) {
			sayings = append(sayings, r.said)
			origins = append(origins, r.origin)
		}
	}
	return independent(sayings...), origins
}

// splitAt reports whether another part is listed for this engine in years that
// have nothing in common with these: the years tell the parts apart.
func (f *field) splitAt(p *catalog.Part, y units.ModelYears) bool {
	key := partKey(p)
	for _, d := range f.years {
		if len(d.keys) == 1 && d.keys[key] || meet(d.ranges, y.Ranges) {
			continue
		}
		return true
	}
	return false
}

func meet(a, b []units.YearRange) bool {
	for _, r := range a {
		for _, s := range b {
			if r.Overlaps(s) {
				return true
			}
		}
	}
	return false
}

func partKey(p *catalog.Part) string {
	if p.Key != "" {
		return p.Key
	}
	return catalog.Key(p.Number)
}
