package fit

import (
	"testing"

	"pgregory.net/rapid"

	"fitfill/compat"
)

// results runs every check on one candidate, before anything is combined.
func results(t testing.TB, q *Question, c *Candidate) []result {
	tab := tables(t)
	tr := tab.trial(q, c, tab.survey(q, []Candidate{*c}))
	list, lists := tr.listed()
	for _, more := range [][]result{tr.copiedList(), tr.linked(lists.met > 0), tr.used(), tr.checked(), tr.amongLists()} {
		list = append(list, more...)
	}
	return list
}

// The part that a result plays in the verdict and what its finding tells people
// are two statements of one thing.
var toldBy = map[role][]compat.Outcome{
	note:      {compat.Yes, compat.CannotSay},
	listed:    {compat.Yes},
	unsettled: {compat.Caution},
	elsewhere: {compat.Caution},
	excluded:  {compat.No},
	linked:    {compat.Yes, compat.Caution},
	agrees:    {compat.Yes},
	fails:     {compat.No},
	against:   {compat.No},
	faulty:    {compat.No},
	stays:     {compat.Yes},
	doubt:     {compat.Caution},
}

func checkRoles(t interface {
	Helper()
	Fatalf(string, ...any)
}, list []result, met map[role]bool) {
	t.Helper()
	for _, r := range list {
		met[r.role] = true
		want := toldBy[r.role]
		if r.NotChecked {
			want = []compat.Outcome{compat.CannotSay}
		}
		ok := false
		for _, o := range want {
			ok = ok || o == r.Outcome
		}
		if !ok {
			t.Fatalf("%s: role %d tells people %s: %s", r.Check, r.role, r.Outcome, r.Says)
		}
	}
}

func TestAFindingTellsWhatItDoes(t *testing.T) {
	met := map[role]bool{}
	rapid.Check(t, func(r *rapid.T) {
		q, c := drawQuestion(r), drawCandidate(r, 1)
		checkRoles(r, results(t, &q, &c), met)
	})
	for _, want := range []role{listed, agrees, fails, doubt} {
		if !met[want] {
			t.Errorf("no question drawn has a result of role %d", want)
		}
	}
}
