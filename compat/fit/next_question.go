package fit

import (
	"slices"

	"fitfill/catalog"
	"fitfill/compat"
)

// Next is the question to ask first: the one that is expected to settle most
// of the parts in doubt.
type Next struct {
	Ask
	Doubtful int     // parts in doubt now
	Left     float64 // parts expected to be in doubt once it is answered
}

// Next chooses the question whose answer is expected to leave the fewest parts
// in doubt; of questions that settle as much, the first in the counter's order
// (displacement, VIN, year, build month, equipment, the old part). Every answer
// that would tell candidates apart is tried; model years count one by one, all
// other answers are taken to be as likely as each other. Only candidates that
// shown keeps are counted (nil: all); the others still say what they say of the
// engine. ok is false where no question settles anything.
func (w *Weighed) Next(shown func(*catalog.Part) bool) (best Next, ok bool) {
	now := w.standings(shown)
	doubtful := now.inDoubt(&w.q, now.around)
	if doubtful == 0 {
		return Next{}, false
	}
	for _, f := range w.answerable() {
		left, weight := 0.0, 0.0
		for _, a := range f.answers {
			answered := w.q
			a.give(&answered)
			left += a.weight * float64(now.doubtful(&answered))
			weight += a.weight
		}
		n := Next{Ask: f.Ask, Doubtful: doubtful, Left: left / weight}
		better := n.Left < best.Left || n.Left == best.Left && n.cost() < best.cost()
		if n.Left < float64(doubtful) && (!ok || better) {
			best, ok = n, true
		}
	}
	return best, ok
}

// standing is a candidate with what no answer of the counter changes.
type standing struct {
	cand   *Candidate
	tidy   *evidence
	groups []int // origin of each listing
	own    int   // origin of the part's own supplier
	linked bool
	stayed bool // fitted to this engine, and stayed
	doubt  bool // a reservation that the lists did not raise
	alone  bool // refused unless somebody else's list speaks for it
	firm   bool // refused whatever the lists say
}

type standings struct {
	*Tables
	cands  []Candidate
	around *field // of the question as it was asked
	all    []standing
}

func (w *Weighed) standings(shown func(*catalog.Part) bool) standings {
	s := standings{Tables: w.tables, cands: w.cands, around: w.around, all: make([]standing, 0, len(w.cands))}
	for i := range w.all {
		tr := &w.all[i]
		if shown != nil && !shown(tr.c.Part) {
			continue
		}
		st := standing{cand: &w.cands[i], tidy: tr.c, linked: len(tr.c.Links) > 0}
		sayings := []statement{tr.said(catalog.Origin{}, tr.c.Part.Supplier)}
		for k := range tr.c.Listings {
			f := &tr.c.Listings[k]
			sayings = append(sayings, tr.said(f.Origin, tr.lister(f)))
		}
		groups, _ := origins(sayings)
		st.own, st.groups = groups[0], groups[1:]
		for _, r := range slices.Concat(tr.checked, tr.used) {
			switch {
			case r.role == stays:
				st.stayed = true
			case r.role == against || r.role == faulty || r.role == fails && r.own && r.sure:
				st.firm = true
			case r.role == fails && r.own:
				st.alone = true
			case r.role == fails, r.role == doubt && (r.Check != ratingCheck || w.q.Engine.OpeningTemp.Known) && r.Check != oldCheck:
				st.doubt = true
			}
		}
		s.all = append(s.all, st)
	}
	return s
}

// doubtful counts the candidates that an answer leaves in doubt.
func (s standings) doubtful(q *Question) int { return s.inDoubt(q, s.asked(s.around, q, s.cands)) }

// inDoubt is doubtful where it is known already what the candidates say together.
func (s standings) inDoubt(q *Question, around *field) (n int) {
	for i := range s.all {
		if s.open(&s.all[i], q, around) {
			n++
		}
	}
	return n
}

// open reports whether a candidate that lists or cross-references name is in
// doubt: neither refused, nor listed without a reservation, nor listed for
// another vehicle only.
func (s standings) open(st *standing, q *Question, around *field) bool {
	if st.firm {
		return false
	}
	tr := trial{Tables: s.Tables, q: q, c: st.tidy, kind: kindOf(q, st.cand), field: around, show: showIn(q.Show)}
	states := make([]state, len(st.tidy.Listings))
	best := map[int]state{}
	for i := range st.tidy.Listings {
		states[i] = tr.listing(&st.tidy.Listings[i]).state
		if b, ok := best[st.groups[i]]; !ok || states[i] < b {
			best[st.groups[i]] = states[i]
		}
	}
	lists, speaks, foreign, contradicted := 0, false, tr.foreignLink() || st.stayed, false
	for g, b := range best {
		speaks, foreign = speaks || b <= open, foreign || b <= open && g != st.own
		if b == met {
			lists++
		}
		contradicted = contradicted || b == open || b == other
	}
	switch {
	case slices.Contains(states, excepted), st.alone && !foreign:
		return false
	case lists > 0:
		return st.doubt || st.alone || contradicted || tr.ratingOpen() || len(tr.amongLists()) > 0
	case speaks:
		return true
	}
	return st.linked || st.stayed // else not listed, or for another vehicle: no answer changes that
}

// ratingOpen reports whether the lists leave the rating in doubt.
func (t trial) ratingOpen() bool {
	if t.kind != Thermostat || t.q.Engine.OpeningTemp.Known {
		return false
	}
	for _, r := range t.ratingAmongLists() {
		if r.role == doubt && !r.unlike && r.Outcome == compat.Caution {
			return true
		}
	}
	return false
}
