package returns_test

import (
	"math"
	"strings"
	"testing"

	"fitfill/compat/returns"
)

func TestBeforeTheFirstReturnAllAreAlike(t *testing.T) {
	set := settings(t)
	b := shop(t)
	b.AsOf = date(t, "2024-01-14") // the first return of the shop is dated the 15th
	l := returns.Match(b, set)
	c := compare(t, l.Units, len(l.Suppliers), set)
	if c.Ranked || !strings.Contains(c.Why, "0 quality failures") {
		t.Errorf("ranked %v, why %q", c.Ranked, c.Why)
	}
	compared := 0
	for _, s := range c.Standings {
		if !s.Compared {
			continue
		}
		compared++
		if s.Observed != 0 || math.Abs(s.Relative.Est-1) > 1e-9 || math.Abs(s.WorseThanRest-0.5) > 1e-9 || s.Word != returns.NotTold || s.Group != "" || s.Second.Flag {
			t.Errorf("%+v", s)
		}
	}
	if compared < 2 {
		t.Errorf("%d suppliers compared", compared)
	}
}

func TestFewFailuresAreNotRanked(t *testing.T) {
	set := settings(t)
	var units []returns.Unit
	for i := range 4 {
		units = append(units, returns.Unit{Supplier: 0, Entry: -1, Exit: 10 * i, Event: true, Weight: 1, Line: i})
	}
	units = append(units, returns.Unit{Supplier: 0, Entry: -1, Exit: 400, Weight: 6, Line: 8}, returns.Unit{Supplier: 1, Entry: -1, Exit: 400, Weight: 500, Line: 9})
	c := compare(t, units, 2, set)
	if c.Ranked || c.Standings[0].Word != returns.NotTold || c.Standings[0].ExpectedRank != 0 {
		t.Errorf("4 failures were ranked: %+v", c.Standings[0])
	}
	units = append(units, returns.Unit{Supplier: 0, Entry: -1, Exit: 90, Event: true, Weight: 1, Line: 10})
	c = compare(t, units, 2, set)
	if !c.Ranked || c.Standings[0].Word != returns.Worse || c.Standings[1].Word != returns.Better || c.Standings[0].Group == c.Standings[1].Group {
		t.Errorf("5 of 11 against 0 of 500: %+v", c.Standings)
	}
}

func TestOneSupplierAloneIsNotCompared(t *testing.T) {
	c := compare(t, []returns.Unit{{Entry: -1, Exit: 5, Event: true, Weight: 9}, {Entry: -1, Exit: 50, Weight: 9}}, 2, settings(t))
	if c.Ranked || c.Why == "" || c.Standings[0].Relative != nil || c.Standings[1].Compared || len(c.Pairs) != 0 {
		t.Errorf("%+v", c)
	}
}

func TestSuppliersWithoutACommonTypeAreNotComparable(t *testing.T) {
	var units []returns.Unit
	for i := range 20 {
		units = append(units, returns.Unit{Supplier: i % 2, PartType: i % 2, Entry: -1, Exit: 10 * i, Event: i%3 == 0, Weight: 1, Line: i})
	}
	c := compare(t, units, 2, settings(t))
	if p := c.Pairs[0]; p.Comparable || p.CommonGround > 1e-9 || math.Abs(p.AWorse-0.5) > 1e-9 {
		t.Errorf("%+v", p)
	}
	if c.Standings[0].Word != returns.NotComparable || c.Global.DF != 0 || c.Global.P != 1 {
		t.Errorf("%+v, global %+v", c.Standings[0], c.Global)
	}
}

func TestPiecesThatFailTogetherCountForLess(t *testing.T) {
	set := settings(t)
	var units []returns.Unit
	for line := range 30 {
		supplier := line % 2
		fails := line%15 == 0 || line == 2 || line == 4
		units = append(units, returns.Unit{Supplier: supplier, Entry: -1, Exit: map[bool]int{true: 20 + line, false: 400}[fails], Event: fails, Weight: 4, Line: line})
	}
	together := compare(t, units, 2, set)
	for i := range units {
		units[i].Weight, units[i].Line = 4, i
	}
	var apart []returns.Unit
	for _, u := range units {
		for range 4 {
			u.Weight, u.Line = 1, len(apart)
			apart = append(apart, u)
		}
	}
	single := compare(t, apart, 2, set)
	if !together.Divided || together.DesignEffect < 3 || single.Divided {
		t.Fatalf("design effects %g and %g", together.DesignEffect, single.DesignEffect)
	}
	a, b := together.Standings[0], single.Standings[0]
	if a.Observed != b.Observed || a.Relative.High/a.Relative.Low <= b.Relative.High/b.Relative.Low || a.Ratio.High-a.Ratio.Low <= b.Ratio.High-b.Ratio.Low {
		t.Errorf("together %+v %+v\napart %+v %+v", a.Relative, a.Ratio, b.Relative, b.Ratio)
	}
}

func TestLettersJoinWhatCannotBeToldApart(t *testing.T) {
	// Ranks 3, 1, 2, 4; only neighbours in rank cannot be told apart.
	rank := []float64{3, 1, 2, 4}
	worse := func(a, b int) float64 {
		if rank[a]-rank[b] > 1 {
			return 0.99
		}
		return 0.6
	}
	if got := strings.Join(returns.Letters(rank, worse, 0.95), " "); got != "bc a ab c" {
		t.Errorf("got %q", got)
	}
	alike := func(a, b int) float64 { return 0.5 }
	if got := strings.Join(returns.Letters(rank, alike, 0.95), " "); got != "a a a a" {
		t.Errorf("got %q", got)
	}
}

func TestMissingSettingIsNamed(t *testing.T) {
	values := map[string]float64{}
	for _, r := range readTable(t, "data", "returns_settings.csv") {
		values[r.text("setting")] = r.num(t, "value")
	}
	load := func() error {
		_, err := returns.SettingsFrom(func(n string) (float64, bool) { v, ok := values[n]; return v, ok })
		return err
	}
	if err := load(); err != nil {
		t.Fatal(err)
	}
	for name, was := range values {
		delete(values, name)
		if err := load(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("without %s: %v", name, err)
		}
		values[name] = -1
		if err := load(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s = -1: %v", name, err)
		}
		values[name] = was
	}
	values["lean_at"] = 0.99
	if err := load(); err == nil || !strings.Contains(err.Error(), "lean_at") {
		t.Errorf("leaning above calling: %v", err)
	}
}
