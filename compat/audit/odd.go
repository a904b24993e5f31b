package audit

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

var _ = register(func() any { return odd{} })

// odd finds facts of a part that disagree with all others that lists name for
// the same engine: where so many independent lists agree (limit others), the one
// that differs is odd; where there is only one other, the two contradict each
// other and both are told. Where the garage's own sheet states the fact, that has
// the last word; what a size has refuted already is not said twice, and what the
// sizes judge and do not even doubt is right whatever else is on file.
type odd struct{}

func (odd) engine(s *settings, e *Engine) []Finding {
	var out []Finding
	for i := range facts {
		f := &facts[i]
		for k := range e.Parts {
			l := &e.Parts[k]
			mine, known := f.of(l)
			if !known || l.Excluded || len(l.Refuted) > 0 || len(l.Fitments) == 0 {
				continue
			}
			judged := f.judged != nil && f.judged(&e.Family)
			if judged && !l.doubted(f.checks) {
				continue
			}
			if f.own != nil {
				if own, has := f.own(&e.Family); has {
					if f.apart(s, mine, own) {
						found := s.about("refuted: "+f.name, e, l)
						found.Says = fmt.Sprintf("Its %s is %s; the engine's is %s.", f.name, mine.shown(s), own.shown(s))
						found.Against = once([]compat.Evidence{compat.From(own.origin)})
						out = append(out, found)
					}
					continue
				}
			}
			if found, ok := f.oddOne(s, e, l, mine); ok {
				out = append(out, found)
			}
		}
	}
	return out
}

// oddOne compares one part's fact with those of all other suppliers' parts of
// its type that are listed for some of the same years, place and condition.
func (f *fact) oddOne(s *settings, e *Engine, l *Listed, mine value) (Finding, bool) {
	var lists []string
	var theirs []value
	var from []compat.Evidence
	for i := range e.Parts {
		o := &e.Parts[i]
		v, known := f.of(o)
		if !known || o.Excluded || len(o.Refuted) > 0 || o.Part.Type.Value != l.Part.Type.Value || !comparable(l, o) {
			continue
		}
		if e.oneList(o.Part.Supplier, l.Part.Supplier) {
			continue
		}
		if !f.apart(s, mine, v) {
			return Finding{}, false
		}
		for _, t := range theirs {
			if f.apart(s, t, v) { // the others do not agree either
				return Finding{}, false
			}
		}
		theirs = append(theirs, v)
		from = append(from, compat.From(v.origin))
		if !slices.ContainsFunc(lists, func(n string) bool { return e.oneList(n, o.Part.Supplier) }) {
			lists = append(lists, o.Part.Supplier)
		}
	}
	if len(lists) == 0 {
		return Finding{}, false
	}
	check := "odd: " + f.name
	says := fmt.Sprintf("Its %s is %s; the %d other lists of this engine say %s.", f.name, mine.shown(s), len(lists), theirs[0].shown(s))
	if len(lists) < s.others {
		check = "contradiction: " + f.name
		says = fmt.Sprintf("Its %s is %s; the only other list of this engine says %s.", f.name, mine.shown(s), theirs[0].shown(s))
	}
	found := s.about(check, e, l)
	found.Says, found.Against = says, once(from)
	return found, true
}

// comparable reports whether two parts are listed for some of the same vehicles
// and the same place: a note, a place or years of its own may be why they differ.
func comparable(a, b *Listed) bool {
	if a.Place != b.Place {
		return false
	}
	for _, x := range a.Fitments {
		for _, y := range b.Fitments {
			if catalog.Fold(x.WhereFitted) == catalog.Fold(y.WhereFitted) && strings.EqualFold(x.VIN8, y.VIN8) &&
				catalog.Fold(x.Condition) == catalog.Fold(y.Condition) && overlap(x, y) {
				return true
			}
		}
	}
	return false
}

func overlap(x, y catalog.Fitment) bool {
	if len(x.Years.Ranges) == 0 || len(y.Years.Ranges) == 0 {
		return true
	}
	for _, a := range x.Years.Ranges {
		for _, b := range y.Years.Ranges {
			if a.Overlaps(b) {
				return true
			}
		}
	}
	return false
}

// oneList reports whether two suppliers speak with one voice: the same, or
// copies of one list.
func (e *Engine) oneList(a, b string) bool {
	if a == b {
		return true
	}
	for _, s := range e.Slips {
		if slices.Contains(s.Suppliers, a) && slices.Contains(s.Suppliers, b) {
			return true
		}
	}
	return false
}
