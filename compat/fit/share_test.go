package fit

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fitfill/catalog"
)

// Many candidates are shared among processors; the verdicts and the question to
// ask next are those that one processor finds.
func TestSharingTheWorkChangesNothing(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	rapid.Check(t, func(r *rapid.T) {
		q := drawQuestion(r)
		cands := make([]Candidate, fewestToShare+rapid.IntRange(0, 8).Draw(r, "more"))
		few := []Candidate{drawCandidate(r, 1), drawCandidate(r, 2), drawCandidate(r, 3), drawCandidate(r, 4)}
		for i := range cands {
			cands[i] = few[i%len(few)]
			cands[i].Part = new(*cands[i].Part)
			cands[i].Part.ID, cands[i].Part.Number = int64(i), fmt.Sprintf("TX-%d", i)
			cands[i].Part.Key = catalog.Key(cands[i].Part.Number)
		}
		ask := func(processors int) ([]Verdict, Next) {
			runtime.GOMAXPROCS(processors)
			w := tables(t).Weigh(q, cands)
			n, _ := w.Next(nil)
			return w.Judge(), n
		}
		one, next := ask(1)
		several, nextOfSeveral := ask(mostSharing)
		if d := cmp.Diff(one, several, cmp.Transformer("part", func(p *catalog.Part) int64 { return p.ID })); d != "" {
			r.Fatal(d)
		}
		if d := cmp.Diff(next, nextOfSeveral); d != "" {
			r.Fatal(d)
		}
	})
}

// A panic on another processor reaches whoever asked.
func TestAPanicReachesWhoeverAsked(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2))
	defer func() {
		if got := fmt.Sprint(recover()); !strings.Contains(got, "candidate 40") {
			t.Errorf("recovered %q", got)
		}
	}()
	share(&field{}, 2*fewestToShare, func(i int, _ *field) {
		if i == 40 {
			panic("candidate 40")
		}
	})
	t.Error("share returned")
}
