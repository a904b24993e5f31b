package app

import (
	"context"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
	"fitfill/compat/job"
)

// Judging the shelf in the order of what the amount costs, until two go in as
// they are, finds the two that judging all of it finds, for every engine of the
// demo shop, and whatever is in it.
func TestTheCheapestPoursAreTheFirstOfAll(t *testing.T) {
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
		for i := range families {
			family, loop := &families[i], engineLoop(&families[i])
			drained := catalog.Say(units.Litres(4.4), "", catalog.Origin{})
			capacity := loop.CoolantCapacity.Or(units.Litres(9))
			for _, house := range []string{"", "PR-OA50-5"} {
				s.Settings.HouseCoolant = house
				for _, fill := range []coolant.Fluid{{}, {Chemistries: []string{"oat"}}, {Chemistries: []string{"iat"}}, {Chemistries: []string{"water"}}} {
					lazy, err := s.pours(ctx, v, JobQuestion{}, job.Job{ID: "thermostat"}, family, loop, fill, capacity, drained)
					if err != nil {
						return err
					}
					all, err := s.coolantsOnFile(ctx, v, "")
					if err != nil {
						return err
					}
					var whole []pour
					for i := range all {
						p, ok := s.pour(job.Job{ID: "thermostat"}, false, family, loop, fill, &all[i], capacity, drained)
						if ok && (p.outcome == compat.Yes || p.outcome == compat.Caution) {
							whole = append(whole, p)
						}
					}
					s.arrange(whole)
					if min(len(lazy), 2) != min(len(whole), 2) {
						t.Fatalf("%s: %d found, of %d", family.Family, len(lazy), len(whole))
					}
					for k := range min(len(whole), 2) {
						compared++
						if whole[k].outcome == compat.Yes {
							certain++
						}
						if x, y := lazy[k], whole[k]; x.part.ID != y.part.ID || x.outcome != y.outcome || x.cost != y.cost || x.packs != y.packs || x.ends != y.ends || x.first != y.first {
							t.Errorf("%s, place %d: %s %s (%s), of all %s %s (%s)", family.Family, k+1, x.part.Number, x.outcome, x.ends, y.part.Number, y.outcome, y.ends)
						}
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
