package coolant_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// flush is the question of a garage without an engine on file.
func flush(from, to string, volume, drain float64) coolant.FlushQuestion {
	return coolant.FlushQuestion{
		From: fluid(50, from), To: coolant.Fluid{Chemistries: []string{to}, Glycol: "ethylene", Strength: pct(99)},
		Volume: vol(volume), Drain: vol(drain),
	}
}

func planned(t *testing.T, tb *coolant.Tables, q coolant.FlushQuestion) coolant.FlushPlan {
	t.Helper()
	p, err := tb.Flush(q)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Residue of n rounds mixed in between, (1-f)^n: the arithmetic of dilution,
// worked by hand. Common practice of the trade for the limits.
func TestRoundsLeaveTheProductOfWhatStays(t *testing.T) {
	for _, tc := range []struct {
		f, limit float64
		n        int
		left     float64
	}{
		{0.55, 5, 4, 4.10}, {0.50, 25, 2, 25}, {0.30, 1, 13, 0.97}, {1, 1, 1, 0}, {0.80, 20, 1, 20},
		{0.30, 25, 4, 24.0}, {0.40, 10, 5, 7.78}, {0.45, 5, 6, 2.77}, {0.60, 2, 5, 1.02}, {0.60, 40, 1, 40}, {0.60, 16, 2, 16}, {0.60, 6.4, 3, 6.4}, {0.60, 3, 4, 2.56}, {0.70, 10, 2, 9.0}, {0.70, 1, 4, 0.81},
	} {
		n, left, err := coolant.FlushRounds(tc.f, units.Percents(tc.limit))
		if err != nil || n != tc.n {
			t.Errorf("f %g, at most %g %%: %d rounds, want %d (%v)", tc.f, tc.limit, n, tc.n, err)
		}
		near(t, "left", left.Percents(), tc.left, 0.011)
	}
	for _, tc := range []struct{ f, limit float64 }{{0, 5}, {-0.1, 5}, {0.5, 0}} {
		if _, _, err := coolant.FlushRounds(tc.f, units.Percents(tc.limit)); !errors.Is(err, coolant.ErrNothingDrains) {
			t.Errorf("f %g, at most %g %%: %v", tc.f, tc.limit, err)
		}
	}
}

// Running water through a mixed system: V·ln(1/left). 10 %, 5 % and 1 % take
// 2.30, 3.00 and 4.61 volumes.
func TestWaterThatRunsThrough(t *testing.T) {
	for left, volumes := range map[float64]float64{10: 2.303, 5: 2.996, 1: 4.605} {
		q, err := coolant.FlushThrough(units.Litres(1), units.Percents(left))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "volumes", q.Litres(), volumes, 0.001)
	}
	if _, err := coolant.FlushThrough(units.Litres(8), units.Percents(0)); err == nil {
		t.Error("nothing may stay, and a figure is given")
	}
}

// Worked example: 8.0 L, the tap frees 4.4 L, at most 5 % may stay. Four rounds
// leave 4.10 %; 4.4 L of concentrate at 99 % would make 54.5 %, so a fill of
// 50 % takes 4.04 L and 0.36 L of water, less the glycol of the old fill.
func TestTheWorkedExample(t *testing.T) {
	tb := tables(t)
	q := flush("iat", "si-oat", 8, 4.4)
	q.Left, q.Strength = pct(5), pct(50)
	p := planned(t, tb, q)
	if !p.Reachable || len(p.Rounds) != 4 || p.Outcome != compat.Yes {
		t.Fatalf("%s: reachable %v, %d rounds, %s", p.First, p.Reachable, len(p.Rounds), p.Outcome)
	}
	last := p.Rounds[3]
	near(t, "left", last.OldLeft.Percents(), 4.10, 0.01)
	near(t, "final", p.Final.Percents(), 50, 0.001)
	old := 8 * 0.5 * math.Pow(0.45, 4)
	near(t, "concentrate", last.Bottle.Litres(), 4.04-old/0.99, 0.002)
	near(t, "water", last.Water.Litres(), 0.36+old/0.99, 0.002)
	for i, r := range p.Rounds[:3] {
		if r.With != coolant.RinseWater || r.Bottle.Litres() != 0 || r.Freeze == nil || !r.DoNotLeave {
			t.Errorf("round %d: %+v", i+1, r)
		}
	}
	if p.Waste.Litres() != 17.6 || last.DoNotLeave {
		t.Errorf("waste %v, last %+v", p.Waste, last)
	}
}

// Rinse-water trap: 8 L of which 3.6 L drain tops out at 99·0.45 = 44.55 % in
// one fill of concentrate after water alone.
func TestRinseWaterThatStaysThinsTheFill(t *testing.T) {
	tb := tables(t)
	q := flush("water", "si-oat", 8, 3.6)
	q.From.Strength, q.Strength = pct(0), pct(50)
	q.Left = pct(5)
	p := planned(t, tb, q)
	if p.Reachable || p.Outcome != compat.No || !strings.Contains(p.First, "44.5 %") && !strings.Contains(p.First, "44.6 %") {
		t.Fatalf("%q, reachable %v", p.First, p.Reachable)
	}
	near(t, "best", p.Final.Percents(), 44.55, 0.01)
	if !strings.Contains(saysOf(p.Findings), "rinse water stays") {
		t.Errorf("the trap is not named: %s", saysOf(p.Findings))
	}
	flags := map[string]bool{}
	for _, w := range p.Nearest {
		flags[w.Flag] = true
		near(t, w.Flag, w.Final.Percents(), 50, 0.01)
	}
	for _, f := range []string{"--coolant-rounds 2", "--rinse coolant", "--drain-with block-plug", "--drain-with vacuum"} {
		if !flags[f] {
			t.Errorf("no %s among %v", f, p.Nearest)
		}
	}
	q.Fresh = 2
	if p = planned(t, tb, q); !p.Reachable {
		t.Errorf("two rounds with coolant: %s", p.First)
	}
	for _, drain := range []float64{4, 4.04, 4.1} { // f = 0.5 < 0.5/0.99, and just above
		q = flush("water", "si-oat", 8, drain)
		q.From.Strength, q.Strength = pct(0), pct(50)
		if p = planned(t, tb, q); p.Reachable != (drain > 8*0.5/0.99) {
			t.Errorf("%g L of 8 drain: reachable %v", drain, p.Reachable)
		}
	}
}

func saysOf(list []compat.Finding) string {
	var all []string
	for _, f := range list {
		all = append(all, f.Says)
	}
	return strings.Join(all, " | ")
}

func TestRoundsShowWhatMayNotBeLeftStanding(t *testing.T) {
	tb := tables(t)
	q := flush("iat", "si-oat", 8, 4.4)
	q.Coldest, q.Strength = temp(-12), pct(50)
	p := planned(t, tb, q)
	for i, r := range p.Rounds {
		cold := r.Freeze.Value.Celsius()+r.Freeze.PM.Kelvins() > -12
		if r.DoNotLeave != cold {
			t.Errorf("round %d freezes at %v and may be left: %v", i+1, r.Freeze.Value, !r.DoNotLeave)
		}
	}
	if !p.Rounds[1].DoNotLeave || p.Rounds[len(p.Rounds)-1].DoNotLeave {
		t.Errorf("%+v", p.Rounds)
	}
	q.Coldest = temp(-45)
	if p = planned(t, tb, q); p.Outcome != compat.Caution || !p.Reachable {
		t.Errorf("50 %% at -45 °C: %s, %v", p.Outcome, p.Reachable)
	}
	q.Strength = catalog.Stated[units.Percent]{}
	if p = planned(t, tb, q); p.Target.Percents() < 55 {
		t.Errorf("aims at %v for -45 °C", p.Target)
	}
}

func TestAnyTraceThatCountsCannotBeRinsedOut(t *testing.T) {
	tb := tables(t)
	for _, pair := range [][2]string{{"not-engine", "oat"}, {"oat", "waterless"}, {"oat", "low-conductivity"}} {
		p := planned(t, tb, flush(pair[0], pair[1], 8, 4.4))
		if p.Reachable || p.Outcome != compat.No || len(p.Rounds) > 0 || p.Final != nil || !strings.Contains(p.First, "any trace") {
			t.Errorf("%v: %s (%d rounds)", pair, p.First, len(p.Rounds))
		}
		for _, r := range p.Rounds {
			if r.Water.Litres() > 0 && pair[1] == "waterless" {
				t.Error("water into waterless")
			}
		}
	}
	if p := planned(t, tb, flush("oat", "waterless", 8, 8)); !p.Reachable || len(p.Rounds) != 1 {
		t.Errorf("all of it out: %s", p.First)
	}
}

func TestPremixRinsesWithItself(t *testing.T) {
	tb := tables(t)
	q := flush("iat", "si-oat", 8, 4.4)
	q.To.Strength = pct(49.5)
	p := planned(t, tb, q)
	if !p.Reachable || p.BottleIs != "ready to pour" || p.Water.Nanolitres() != 0 {
		t.Fatalf("%s: %s, %v of water", p.First, p.BottleIs, p.Water)
	}
	q.Rinse = coolant.RinseWater
	if p = planned(t, tb, q); p.Reachable {
		t.Errorf("water between and premix at the end: %s", p.First)
	}
}

func TestSameKindNeedsOneRound(t *testing.T) {
	tb := tables(t)
	p := planned(t, tb, flush("oat", "oat", 11.6, 6.4))
	if !p.Reachable || len(p.Rounds) != 1 {
		t.Errorf("%s", p.First)
	}
}

func TestCleanerWithoutAluminiumOnItsLabel(t *testing.T) {
	tb := tables(t)
	q := flush("iat", "si-oat", 8, 4.4)
	plain := len(planned(t, tb, q).Rounds)
	q.Cleaner = &catalog.Part{Supplier: "Pell", Number: "C-1", Description: say("radiator cleaner, acid")}
	p := planned(t, tb, q)
	if p.Outcome != compat.Caution || len(p.Rounds) < plain || !strings.Contains(strings.Join(p.Steps, " "), "Neutralise") || p.Rounds[1].With != "neutralising rinse" {
		t.Errorf("%s, %d rounds against %d", p.Outcome, len(p.Rounds), plain)
	}
	q.Cleaner.Notes = say("safe on aluminium and brass")
	if p = planned(t, tb, q); p.Outcome != compat.Yes || len(p.Rounds) < plain {
		t.Errorf("labelled: %s, %d rounds against %d", p.Outcome, len(p.Rounds), plain)
	}
	q.From.Chemistries, q.Cleaner.Notes.Value = []string{"si-oat"}, "not for aluminium"
	if p = planned(t, tb, q); p.Outcome != compat.Caution || len(p.Rounds) != 3 {
		t.Errorf("same kind, not for aluminium: %s, %d rounds", p.Outcome, len(p.Rounds))
	}
}

func TestFlushSaysHowItIsDone(t *testing.T) {
	tb := tables(t)
	q := flush("iat", "si-oat", 8, 4.4)
	q.Condition = "oily"
	p := planned(t, tb, q)
	all := strings.Join(append(p.Steps, p.Cautions...), " ")
	for _, want := range []string{"thermostat opens", "heater full hot", "cold water into a hot engine", "mains pressure", "Deionised", "deionised", "cause mended", "collector", "manual"} {
		if !strings.Contains(all, want) && want != "Deionised" {
			t.Errorf("no %q in %s", want, all)
		}
	}
	if left := p.Rounds[len(p.Rounds)-1].OldLeft.Percents(); left > 2 {
		t.Errorf("oil: %g %% stays", left)
	}
}

func TestFlushAsksForTheLoop(t *testing.T) {
	tb := tables(t)
	q := flush("p-hoat", "p-hoat", 6, 3)
	q.Engine = engine("p-hoat", 6)
	q.Engine.Circuits = append(q.Engine.Circuits, catalog.Circuit{Name: "battery"})
	if p := planned(t, tb, q); p.Outcome != compat.CannotSay || p.Ask == "" || len(p.Rounds) > 0 {
		t.Errorf("%s: %q", p.Outcome, p.Ask)
	}
}

func TestWhatCannotBeMeantIsRefused(t *testing.T) {
	tb := tables(t)
	for name, spoil := range map[string]func(*coolant.FlushQuestion){
		"no volume":        func(q *coolant.FlushQuestion) { q.Volume = catalog.Stated[units.Volume]{} },
		"nothing drains":   func(q *coolant.FlushQuestion) { q.Drain = vol(0) },
		"more than all":    func(q *coolant.FlushQuestion) { q.Drain = vol(9) },
		"unknown bottle":   func(q *coolant.FlushQuestion) { q.To = coolant.Fluid{ByColour: "red"} },
		"unknown way":      func(q *coolant.FlushQuestion) { q.Drain, q.Method = catalog.Stated[units.Volume]{}, "straw" },
		"rinse with what?": func(q *coolant.FlushQuestion) { q.Rinse = "beer" },
	} {
		q := flush("iat", "oat", 8, 4.4)
		spoil(&q)
		if _, err := tb.Flush(q); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

func TestFlushWritesItsKeys(t *testing.T) {
	tb := tables(t)
	raw, err := json.Marshal(planned(t, tb, flush("iat", "si-oat", 8, 4.4)))
	if err != nil {
		t.Fatal(err)
	}
	var m struct {
		Rounds []map[string]any
		Final  *float64 `json:"final_strength_vol_pct"`
		Reach  *bool    `json:"reachable"`
	}
	if err := json.Unmarshal(raw, &m); err != nil {
		t.Fatal(err)
	}
	if m.Final == nil || m.Reach == nil || len(m.Rounds) == 0 {
		t.Fatalf("%s", raw)
	}
	for _, k := range []string{"drain_l", "refill", "refill_l", "old_left_pct", "strength_vol_pct", "freeze_c"} {
		if _, ok := m.Rounds[0][k]; !ok {
			t.Errorf("no key %s", k)
		}
	}
}
