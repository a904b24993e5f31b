package coolant

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

// test is a way to find out what a fluid is or whether two go together.
type test struct {
	name      string
	also      []string // other words for it
	rank      int
	kind      string  // paper, look, hint, strip, pair, change
	column    string  // of coolant_families, for a strip or a hint
	highFrom  float64 // from which its reading counts as high; 0: it reads by eye
	fluid     string  // fill, either, both
	shipped   bool    // every garage has it
	cost      string
	high, low string // what its outcomes are called
	row       catalog.RefRow
}

var testKinds = []string{"paper", "look", "hint", "strip", "pair", "change"}

func (t *Tables) loadTests(rows []catalog.RefRow) error {
	for _, r := range rows {
		x := test{
			name: r.Get("test"), also: words(r, "also"), kind: r.Get("kind"), column: r.Get("column"), fluid: r.Get("fluid"),
			cost: r.Get("cost"), high: r.Get("tells_high"), low: r.Get("tells_low"), row: r,
		}
		var err error
		if x.rank, err = strconv.Atoi(r.Get("rank")); err != nil {
			return unreadable(r, "rank", "is not a whole number")
		}
		if x.shipped, err = yesNo(r, "shipped"); err != nil {
			return err
		}
		if r.Get("high_from") != "" {
			if x.highFrom, err = r.Float("high_from"); err != nil {
				return err
			}
		}
		if !slices.Contains(testKinds, x.kind) || x.kind == "strip" && !slices.Contains(signColumns, x.column) {
			return unreadable(r, "kind", "is no kind of test, or names no column of coolant_families")
		}
		t.tests = append(t.tests, x)
	}
	slices.SortStableFunc(t.tests, func(a, b test) int { return cmp.Compare(a.rank, b.rank) })
	return nil
}

// settle finds the cheapest test at hand after whose every outcome the verdict
// stands. If that is a look into the papers, which may be missing, the
// cheapest test of the fluid itself that decides in all cases stands beside it,
// and before it a cheaper one, and two together, that decide in some. Changing the coolant is always a way.
// It rests on the outcomes of the worlds as they were last weighed.
func (s *situation) settle() []Settle {
	var list []Settle
	var partly *Settle
	fluid := false
	for _, x := range s.t.tests {
		if x.kind == "change" || x.kind == "look" || x.kind == "hint" || !s.atHand(x) || fluid {
			continue
		}
		tells, all, some := s.tells(x)
		switch {
		case all && (x.kind != "paper" || len(list) == 0):
			list = append(list, Settle{x.name, tells, x.cost, x.kind == "strip"})
			fluid = x.kind != "paper"
		case x.kind == "strip" && some && partly == nil:
			partly = &Settle{x.name, tells, x.cost, x.kind == "strip"}
		}
	}
	for _, x := range []*Settle{partly, s.twoStrips(list)} {
		if x == nil {
			continue
		}
		at := len(list)
		if fluid {
			at-- // it is cheaper than the test that decides
		}
		list = slices.Insert(list, at, *x)
	}
	for _, x := range s.t.tests {
		if x.kind == "change" {
			says := "drain, flush and refill with what the engine asks for; costs " + x.cost
			if len(list) == 0 {
				says = "nothing at hand can tell; " + says
			}
			list = append(list, Settle{x.name, says, x.cost, false})
		}
	}
	return list
}

func (s *situation) atHand(x test) bool {
	if s.q.TestsAtHand == nil {
		return x.shipped
	}
	return slices.ContainsFunc(s.q.TestsAtHand, func(name string) bool {
		name = catalog.Fold(name)
		return name == catalog.Fold(x.name) || slices.Contains(x.also, name)
	})
}

// tells says what each outcome of a test would mean, whether every outcome
// decides, and whether some outcome does.
func (s *situation) tells(x test) (says string, all, some bool) {
	switch x.kind {
	case "paper":
		return s.paperTells(x)
	case "strip":
		return s.stripTells(x)
	}
	never := slices.ContainsFunc(s.worlds, func(w world) bool {
		return slices.ContainsFunc(w.links, func(l link) bool { return l.rule.pair.trace || l.rule.forbid != "" })
	})
	if never {
		return "", false, false
	}
	return x.high + ": do not pour; " + x.low + ": it may go in, but counts as shortening its life", true, true
}

// stripTells splits the fill by what a strip or a kit would read. A low
// reading rules a family out only while the fill is in date.
func (s *situation) stripTells(x test) (says string, all, some bool) {
	if len(s.fill.mixed) > 0 { // a strip tells nothing of the rest of a mix
		return "", false, false
	}
	high, okHigh := s.combine(func(w *world) bool { return s.t.families[s.fill.may[w.fill]].holds[x.column] != minus })
	low, okLow := s.combine(func(w *world) bool {
		return s.t.families[s.fill.may[w.fill]].holds[x.column] != plus || !s.t.inDate(&s.q.Fill, s.fill.may[w.fill])
	})
	if !okHigh || !okLow {
		return "", false, false
	}
	says = x.high + ": " + pourWords(high) + "; " + x.low + ": " + pourWords(low)
	if slices.ContainsFunc(s.fill.may, func(i int) bool { return s.t.families[i].holds[x.column] == plus && s.t.inDate(&s.q.Fill, i) }) {
		says += " (holds because the fill is in date)"
	} else {
		says += " (a low reading may only mean that it is used up)"
	}
	h, l := high != compat.CannotSay, low != compat.CannotSay
	return says, h && l, h || l
}

// paperTells lists what it would mean to read the name of what is not known.
func (s *situation) paperTells(x test) (says string, all, some bool) {
	_, fillKnown := s.fill.only()
	_, addKnown := s.add.only()
	fillKnown = fillKnown || s.fill.knownMix()
	if x.fluid == "fill" && !addKnown || !fillKnown && !addKnown {
		if x.fluid == "fill" {
			return "", false, false
		}
		return "names what is in the engine and in the bottle", true, true
	}
	unknown, of := s.fill.may, func(w *world) int { return w.fill }
	if fillKnown {
		unknown, of = s.add.may, func(w *world) int { return w.add }
	}
	groups := map[compat.Outcome][]int{}
	for n, fam := range unknown {
		o, _ := s.combine(func(w *world) bool { return of(w) == n })
		groups[o] = append(groups[o], fam)
	}
	var parts []string
	for _, o := range []compat.Outcome{compat.Yes, compat.Caution, compat.No} {
		if g := groups[o]; len(g) > 0 {
			parts = append(parts, s.t.names(g, "or")+": "+pourWords(o))
		}
	}
	return strings.Join(parts, "; "), len(groups[compat.CannotSay]) == 0, true
}

func pourWords(o compat.Outcome) string {
	switch o {
	case compat.Yes:
		return "it may go in"
	case compat.Caution:
		return "it may go in, with a shorter life"
	case compat.No:
		return "do not pour"
	}
	return "still not known, so don't pour"
}
