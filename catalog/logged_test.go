package catalog_test

import (
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// A record of a sheet stands for one entry at most: of n equal entries and m
// equal records the larger number counts, and no record of a sheet is lost.
func TestOnceCountsEachEventOnce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		draw := func(name string) []catalog.Fitted {
			var list []catalog.Fitted
			for range rapid.IntRange(0, 8).Draw(r, name) {
				list = append(list, catalog.Fitted{
					Date: catalog.Date(rapid.IntRange(1, 2).Draw(r, "day")), Vehicle: rapid.SampledFrom([]string{"D 01", "d-01", "D 02"}).Draw(r, "vehicle"), Number: "TX-1",
				})
			}
			return list
		}
		sheets, hand := draw("sheets"), draw("hand")
		all := catalog.Once(sheets, hand, catalog.SameFitted, nil)
		count := func(list []catalog.Fitted) map[[2]any]int {
			n := map[[2]any]int{}
			for _, f := range list {
				n[[2]any{f.Date, catalog.Key(f.Vehicle)}]++
			}
			return n
		}
		s, h, a := count(sheets), count(hand), count(all)
		for k := range a {
			if a[k] != max(s[k], h[k]) {
				r.Fatalf("%v: %d in sheets, %d by hand, %d in all", k, s[k], h[k], a[k])
			}
		}
		for i := range sheets {
			if all[i] != sheets[i] {
				r.Fatalf("the record %d of a sheet is not where it was", i)
			}
		}
	})
}

func TestWhatMakesTwoRecordsOne(t *testing.T) {
	litres := func(v float64) catalog.Stated[units.Volume] {
		return catalog.Say(units.Litres(v), "", catalog.Origin{})
	}
	a := catalog.Fill{Date: 100, Vehicle: "D 01", Number: "BX-500", Volume: litres(0.5)}
	for name, c := range map[string]struct {
		other catalog.Fill
		same  bool
	}{
		"other spelling":         {catalog.Fill{Date: 100, Vehicle: "d01", Circuit: "Engine", Number: "bx 500", Volume: litres(0.5)}, true},
		"chemistry for a number": {catalog.Fill{Date: 100, Vehicle: "D 01", Chemistry: "oat", Volume: litres(0.5)}, true},
		"other day":              {catalog.Fill{Date: 101, Vehicle: "D 01", Number: "BX-500", Volume: litres(0.5)}, false},
		"other amount":           {catalog.Fill{Date: 100, Vehicle: "D 01", Number: "BX-500", Volume: litres(0.6)}, false},
		"other circuit":          {catalog.Fill{Date: 100, Vehicle: "D 01", Circuit: "battery", Number: "BX-500", Volume: litres(0.5)}, false},
	} {
		if got := catalog.SameFill(a, c.other); got != c.same {
			t.Errorf("%s: %v", name, got)
		}
	}
	name := func(s string) string {
		return map[string]string{"GVT": "Grauvelt"}[s] + map[string]string{"Grauvelt": "Grauvelt"}[s]
	}
	hand := catalog.Return{Date: 100, Supplier: "GVT", Number: "GV 1", Quantity: catalog.CountOf(1000)}
	for days, same := range map[catalog.Date]bool{0: true, 7: true, -7: true, 8: false, -8: false} {
		sheet := catalog.Return{Date: 100 + days, Supplier: "Grauvelt", Number: "gv-1", Quantity: catalog.CountOf(2000)}
		if got := catalog.SameReturn(hand, sheet, name); got != same {
			t.Errorf("%d days apart: %v", days, got)
		}
	}
}
