package fit

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// answerable is a question that the counter can ask, with every answer that
// would tell candidates apart.
type answerable struct {
	Ask
	answers []answer
}

// answer is one answer: what it does to the question, and how likely it is
// beside the others.
type answer struct {
	give   func(*Question)
	weight float64
}

// answerable lists the questions that the candidates leave open.
func (w *Weighed) answerable() []answerable {
	t, q := w.tables, &w.q
	texts, letters, months := map[string]Ask{}, map[string]bool{}, map[int32]bool{}
	var edges []int32 // ends of the ranges of model years, in half years
	var stamps []units.Temperature
	for i := range w.all {
		tr := w.all[i].trial
		for k := range tr.c.Listings {
			f := &tr.c.Listings[k]
			r := tr.listing(f)
			for _, e := range f.Years.Ranges {
				edges = append(edges, e.From, e.To)
			}
			if b := f.Years.Built; !b.Open() {
				months[b.From], months[b.To] = true, true
			}
			for _, l := range catalog.Key(f.VIN8) {
				letters[string(l)] = true
			}
			if r.state == open && strings.HasPrefix(r.flag, FlagWith+" ") {
				texts[r.on] = Ask{r.ask, r.flag}
			}
			if tr.vin8() == "" {
				for _, l := range tr.vinOfNote(f) {
					letters[l] = true
				}
			}
		}
		if at, ok := tr.opening(tr.c.Part); ok && tr.kind == Thermostat {
			stamps = append(stamps, at)
		}
	}
	out := slices.Concat(w.sizesAsked(), lettersAsked(q, letters), yearsAsked(q, edges), monthsAsked(q, months), textsAsked(texts))
	return append(out, t.stampAsked(q, stamps)...)
}

func lettersAsked(q *Question, letters map[string]bool) []answerable {
	if q.VIN8 != "" || len(catalog.Key(q.Engine.VIN8.Value)) == 1 || len(letters) == 0 {
		return nil
	}
	a := answerable{Ask: Ask{"What is the 8th character of the VIN?", FlagVIN8}}
	for _, l := range append(slices.Sorted(maps.Keys(letters)), noLetter) {
		a.answers = append(a.answers, answer{func(q *Question) { q.VIN8 = l }, 1})
	}
	return []answerable{a}
}

// noLetter stands for an 8th character that no list names; it is none that a
// VIN holds (ISO 3779 leaves O out).
const noLetter = "O"

// yearsAsked tries every stretch of years between two ends of a range, by the
// number of years in it.
func yearsAsked(q *Question, edges []int32) []answerable {
	edges = slices.DeleteFunc(edges, func(e int32) bool { return e == 0 })
	slices.Sort(edges)
	edges = slices.Compact(edges)
	if q.Year != 0 || len(edges) < 2 {
		return nil
	}
	a := answerable{Ask: Ask{"Which model year?", FlagYear}}
	for i := range edges[:len(edges)-1] {
		from, to := edges[i], edges[i+1]
		if mine := q.Engine.Years; mine.Known && !meet(mine.Value.Ranges, []units.YearRange{{From: from, To: to}}) {
			continue
		}
		a.answers = append(a.answers, answer{func(q *Question) {
			q.Year, q.Half = int(from/2), FirstHalf
			if from%2 != 0 || to-from > 1 {
				q.Half = SecondHalf
			}
		}, float64(to-from) / 2})
	}
	return []answerable{a}
}

func monthsAsked(q *Question, months map[int32]bool) []answerable {
	delete(months, 0)
	if q.Built != 0 || len(months) == 0 {
		return nil
	}
	a := answerable{Ask: Ask{"In which month was it built?", FlagBuilt}}
	ends := slices.Sorted(maps.Keys(months))
	for _, m := range append([]int32{ends[0] - 1}, ends...) {
		a.answers = append(a.answers, answer{func(q *Question) { q.Built = Month(m) }, 1})
	}
	return []answerable{a}
}

// textsAsked asks whether the vehicle has what a note names.
func textsAsked(texts map[string]Ask) (out []answerable) {
	for _, on := range slices.Sorted(maps.Keys(texts)) {
		out = append(out, answerable{texts[on], []answer{
			{func(q *Question) { q.With = append(slices.Clone(q.With), on) }, 1},
			{func(q *Question) { q.Without = append(slices.Clone(q.Without), on) }, 1},
		}})
	}
	return out
}

// sizesAsked asks for the displacement where notes name sizes.
func (w *Weighed) sizesAsked() []answerable {
	if q := &w.q; q.Displacement.Known || q.Engine.Displacement.Known {
		return nil
	}
	named := map[string]bool{}
	for i := range w.all {
		tr := w.all[i].trial
		for _, f := range tr.c.Listings {
			for _, c := range tr.conditionCases(&f) {
				if c.kind == bySize {
					named[strings.TrimSuffix(c.on(), " L")] = true
				}
			}
		}
	}
	if len(named) == 0 {
		return nil
	}
	a := answerable{Ask: Ask{"Which displacement?", FlagDisplacement}}
	for _, litres := range append(slices.Sorted(maps.Keys(named)), "0") { // 0: none of them
		a.answers = append(a.answers, answer{func(q *Question) {
			q.Displacement = catalog.Say(units.Litres(decimal(litres)), litres, catalog.Origin{})
		}, 1})
	}
	return []answerable{a}
}

// stampAsked asks for the stamp of the old thermostat where the lists disagree
// on the rating.
func (t *Tables) stampAsked(q *Question, stamps []units.Temperature) []answerable {
	if q.Old.OpeningTemp.Known || q.Engine.OpeningTemp.Known {
		return nil
	}
	slices.SortFunc(stamps, func(a, b units.Temperature) int { return a.Compare(b) })
	var apart []units.Temperature
	for _, s := range stamps {
		if len(apart) == 0 || !t.sameRating(s, apart[len(apart)-1]) {
			apart = append(apart, s)
		}
	}
	if len(apart) < 2 {
		return nil
	}
	a := answerable{Ask: Ask{oldStamp, sizeFlag("stamp")}}
	for _, s := range apart {
		a.answers = append(a.answers, answer{func(q *Question) {
			q.Old.OpeningTemp = catalog.Say(s, fmt.Sprint(s.Celsius()), catalog.Origin{})
		}, 1})
	}
	return []answerable{a}
}
