package app

import (
	"context"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
)

// rosterShop is a garage with families of which some facts are not on file, and
// lists that name some of them.
func rosterShop(t *testing.T) *Shop {
	t.Helper()
	s, err := Open(t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	var engines, lists strings.Builder
	engines.WriteString("family,also_known_as,make,model,years,displacement,cylinders,fuel,vin8,housing_bore\n")
	lists.WriteString("number,type,description,opening_temp,price,currency,engine,make,model,years\n")
	for i := range 240 {
		pick := func(from string, every int) string { // each every-th is not on file
			list := strings.Split(from, "|")
			if i%every == 0 {
				return ""
			}
			return list[(i/every)%len(list)]
		}
		engine := fmt.Sprintf("RK%d", 100+i)
		fmt.Fprintf(&engines, "%s,%s,%s,%s,%s,%s,%s,%s,%s,54.0 mm\n", engine, pick("|ZK1|ZK2; QK3", 5), pick("Mak|Tolm|Vrin|Mak; Tolm", 7), pick("Hadl 1|Hadl 2|Sorn|Hadl 1; Sorn", 11),
			pick("1990-1999|2000-2009|1996-2004", 6), pick("1.6 L|2.0 L|3.0 L", 8), pick("4|6", 9), pick("petrol|diesel", 4), pick("A|B|C", 10))
		if i%3 == 0 {
			fmt.Fprintf(&lists, "XQ-%d,thermostat,thermostat 82,82 C,9.00,EUR,%s,%s,%s,%s\n", 1000+i, engine, pick("Mak|Tolm", 13), pick("Hadl 1|Sorn", 17), pick("1996-2004", 6))
		}
	}
	for _, q := range []ImportQuestion{{Name: "engines.csv", Raw: []byte(engines.String()), As: string(catalog.EnginesSheet)}, {Name: "a.csv", Raw: []byte(lists.String()), Supplier: "Newby"}} {
		if a, err := s.Import(context.Background(), q); err != nil || a.Status != Imported {
			t.Fatal(a.Status, a.Open, err)
		}
	}
	return s
}

// The engines to which something said leads are looked at first, and the others
// only where they could agree as well: the answer is the one that all of them give.
func TestEnginesMeantAreThoseOfAllOnFile(t *testing.T) {
	s := rosterShop(t)
	litres := func(n int64) catalog.Stated[units.Volume] {
		return catalog.Say(units.VolumeOf(n*1_000_000), "", catalog.Origin{})
	}
	short := 0
	for _, w := range []vehicleSaid{
		{makes: []string{"MAK"}}, {makes: []string{"MAK", "VRIN"}}, {models: []string{"HADL1"}}, {makes: []string{"MAK"}, models: []string{"SORN"}},
		{engines: []string{"RK101"}}, {engines: []string{"ZK1"}}, {engines: []string{"RK101"}, makes: []string{"TOLM"}}, {engines: []string{"QK3"}, years: []int{1998}},
		{makes: []string{"MAK"}, years: []int{1998}}, {makes: []string{"TOLM"}, displacement: litres(2000)}, {makes: []string{"VRIN"}, displacement: litres(3000), cylinders: 6, fuel: "diesel"},
		{models: []string{"SORN"}, fuel: "petrol", years: []int{2003, 2004}}, {models: []string{"HADL2"}, vin8: "B"}, {makes: []string{"NOBODY"}}, {models: []string{"NOBODY"}, cylinders: 4},
		{makes: []string{"MAK"}, electrified: true}, {displacement: litres(1600)}, {fuel: "diesel", cylinders: 6}, {vin8: "A", years: []int{1992}},
	} {
		err := s.store.View(context.Background(), func(v *sqlite.View) error {
			got, err := s.matchEngines(context.Background(), v, w)
			if err != nil {
				return err
			}
			apps, err := s.saidApplications(context.Background(), v, w)
			if err != nil {
				return err
			}
			all, err := s.engineRoster(context.Background(), v, w, apps, true)
			if err != nil {
				return err
			}
			limits, err := s.findLimits()
			if err != nil {
				return err
			}
			want, best := agreeing(all.engines, w, limits)
			if best > w.besides() {
				short++
			}
			if len(got) != len(want) {
				t.Errorf("%+v: %d engines, of all on file %d", w, len(got), len(want))
				return nil
			}
			for i := range got {
				g, n := got[i], want[i]
				if len(got) <= mostJudged && !reflect.DeepEqual(g.family, n.family) {
					t.Errorf("%+v: %s has not all of its facts: %+v", w, g.Engine, g.family)
				}
				if a, b := g.facts(), n.facts(); !reflect.DeepEqual(a.Years, b.Years) || a.VIN8 != b.VIN8 || len(a.Circuits) != len(b.Circuits) {
					t.Errorf("%+v: %s: %+v, want %+v", w, g.Engine, a, b)
				}
				g.family, n.family = nil, nil
				if !reflect.DeepEqual(g, n) {
					t.Errorf("%+v: %+v, want %+v", w, g, n)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if short == 0 {
		t.Error("no question was answered by the engines that something leads to alone")
	}
}
