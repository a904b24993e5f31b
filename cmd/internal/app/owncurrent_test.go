package app

import (
	"sync"
	"testing"
)

// A shop that stays open answers by the tables that another process imports or
// drops meanwhile.
func TestAnOpenShopSeesOwnTablesOfAnotherProcess(t *testing.T) {
	home := t.TempDir()
	page, err := Open(home, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer page.Close()
	question := MixQuestion{Fill: FluidSaid{What: "oat", Strength: "50%", Volume: "6 L"}, Add: FluidSaid{What: "si-oat", Strength: "50%", Volume: "0.4 L"}}
	says := func() string {
		now, err := page.Current(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		a, err := now.Mix(t.Context(), question)
		if err != nil {
			t.Fatal(err)
		}
		if (a.Own != nil) != (now != page) {
			t.Errorf("own tables are named: %v, another shop: %v", a.Own != nil, now != page)
		}
		return a.First
	}
	shipped := says()
	other, err := Open(home, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	sheet := []byte("a,b,class,reasons,trace\noat,si-oat,D,r2,no\n")
	if _, err := other.Import(t.Context(), ImportQuestion{Name: "coolant_pairs.csv", Raw: sheet, As: string(TableKind)}); err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if own := says(); own == shipped {
				t.Errorf("still %q", own)
			}
		})
	}
	all.Wait()
	if err := other.DropOwnTable(t.Context(), "coolant_pairs"); err != nil {
		t.Fatal(err)
	}
	if back := says(); back != shipped {
		t.Errorf("after dropping it: %q, want %q", back, shipped)
	}
}
