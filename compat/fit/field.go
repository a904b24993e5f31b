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
	stayed  []stayedFlange
	notes   map[string]reading             // notes read once, however many rows carry them
	names   map[string]reading             // exclusions in the names of engines, likewise
	settled map[*evidence]units.ModelYears // by candidate, the years of its rows that leave nothing open
	counts  map[units.Temperature]ratingCount
	shared  [][]sharedSaid    // by fact, what the lists say together
	slips   []Slip            // that suppliers' lists of this engine share
	copies  map[string]string // folded name of a supplier whose list is a copy -> one name for all of them
}

// rated is an opening temperature that a list gives this engine.
type rated struct {
	at     units.Temperature
	said   statement
	origin catalog.Origin
}

// ratingCount is what the lists say of one rating.
type ratingCount struct {
	with, without      int // independent lists
	agreeing, opposing []catalog.Origin
	usual              units.Temperature // the rating that most of the opposing lists give
}

// dated is the years for which lists give this engine some parts.
type dated struct {
	ranges []units.YearRange
	keys   map[string]bool // of the parts
	by     map[string]bool // whose lists
}

// date adds the years of one listing.
func (f *field) date(key, supplier string, ranges []units.YearRange) {
	if len(ranges) == 0 {
		return
	}
	for i := range f.years {
		if slices.Equal(f.years[i].ranges, ranges) {
			f.years[i].keys[key], f.years[i].by[supplier] = true, true
			return
		}
	}
	f.years = append(f.years, dated{ranges, map[string]bool{key: true}, map[string]bool{supplier: true}})
}

// listing returns whose lists give this engine a part in a model year, without
// one supplier's.
func (f *field) listing(year int, without string) (names []string) {
	for _, d := range f.years {
		if whole, _ := (units.ModelYears{Ranges: d.ranges}).Covers(year); !whole {
			continue
		}
		for s := range d.by {
			if s != without && s != "" {
				names = addOnce(names, s)
			}
		}
	}
	slices.Sort(names)
	return names
}

// survey collects what the listings of all candidates say of the engine: first
// what they say to every question, then what they say to this one.
func (t *Tables) survey(q *Question, cands []Candidate) *field {
	f := &field{}
	n := 0
	for i := range cands {
		n += len(cands[i].Listings)
	}
	lines := make([]Listing, 0, n)
	for i := range cands {
		p := cands[i].Part
		for k := range cands[i].Listings {
			l := &cands[i].Listings[k]
			lines = append(lines, Listing{p.Supplier, l})
			f.date(partKey(p), cmp.Or(l.Origin.Supplier, p.Supplier), l.Years.Ranges)
		}
		f.stay(t, q, p)
	}
	f.slips = Slips(lines)
	f.copies = copiesOf(f.slips)
	slices.SortStableFunc(f.stayed, func(a, b stayedFlange) int {
		return cmp.Or(cmp.Compare(a.number, b.number), byOrigin(a.flange.Origin, b.flange.Origin))
	})
	return t.asked(f, q, cands)
}

// asked returns the field of a question that differs from the one surveyed in
// what is known of the vehicle: the ratings of all candidates listed for it, each
// independent list once per rating, and the facts that they share.
func (t *Tables) asked(surveyed *field, q *Question, cands []Candidate) *field {
	f := &field{
		years: surveyed.years, stayed: surveyed.stayed, slips: surveyed.slips, copies: surveyed.copies,
		notes: map[string]reading{}, names: map[string]reading{}, settled: map[*evidence]units.ModelYears{}, counts: map[units.Temperature]ratingCount{},
	}
	for i := range cands {
		p := cands[i].Part
		tr := trial{Tables: t, q: q, c: &evidence{Part: p}, field: f, show: showIn(q.Show)}
		f.share(tr, &cands[i])
		if at, ok := tr.opening(p); ok && tr.speaks(cands[i].Listings) {
			f.ratings = append(f.ratings, rated{at, tr.said(p.OpeningTemp.Origin, p.Supplier), p.OpeningTemp.Origin})
		}
	}
	slices.SortStableFunc(f.ratings, func(a, b rated) int {
		return cmp.Or(a.at.Compare(b.at), byOrigin(a.origin, b.origin), cmp.Compare(a.said.supplier, b.said.supplier))
	})
	seen := map[rated]bool{}
	f.ratings = slices.DeleteFunc(f.ratings, func(r rated) bool {
		key := rated{at: r.at, said: r.said}
		again := seen[key]
		seen[key] = true
		return again
	})
	return f
}

// speaks reports whether any listing may be for the vehicle in question. The
// years of the engine and of other parts do not matter here.
func (t trial) speaks(list []catalog.Fitment) bool {
	for i := range list {
		if t.listing(&list[i]).state <= open {
			return true
		}
	}
	return false
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

// count says how many lists share a rating and how many contradict it.
func (t trial) count(at units.Temperature) ratingCount {
	if c, ok := t.field.counts[at]; ok {
		return c
	}
	var c ratingCount
	opposes := func(r rated) bool { return t.conflicting(r.at, at) }
	c.with, c.agreeing = t.field.lists(func(r rated) bool { return !opposes(r) })
	if c.without, c.opposing = t.field.lists(opposes); c.without > 0 {
		c.usual = t.field.mostListed(opposes)
	}
	t.field.counts[at] = c
	return c
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
