package returns_test

import (
	"math"
	"testing"

	"fitfill/compat/returns"
)

// At the price gap that makes two suppliers level, each is as likely as the
// other to be cheaper overall; far from it, one is, and the word says so.
func TestTheGapThatMakesTwoSuppliersLevel(t *testing.T) {
	set := settings(t)
	l := returns.Match(shop(t), set)
	c := compare(t, l.Units, len(l.Suppliers), set)
	const brindle, dunmore, perFailure = 1, 3, 95.0
	duel := func(partType int, gap float64) returns.Duel {
		d, ok := c.Duel(dunmore, brindle, partType, 365, returns.PartCost{Price: 50, PerFailure: perFailure}, returns.PartCost{Price: 50 + gap, PerFailure: perFailure}, set)
		if !ok {
			t.Fatal("no comparison")
		}
		return d
	}
	told := 0
	for g, name := range l.PartTypes {
		level := duel(g, 0.01).Level.Gap
		d := duel(g, level.Est)
		if math.Abs(d.DearCheaper-0.5) > 0.002 {
			t.Errorf("%s: at the level gap %.2f the dear one is cheaper with %.3f", name, level.Est, d.DearCheaper)
		}
		near(t, name+" allowed", d.Allowed, level.Est/perFailure, 1e-12)
		near(t, name+" difference in failures", d.More.Est, level.Est/perFailure, 1e-9)
		if d.Word != returns.AboutLevel && d.Word != returns.TooFewToTell {
			t.Errorf("%s: level, but %q", name, d.Word)
		}
		if d.Word == returns.TooFewToTell {
			continue
		}
		told++
		if w := duel(g, level.High*1.2).Word; w != returns.Pays {
			t.Errorf("%s: far above the level gap %q", name, w)
		}
		if w := duel(g, 0.01).Word; w != returns.CostsMore && w != returns.LeansMore {
			t.Errorf("%s: no price gap and many more failures, but %q", name, w)
		}
	}
	if told == 0 {
		t.Error("no part type had enough failures")
	}
}

// What a comeback may cost before the saving is gone is told without its price:
// at that price the two are level, and their word is the same whoever is named
// first.
func TestTheComebackThatMakesTwoSuppliersLevel(t *testing.T) {
	set := settings(t)
	l := returns.Match(shop(t), set)
	c := compare(t, l.Units, len(l.Suppliers), set)
	const brindle, dunmore = 1, 3
	duel := func(partType int, perFailure float64) returns.Duel {
		d, ok := c.Duel(dunmore, brindle, partType, 365, returns.PartCost{Price: 50, PerFailure: perFailure}, returns.PartCost{Price: 54, PerFailure: perFailure}, set)
		if !ok {
			t.Fatal("no comparison")
		}
		return d
	}
	for g, name := range l.PartTypes {
		d := duel(g, 1)
		even := d.EvenCost()
		if even.Low > even.Est || even.Est > even.High {
			t.Errorf("%s: limits %v", name, even)
		}
		if level := duel(g, even.Est); math.Abs(level.DearCheaper-0.5) > 0.002 {
			t.Errorf("%s: at %.2f a comeback the dear one is cheaper with %.3f", name, even.Est, level.DearCheaper)
		}
		other, _ := c.Duel(brindle, dunmore, g, 365, returns.PartCost{Price: 54, PerFailure: 1}, returns.PartCost{Price: 50, PerFailure: 1}, set)
		if !d.Comparable || d.CheapWorse < 0.9 || other.CheapWorse != d.CheapWorse || other.EvenCost() != even {
			t.Errorf("%s: %v, the other way round %v", name, d.CheapWorse, other.CheapWorse)
		}
		same, _ := c.Duel(brindle, dunmore, g, 365, returns.PartCost{Price: 50, PerFailure: 1}, returns.PartCost{Price: 54, PerFailure: 1}, set)
		if !math.IsInf(same.EvenCost().Est, 1) || math.Abs(same.CheapWorse-(1-d.CheapWorse)) > 1e-12 {
			t.Errorf("%s: the cheap one fails less often, and %v of a comeback would eat the saving", name, same.EvenCost())
		}
	}
}

func TestWhatAComebackCosts(t *testing.T) {
	b := returns.Comeback{Hours: 1.5, Litres: 2}
	r := returns.Rates{Hour: 60, Litre: 4, Each: 5, Credit: 1}
	near(t, "part credited", b.Cost(r, 20), 1.5*60+2*4+5, 1e-12)
	r.Credit = 0.5
	near(t, "half of it credited", b.Cost(r, 20), 1.5*60+2*4+5+10, 1e-12)
}
