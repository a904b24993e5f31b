package fit

import (
	"cmp"
	"fmt"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// shared is a fact that all parts of a type for one engine have in common, where
// they are right: what the lists say of it together stands in for a fact of the
// engine that is not on file.
type shared struct {
	name, ask, flag string
	settled         func(*catalog.EngineFamily) bool // the engine's own fact judges it
	of              func(*Tables, *catalog.Part) (sharedValue, bool)
	far             string // limit: values further apart than this contradict each other
}

// sharedValue is a span of numbers, or a word.
type sharedValue struct {
	span
	word   string
	shown  func(shower) string
	origin catalog.Origin
}

// sharedSaid is what one supplier's parts say of a shared fact, for one place and
// some years.
type sharedSaid struct {
	sharedValue
	said  statement
	place string
	years []units.YearRange // empty: all
}

var sharedFacts = []shared{
	{"flange", "Measure the flange of the old one: the lists disagree.", sizeFlag("flange"),
		func(e *catalog.EngineFamily) bool { return e.HousingBore.Known },
		sharedLength(func(p *catalog.Part) catalog.Stated[units.Length] { return p.FlangeDiameter }), poisonFlange},
	{"inside of the ring", "Measure the old ring: the lists disagree.", sizeFlag("ring inside"),
		func(e *catalog.EngineFamily) bool { return e.SealInnerDiameter.Known || e.GrooveOuterDiameter.Known },
		sharedLength(func(p *catalog.Part) catalog.Stated[units.Length] { return p.InnerDiameter }), poisonFlange},
	{"section of the ring", "Measure the old ring: the lists disagree.", sizeFlag("ring section"),
		func(e *catalog.EngineFamily) bool { return e.SealSection.Known || e.GrooveDepth.Known },
		sharedLength(func(p *catalog.Part) catalog.Stated[units.Length] { return p.Section }), poisonFlange},
	{"bore of the hose", "Lay it beside the old hose: the lists disagree on its bore.", "",
		func(*catalog.EngineFamily) bool { return false },
		sharedLength(func(p *catalog.Part) catalog.Stated[units.Length] { return p.HoseBore }), poisonFlange},
	{"rating of the cap", "What rating is stamped on the old cap?", sizeFlag(capName),
		func(e *catalog.EngineFamily) bool { return e.CapPressure.Known },
		func(_ *Tables, p *catalog.Part) (sharedValue, bool) {
			v := p.CapPressure
			return sharedValue{span: exactly(v.Value.Kilopascals()), origin: v.Origin, shown: func(s shower) string { return units.System(s).FormatPressure(v.Value) }}, v.Known
		}, capStep},
	{"chemistry", "Which coolant does the engine take?", "",
		func(e *catalog.EngineFamily) bool { return len(e.Chemistries()) > 0 },
		func(_ *Tables, p *catalog.Part) (sharedValue, bool) {
			v := p.Chemistry
			return sharedValue{word: v.Value, origin: v.Origin, shown: func(shower) string { return v.Value }}, v.Known && v.Value != ""
		}, ""},
}

func sharedLength(of func(*catalog.Part) catalog.Stated[units.Length]) func(*Tables, *catalog.Part) (sharedValue, bool) {
	return func(t *Tables, p *catalog.Part) (sharedValue, bool) {
		v := of(p)
		if !v.Known {
			return sharedValue{}, false
		}
		return sharedValue{span: t.printed(v).span(), origin: v.Origin, shown: func(s shower) string { return s.length(v.Value) }}, true
	}
}

// apart reports whether two values contradict each other.
func (f *shared) apart(t *Tables, a, b sharedValue) bool {
	if f.far == "" {
		return catalog.Fold(a.word) != catalog.Fold(b.word)
	}
	return max(a.lo-b.hi, b.lo-a.hi) > t.limits.of(f.far)
}

// share collects what a candidate says of the shared facts, once for each place
// it is listed for.
func (f *field) share(t trial, c *Candidate) {
	if f.shared == nil {
		f.shared = make([][]sharedSaid, len(sharedFacts))
	}
	var lines []*catalog.Fitment
	place, read := "", false
	for i := range sharedFacts {
		v, ok := sharedFacts[i].of(t.Tables, c.Part)
		if !ok || sharedFacts[i].settled(&t.q.Engine) {
			continue
		}
		if !read { // few types have any of the facts
			read, place = true, t.Place(c.Part)
			for k := range c.Listings {
				if l := &c.Listings[k]; t.listing(l).state <= open {
					lines = append(lines, l)
				}
			}
		}
		by := t.said(v.origin, c.Part.Supplier)
		for _, l := range lines {
			place := placeOf(place, l)
			k := slices.IndexFunc(f.shared[i], func(s sharedSaid) bool {
				return s.said.supplier == by.supplier && s.place == place && s.span == v.span && s.word == v.word
			})
			if k < 0 {
				f.shared[i] = append(f.shared[i], sharedSaid{v, by, place, slices.Clone(l.Years.Ranges)})
				continue
			}
			if s := &f.shared[i][k]; len(s.years) > 0 && len(l.Years.Ranges) > 0 {
				s.years = append(s.years, l.Years.Ranges...)
			} else {
				s.years = nil
			}
		}
	}
}

// placeOf tells parts apart that are not for one place: another joint, another
// end, or another kind of seal.
func placeOf(place string, l *catalog.Fitment) string {
	if l.WhereFitted == "" {
		return "/" + place
	}
	return catalog.Fold(l.WhereFitted) + "/" + place
}

// amongLists compares facts of a part that nothing of the engine's own can judge
// with what the other lists' parts for the same place and years have. Where every
// other list says otherwise, it is a doubt; lists alone never make it a no.
func (t trial) amongLists() []result {
	var out []result
	if t.field == nil || len(t.c.Listings) == 0 {
		return nil
	}
	for i := range t.field.shared {
		f := &sharedFacts[i]
		mine, ok := f.of(t.Tables, t.c.Part)
		if !ok || f.settled(&t.q.Engine) || inHand(mine.origin) {
			continue
		}
		if r, ok := t.against(f, t.field.shared[i], mine); ok {
			out = append(out, r)
		}
	}
	return out
}

// against counts the lists that share a fact with the part and those that do not.
func (t trial) against(f *shared, all []sharedSaid, mine sharedValue) (result, bool) {
	own := t.said(mine.origin, t.c.Part.Supplier)
	var years []units.YearRange
	places, place := map[string]bool{}, t.Place(t.c.Part)
	for i := range t.c.Listings {
		l := &t.c.Listings[i]
		places[placeOf(place, l)] = true
		years = append(years, l.Years.Ranges...)
	}
	var with, without []statement
	var opposing []sharedSaid
	for _, s := range all {
		if !places[s.place] || len(years) > 0 && len(s.years) > 0 && !meet(years, s.years) {
			continue
		}
		if !f.apart(t.Tables, mine, s.sharedValue) {
			if !s.said.same(own) {
				with = append(with, s.said)
			}
			continue
		}
		if s.said.same(own) { // its own list names several: each may be right
			continue
		}
		without, opposing = append(without, s.said), append(opposing, s)
	}
	if len(with) > 0 || len(without) == 0 {
		return result{}, false
	}
	slices.SortStableFunc(opposing, func(a, b sharedSaid) int {
		return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.word, b.word), byOrigin(a.origin, b.origin))
	})
	n := independent(without...)
	r := result{role: doubt, short: "lists disagree on the " + f.name, ask: f.ask, flag: f.flag, Finding: compat.Finding{
		Check: f.name + " among the lists", Outcome: compat.Caution, Grade: compat.Listed,
		Says: fmt.Sprintf("The %s is %s; %s for this engine %s %s.", f.name, mine.shown(t.show), counted(n, "other list"), verb(n, "has", "have"), opposing[0].shown(t.show)),
	}}
	r.Origin = from(mine.origin)
	for _, s := range opposing {
		r.Origin = cite(r.Origin, from(s.origin)...)
	}
	if f.far != "" {
		r.Origin = cite(r.Origin, t.limits.cite(f.far)...)
	}
	return r, true
}
