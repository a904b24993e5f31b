package returns_test

import (
	"testing"

	"fitfill/compat/returns"
)

// shopWith is two suppliers of sixty pieces, each sold on a line of its own and one
// of them failed, and a third whose lines are given as pieces sold and failed.
func shopWith(lines [][2]int) []returns.Unit {
	var units []returns.Unit
	add := func(supplier, line, exit, pieces int, failed bool) {
		if pieces > 0 {
			units = append(units, returns.Unit{Supplier: supplier, Entry: -1, Exit: exit, Event: failed, Weight: float64(pieces), Line: line})
		}
	}
	for i := range 60 {
		add(1, 100+i, 400, 1, false)
		add(2, 200+i, 400, 1, false)
	}
	add(1, 300, 60, 1, true)
	for i, l := range lines {
		add(0, i, 30, l[1], true)
		add(0, i, 400, l[0]-l[1], false)
	}
	return units
}

// Pieces of large deliveries that fail by chance stand side by side as well; that a
// supplier has a single delivery says nothing about them.
func TestFailuresByChanceAreNoClustering(t *testing.T) {
	var units []returns.Unit
	delivery := func(supplier, line int) {
		units = append(units, returns.Unit{Supplier: supplier, Entry: -1, Exit: 30, Event: true, Weight: 3, Line: line},
			returns.Unit{Supplier: supplier, Entry: -1, Exit: 400, Weight: 97, Line: line})
	}
	delivery(0, 1)
	for i := range 20 {
		delivery(1, 100+i)
		delivery(2, 200+i)
	}
	if got := returns.DesignEffect(units, 3, 365); got > 1+exact {
		t.Errorf("%g, want 1", got)
	}
}

// A verdict never hangs on one row: pieces of one delivery that came back together
// count about as one, also where it was the supplier's only delivery and where all
// of it came back. Expected: Σd²/Σ(np(1−p) + n²p²) over the lines of 121 single pieces
// of which one failed and those of the supplier, with the pocket calculator.
func TestOneDeliveryThatCameBackIsNoVerdict(t *testing.T) {
	set := settings(t)
	for name, tc := range map[string]struct {
		lines [][2]int
		deff  float64 // 0: not at its floor
		worse bool
	}{
		"a box of six, all back":         {[][2]int{{6, 6}}, 5.217778671540, false},
		"a box of six, five back":        {[][2]int{{6, 5}}, 4.285506979786, false},
		"two boxes of three, all back":   {[][2]int{{3, 3}, {3, 3}}, 2.700222925166, true},
		"six boxes of one, all back":     {[][2]int{{1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}}, 1, true},
		"a box of six, one back":         {[][2]int{{6, 1}}, 1, false},
		"a box of six back, others held": {[][2]int{{6, 6}, {1, 0}, {1, 0}, {1, 0}, {1, 0}, {1, 0}, {1, 0}, {1, 0}, {1, 0}, {1, 0}}, 0, false},
	} {
		c, err := returns.Compare(shopWith(tc.lines), 3, set)
		if err != nil {
			t.Fatal(err)
		}
		if tc.deff > 0 {
			near(t, name+": design effect", c.DesignEffect, tc.deff, exact)
		}
		if got := c.Standings[0].Word == returns.Worse; got != tc.worse {
			t.Errorf("%s: %q at a design effect of %g", name, c.Standings[0].Word, c.DesignEffect)
		}
	}
}
