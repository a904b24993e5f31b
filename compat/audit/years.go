package audit

import (
	"fmt"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

var _ = register(func() any { return years{} })

// years finds listings for years in which the engine was not made, and suppliers
// who disagree on the years of one model by more than lists mean nothing by
// (limit year_edge).
type years struct{}

func (years) engine(s *settings, e *Engine) []Finding {
	var out []Finding
	own := e.Family.Years
	if own.Known && len(own.Value.Ranges) > 0 {
		for i := range e.Parts {
			out = append(out, s.outside(e, &e.Parts[i], own)...)
		}
	}
	return append(out, s.disagree(e)...)
}

// outside finds the lines of a part whose years the engine's do not meet, or
// that begin or end further outside them than lists do without meaning it.
func (s *settings) outside(e *Engine, l *Listed, own catalog.Stated[units.ModelYears]) []Finding {
	var lines []catalog.Fitment
	var never bool
	for _, f := range l.Fitments {
		if len(f.Years.Ranges) == 0 || !beyond(f.Years.Ranges, own.Value.Ranges, s.yearsApart) {
			continue
		}
		lines = append(lines, f)
		never = never || !meet(f.Years.Ranges, own.Value.Ranges)
	}
	if len(lines) == 0 || l.Excluded {
		return nil
	}
	found := s.about("refuted: years", e, l)
	found.Lines = linesOf(lines)
	found.Says = fmt.Sprintf("Lists it for %s; the engine is of %s.", lines[0].YearsText, own.Text)
	if !never {
		found.Check = "contradiction: years"
	}
	found.Against = once([]compat.Evidence{compat.From(own.Origin)})
	return []Finding{found}
}

func meet(a, b []units.YearRange) bool {
	for _, x := range a {
		for _, y := range b {
			if x.Overlaps(y) {
				return true
			}
		}
	}
	return false
}

// beyond reports whether ranges reach further out of others than so many half
// years; an open end reaches no further than any other.
func beyond(mine, theirs []units.YearRange, slack int32) bool {
	a, b := hull(mine), hull(theirs)
	return a.From != 0 && b.From != 0 && a.From < b.From-slack || a.To != 0 && b.To != 0 && a.To > b.To+slack || !meet(mine, theirs)
}

// hull returns the first and the last of some ranges; an open end stays open.
func hull(list []units.YearRange) units.YearRange {
	out := list[0]
	for _, r := range list[1:] {
		if r.From == 0 || out.From != 0 && r.From < out.From {
			out.From = r.From
		}
		if r.To == 0 || out.To != 0 && r.To > out.To {
			out.To = r.To
		}
	}
	return out
}

// span is the years for which one supplier lists parts of a type for a model.
type span struct {
	supplier string
	years    units.YearRange
	text     string
	part     *Listed
	lines    []catalog.Fitment
}

// disagree compares, by part type and model, the years that each supplier's
// parts cover together: a supplier may split them between several parts. What the
// sizes refute covers nothing.
func (s *settings) disagree(e *Engine) []Finding {
	type model struct{ kind, make, model string }
	all := map[model][]*span{}
	var order []model
	for i := range e.Parts {
		l := &e.Parts[i]
		for _, f := range l.Fitments {
			if l.Excluded || len(l.Refuted) > 0 || len(f.Years.Ranges) == 0 || f.Model == "" {
				continue
			}
			m := model{l.Part.Type.Value, catalog.Fold(f.Make), catalog.Fold(f.Model)}
			if all[m] == nil {
				order = append(order, m)
			}
			k := slices.IndexFunc(all[m], func(o *span) bool { return o.supplier == l.Part.Supplier })
			if k < 0 {
				k = len(all[m])
				all[m] = append(all[m], &span{supplier: l.Part.Supplier, years: hull(f.Years.Ranges), text: f.YearsText, part: l})
			}
			o := all[m][k]
			o.years = hull(append([]units.YearRange{o.years}, f.Years.Ranges...))
			o.lines = append(o.lines, f)
		}
	}
	var out []Finding
	for _, m := range order {
		out = append(out, s.oddYears(e, all[m])...)
	}
	return out
}

// oddYears finds the suppliers whose years all others contradict.
func (s *settings) oddYears(e *Engine, spans []*span) []Finding {
	var out []Finding
	for _, mine := range spans {
		if own := e.Family.Years; own.Known && len(own.Value.Ranges) > 0 && !beyond(own.Value.Ranges, []units.YearRange{mine.years}, s.yearsApart) {
			continue // it covers what the garage's own sheet says
		}
		var lists []string
		var against []compat.Evidence
		agreed, text := units.YearRange{}, ""
		odd := true
		for _, o := range spans {
			if e.oneList(o.supplier, mine.supplier) {
				continue
			}
			if !s.yearsDiffer(mine.years, o.years) || text != "" && s.yearsDiffer(agreed, o.years) {
				odd = false
				break
			}
			agreed, text = o.years, o.text
			against = append(against, linesOf(o.lines)...)
			if !slices.ContainsFunc(lists, func(n string) bool { return e.oneList(n, o.supplier) }) {
				lists = append(lists, o.supplier)
			}
		}
		if !odd || len(lists) == 0 {
			continue
		}
		f := s.about("odd: years", e, mine.part)
		f.Lines, f.Against = linesOf(mine.lines), once(against)
		f.Says = fmt.Sprintf("Lists it for %s; the %d other lists of this model say %s.", shownYears(mine.years), len(lists), shownYears(agreed))
		if len(lists) < s.others {
			f.Check = "contradiction: years"
			f.Says = fmt.Sprintf("Lists it for %s; the only other list of this model says %s.", shownYears(mine.years), shownYears(agreed))
		}
		out = append(out, f)
	}
	return out
}

func (s *settings) yearsDiffer(a, b units.YearRange) bool {
	off := func(x, y int32) bool { return x != 0 && y != 0 && (x-y > s.yearsApart || y-x > s.yearsApart) }
	return off(a.From, b.From) || off(a.To, b.To)
}

// shownYears writes a stretch of model years; To is the first half year after it.
func shownYears(r units.YearRange) string {
	first, last := r.From/2, (r.To-1)/2
	switch {
	case r.From == 0:
		return fmt.Sprintf("to %d", last)
	case r.To == 0:
		return fmt.Sprintf("from %d", first)
	case first == last:
		return fmt.Sprint(first)
	}
	return fmt.Sprintf("%d-%d", first, last)
}
