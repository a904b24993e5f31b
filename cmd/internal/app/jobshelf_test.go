package app

import (
	"context"
	"slices"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
	"fitfill/compat/job"
)

// Judging each label once finds the two coolants that judging each part finds, for
// every engine of the demo shop, whatever is in it, and whether what stays in is
// rinsed out or not.
func TestJudgingLabelsFindsTheBestOfAllParts(t *testing.T) {
	ctx := context.Background()
	s, err := Open(t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if err := s.LoadDemo(ctx, func(ImportAnswer) {}); err != nil {
		t.Fatal(err)
	}
	compared, certain := 0, 0
	err = s.store.View(ctx, func(v *sqlite.View) error {
		families, err := v.Families(ctx)
		if err != nil {
			return err
		}
		ids, err := v.PartIDsOfType(ctx, "coolant")
		if err != nil {
			return err
		}
		all, err := v.Parts(ctx, ids)
		if err != nil {
			return err
		}
		fills := []coolant.Fluid{{}, {Chemistries: []string{"oat"}}, {Chemistries: []string{"iat"}}, {Chemistries: []string{"water"}}, ofProduct(coolant.Fluid{}, &all[0])}
		for i := range families {
			family, loop := &families[i], engineLoop(&families[i])
			drained := catalog.Say(units.Litres(4.4), "", catalog.Origin{})
			capacity := loop.CoolantCapacity.Or(units.Litres(9))
			for n, fill := range append(fills, fills...) {
				q, j := JobQuestion{Rounds: n%3 == 2}, job.Job{ID: []string{"thermostat", roleCoolant}[n%2]}
				s.Settings.HouseCoolant = []string{"", "PR-OA50-5"}[n/len(fills)]
				best, err := s.pours(ctx, v, q, j, family, loop, fill, capacity, drained)
				if err != nil {
					return err
				}
				want := bestByHand(s, all, func(part *catalog.Part) (pour, bool) {
					return s.pour(j, q.Rounds, family, loop, fill, part, capacity, drained)
				})
				if len(best) != len(want) {
					t.Fatalf("%s, %s: %d found, of %d", family.Family, j.ID, len(best), len(want))
				}
				for k, x := range best {
					y := want[k]
					compared++
					if y.outcome == compat.Yes {
						certain++
					}
					if x.part.ID != y.part.ID || x.outcome != y.outcome || x.cost != y.cost || x.packs != y.packs || x.ends != y.ends || x.first != y.first {
						t.Errorf("%s, %s, place %d: %s %s (%s), of all %s %s (%s)", family.Family, j.ID, k+1, x.part.Number, x.outcome, x.ends, y.part.Number, y.outcome, y.ends)
					}
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if compared < 100 || certain < 10 {
		t.Errorf("%d were compared, %d of which go in as they are: that tells little", compared, certain)
	}
}

// bestByHand judges every part by itself and takes the best out twice.
func bestByHand(s *Shop, all []catalog.Part, judge func(*catalog.Part) (pour, bool)) (best []pour) {
	var left []pour
	for i := range all {
		if p, ok := judge(&all[i]); ok && (p.outcome == compat.Yes || p.outcome == compat.Caution) {
			left = append(left, p)
		}
	}
	house := func(p pour) bool { return p.part.Key == catalog.Key(s.Settings.HouseCoolant) }
	better := func(x, y pour) bool {
		switch {
		case x.outcome != y.outcome:
			return y.outcome.Worse(x.outcome)
		case house(x) != house(y):
			return house(x)
		case x.cost.Known != y.cost.Known:
			return x.cost.Known
		case x.cost.Value.TenThousandths() != y.cost.Value.TenThousandths():
			return x.cost.Value.TenThousandths() < y.cost.Value.TenThousandths()
		}
		return x.part.Number < y.part.Number
	}
	for len(best) < 2 && len(left) > 0 {
		at := 0
		for i := range left {
			if better(left[i], left[at]) {
				at = i
			}
		}
		best, left = append(best, left[at]), slices.Delete(left, at, at+1)
	}
	return best
}
