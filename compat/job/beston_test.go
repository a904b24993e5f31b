package job

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// The one that is looked for is the first of those that are put in order.
func TestBestOnIsTheFirstOfThoseThatGoOnIt(t *testing.T) {
	outcomes := []compat.Outcome{compat.Yes, compat.Caution, compat.CannotSay, compat.No}
	rapid.Check(t, func(r *rapid.T) {
		money := func(name string) catalog.Stated[units.Money] {
			if rapid.IntRange(0, 3).Draw(r, name+" unknown") == 0 {
				return catalog.Stated[units.Money]{}
			}
			return catalog.Say(units.MoneyOf(rapid.Int64Range(1, 4).Draw(r, name), rapid.SampledFrom([]string{"EUR", "EUR", "EUR", "USD"}).Draw(r, "currency")), "", catalog.Origin{})
		}
		var seals []Candidate
		says := map[*catalog.Part]compat.Finding{}
		for i := range rapid.IntRange(0, 6).Draw(r, "seals") {
			p := &catalog.Part{Number: fmt.Sprint("S-", i), Price: money("price")}
			seals = append(seals, Candidate{Part: p, Outcome: rapid.SampledFrom(outcomes).Draw(r, "alone"), Listed: rapid.Bool().Draw(r, "listed"), Expected: money("expected")})
			if rapid.Bool().Draw(r, "speaks") {
				says[p] = compat.Finding{Outcome: rapid.SampledFrom(outcomes).Draw(r, "on it"), Says: "On it."}
			}
		}
		q := Question{Candidates: map[string][]Candidate{"seal": seals}, Together: func(_, part *catalog.Part) (compat.Finding, bool) {
			f, speaks := says[part]
			return f, speaks
		}}
		all, _ := q.together(Role{Name: "seal"}, &catalog.Part{})
		best, ok, _ := q.bestOn(Role{Name: "seal"}, &catalog.Part{}, make([]Candidate, 1))
		if ok != (len(all) > 0) {
			r.Fatalf("found one: %v, of %d", ok, len(all))
		}
		if ok && (best.Part != all[0].Part || best.Outcome != all[0].Outcome || best.Expected != all[0].Expected) {
			r.Errorf("%s %s is the best, %s %s the first", best.Part.Number, best.Outcome, all[0].Part.Number, all[0].Outcome)
		}
	})
}
