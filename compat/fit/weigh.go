package fit

import (
	"cmp"
	"slices"
)

// Weighed is a question whose candidates have been through their checks: the
// verdicts and the question to ask next rest on the same results.
type Weighed struct {
	tables *Tables
	q      Question
	cands  []Candidate
	around *field
	all    []weighed // by candidate
}

// weighed is a candidate with what its own checks and the garage's history say.
type weighed struct {
	trial
	checked, used []result
}

// Weigh puts the candidates of a question through the checks of their type. The
// candidates are not to be changed while the result is in use.
func (t *Tables) Weigh(q Question, cands []Candidate) *Weighed {
	w := &Weighed{tables: t, q: q, cands: cands, all: make([]weighed, len(cands))}
	w.around = t.survey(&w.q, cands)
	share(w.around, len(cands), func(i int, around *field) {
		tr := t.trial(&w.q, &cands[i], around)
		w.all[i] = weighed{tr, tr.checked(), tr.used()}
	})
	return w
}

// Judge returns the verdicts in the order of Tables.Judge.
func (w *Weighed) Judge() []Verdict {
	type ranked struct {
		Verdict
		strength float64
	}
	out := make([]*ranked, len(w.all))
	all := make([]ranked, len(w.all))
	share(w.around, len(w.all), func(i int, around *field) {
		tried := w.all[i]
		tried.field = around
		all[i].Verdict, all[i].strength = tried.judge()
		out[i] = &all[i]
	})
	slices.SortStableFunc(out, func(a, b *ranked) int {
		switch {
		case a.Outcome != b.Outcome && b.Outcome.Worse(a.Outcome):
			return -1
		case a.Outcome != b.Outcome:
			return 1
		}
		return cmp.Or(cmp.Compare(b.strength, a.strength), cmp.Compare(a.Part.Supplier, b.Part.Supplier),
			cmp.Compare(a.Part.Number, b.Part.Number), cmp.Compare(a.Part.ID, b.Part.ID))
	})
	verdicts := make([]Verdict, len(out))
	for i := range out {
		verdicts[i] = out[i].Verdict
	}
	return verdicts
}
