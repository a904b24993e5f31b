package fit

import (
	"fitfill/catalog"
	"fitfill/compat"
)

// combine turns what was found into a verdict by rules that a person can check,
// in this order:
//
//  1. an explicit exclusion in a list is no;
//  2. a finding that cannot work whoever says otherwise (a rating too hot, a
//     rubber that coolant destroys) is no, and so is a piece in hand that failed
//     its test: it is called faulty, since it is the piece and not the part;
//  3. a size that fails throughout is no where the garage measured the engine
//     and either the part was measured too, or two independent sheets print the
//     size, or nothing but that supplier's own list speaks for the part (neither
//     another's nor the garage's own history);
//     otherwise it is a caution: check that size;
//  4. an independent direct listing whose conditions are met, with nothing
//     against it, is yes; with a doubt it is a caution;
//  5. a listing under an unsettled condition, a cross-reference, a part that was
//     fitted here and stayed, or sizes that agree without any listing are a
//     caution;
//  6. nothing at all, or sizes of which one fails and none is firm enough to
//     refuse the part, is cannot-say.
//
// A check that lacked a fact moves nothing.
func (t trial) combine(results []result, lists tally) (Verdict, float64) {
	speaksForeign := lists.foreign || t.foreignLink() || has(results, stays)
	outcome := compat.CannotSay
	var firm []result // what makes it a no
	measured, refuted := 0, false
	var wrong []compat.Finding
	for i := range results {
		r := &results[i]
		cannot := r.role == fails
		if cannot && !(r.own && (r.sure || !speaksForeign)) {
			r.role, r.Outcome, refuted = doubt, compat.Caution, true
			if speaksForeign {
				r.Says += " Others say that it fits: measure before you refuse it."
			} else {
				r.Says += " The engine's size is not the garage's own: measure before you refuse it."
			}
			if r.check != "" {
				r.short = "check the " + r.check
			}
		}
		if cannot || r.role == against {
			wrong = append(wrong, r.Finding)
		}
		switch r.role {
		case excluded, fails, against, faulty:
			firm = append(firm, *r)
		case agrees:
			measured++
		}
	}
	switch {
	case len(firm) > 0:
		outcome = compat.No
	case lists.met > 0:
		outcome = compat.Yes
		if has(results, doubt) {
			outcome = compat.Caution
		}
	case lists.open > 0 || has(results, linked) || has(results, stays) || measured > 0 && !refuted:
		outcome = compat.Caution
	}
	v := Verdict{Part: t.c.Part, Outcome: outcome, First: firstLine(outcome, results, lists, measured), Refuted: wrong, Excluded: has(results, excluded), Faulty: has(results, faulty)}
	v.Findings = make([]compat.Finding, 0, len(results))
	for _, r := range ordered(results) {
		v.Findings = append(v.Findings, r.Finding)
		if r.ask != "" && outcome != compat.Yes && (outcome != compat.No || r.decides()) {
			v.Ask = askOnce(v.Ask, Ask{r.ask, r.flag})
		}
	}
	byCost(v.Ask)
	return v, t.strength(results, lists, measured)
}

// foreignLink reports whether a cross-reference from somebody else's sheet
// speaks for the part.
func (t trial) foreignLink() bool {
	own := t.said(catalog.Origin{}, t.c.Part.Supplier).supplier
	for _, l := range t.c.Links {
		for _, o := range l.last().Origins {
			if o.Supplier != "" && t.said(o, "").supplier != own {
				return true
			}
		}
	}
	return false
}

func has(results []result, want role) bool {
	for _, r := range results {
		if r.role == want {
			return true
		}
	}
	return false
}

// ordered puts what is against first, then the doubts, then what speaks for the
// part, then what was not checked; within these the order of the checks stays.
func ordered(results []result) []*result {
	const places = 5
	place := func(r *result) int {
		switch {
		case r.NotChecked:
			return 4
		case r.decides():
			return 0
		case r.role == doubt, r.role == unsettled, r.role == elsewhere:
			return 1
		case r.role == listed, r.role == linked, r.role == stays, r.role == agrees:
			return 2
		}
		return 3
	}
	out := make([]*result, 0, len(results))
	for at := range places {
		for i := range results {
			if place(&results[i]) == at {
				out = append(out, &results[i])
			}
		}
	}
	return out
}

// strength weighs the evidence, each origin once. It puts candidates of one
// outcome in order and is never shown.
func (t trial) strength(results []result, lists tally, measured int) float64 {
	s := float64(lists.met)*t.weights[weightListing] + float64(lists.open)*t.weights[weightUnsettled]
	cross := 0.0
	for _, l := range t.c.Links {
		switch l.Hops {
		case 0, 1:
			cross = max(cross, t.weights[weightCrossOne])
		case 2:
			cross = max(cross, t.weights[weightCrossTwo])
		}
	}
	s += cross
	switch {
	case measured > 1:
		s += t.weights[weightSizesAll]
	case measured == 1:
		s += t.weights[weightSizesSome]
	}
	for _, r := range results {
		switch r.role {
		case excluded, fails, against, faulty:
			s += t.weights[weightAgainst]
		case doubt:
			s += t.weights[weightDoubt]
			if r.Check == usedCheck {
				s += t.weights[weightCameBack]
			}
		case stays:
			s += t.weights[weightFitted]
		}
		if r.like {
			s += t.weights[weightOldPart]
		}
	}
	return s
}
