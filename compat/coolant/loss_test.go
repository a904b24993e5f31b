package coolant_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

func top(t *testing.T, day string, volume, drained float64) catalog.Fill {
	t.Helper()
	d, err := catalog.ParseDate(day)
	if err != nil {
		t.Fatal(err)
	}
	f := catalog.Fill{Date: d, Volume: catalog.Say(units.Litres(volume), "", catalog.Origin{})}
	if drained > 0 {
		f.Drained = catalog.Say(units.Litres(drained), "", catalog.Origin{})
	}
	return f
}

// Worked by hand: full on 1 January, 0.7 L on day 91, 0.7 L on day 183 are
// 1.4 L in 183 days, so 1.4*365.25/183 = 2.79 L a year.
func TestLossIsLitresOverDays(t *testing.T) {
	l, ok := tables(t).Loss([]catalog.Fill{
		top(t, "2025-01-01", 5, 5), top(t, "2025-04-02", 0.7, 0), top(t, "2025-07-03", 0.7, 0),
	}, "pressurised tank", units.Metric)
	if !ok || l.PerYear == nil || math.Abs(l.PerYear.Litres()-2.794) > 0.005 {
		t.Fatalf("%+v", l)
	}
	if l.Low.Compare(*l.PerYear) >= 0 || l.High.Compare(*l.PerYear) <= 0 || l.Low.Litres() < 2 {
		t.Errorf("limits %v to %v around %v", l.Low, l.High, l.PerYear)
	}
	if l.Outcome != compat.No || !strings.Contains(l.Says, "2.8 L a year") || !strings.Contains(l.Says, "Find where it goes") {
		t.Errorf("%v: %s", l.Outcome, l.Says)
	}
}

// The limits of two equal top-offs are those of reading the level alone; the
// more the top-offs differ, the wider they get.
func TestLimitsWidenWithTheSpread(t *testing.T) {
	width := func(first, second float64) float64 {
		l, _ := tables(t).Loss([]catalog.Fill{
			top(t, "2025-01-01", 5, 5), top(t, "2025-04-02", first, 0), top(t, "2025-07-02", second, 0),
		}, "", units.Metric)
		return l.High.Litres() - l.PerYear.Litres()
	}
	// from memory: a level is read to 0.1 L at each end, 182 days apart
	if got, want := width(0.7, 0.7), math.Sqrt2*0.1/182*365.25; math.Abs(got-want) > 0.002 {
		t.Errorf("equal top-offs: +%.3f L a year, want %.3f", got, want)
	}
	if !(width(0.6, 0.8) > width(0.7, 0.7)) || !(width(0.3, 1.1) > width(0.6, 0.8)) {
		t.Error("a wider spread gives no wider limits")
	}
}

// A refill that took less than came out left air in; the top-off that follows
// fills that first and is no loss.
func TestAirOfARefillIsNoLoss(t *testing.T) {
	l, ok := tables(t).Loss([]catalog.Fill{top(t, "2026-03-24", 3.6, 4.4), top(t, "2026-03-26", 0.8, 0)}, "pressurised tank", units.Metric)
	if !ok || l.PerYear == nil || l.PerYear.Nanolitres() != 0 || l.Outcome != compat.Yes {
		t.Errorf("%+v", l)
	}
}

func TestSecondTopOffOfASealedSystem(t *testing.T) {
	once := []catalog.Fill{top(t, "2025-05-07", 4.4, 4.4), top(t, "2025-10-20", 0.1, 0)}
	if l, _ := tables(t).Loss(once, "pressurised tank", units.Metric); l.Outcome != compat.Yes {
		t.Errorf("once: %v %s", l.Outcome, l.Says)
	}
	twice := append(once, top(t, "2026-02-11", 0.1, 0))
	if l, _ := tables(t).Loss(twice, "pressurised tank", units.Metric); l.Outcome != compat.Caution || !strings.Contains(l.Says, "sealed system") {
		t.Errorf("twice: %v %s", l.Outcome, l.Says)
	}
	if l, _ := tables(t).Loss(twice, "overflow bottle", units.Metric); l.Outcome != compat.Yes || !strings.Contains(l.Says, "evaporation") {
		t.Errorf("overflow bottle: %v %s", l.Outcome, l.Says)
	}
}

func TestNothingPouredIsNoLoss(t *testing.T) {
	if _, ok := tables(t).Loss([]catalog.Fill{top(t, "2025-05-07", 4.4, 4.4)}, "", units.Metric); ok {
		t.Error("a change alone is taken for a loss")
	}
}

func TestRefillSaysAirOrSpill(t *testing.T) {
	say := func(v float64) catalog.Stated[units.Volume] {
		return catalog.Say(units.Litres(v), "", catalog.Origin{})
	}
	for _, c := range []struct {
		drained, poured float64
		want            string
	}{
		{4.4, 3.6, "0.8 L less"}, {4.4, 4.35, ""}, {4.4, 5.0, "0.6 L more"}, {0, 1, ""},
	} {
		_, says, ok := tables(t).Refill(say(c.drained), say(c.poured), units.Metric)
		if ok != (c.want != "") || !strings.Contains(says, c.want) {
			t.Errorf("drained %v, poured %v: %q", c.drained, c.poured, says)
		}
	}
}

// Whatever the log, the rate lies within its limits, and none is below zero.
func TestLossLaws(t *testing.T) {
	tab := tables(t)
	rapid.Check(t, func(r *rapid.T) {
		var log []catalog.Fill
		day := catalog.DateOf(2024, 1, 1)
		for range rapid.IntRange(1, 8).Draw(r, "n") {
			day += catalog.Date(rapid.IntRange(0, 200).Draw(r, "days"))
			f := catalog.Fill{Date: day, Volume: catalog.Say(units.Litres(rapid.Float64Range(0, 5).Draw(r, "v")), "", catalog.Origin{})}
			if rapid.IntRange(0, 4).Draw(r, "change") == 0 {
				f.Drained = catalog.Say(units.Litres(rapid.Float64Range(0, 5).Draw(r, "d")), "", catalog.Origin{})
			}
			log = append(log, f)
		}
		l, ok := tab.Loss(log, "", units.Metric)
		if !ok || l.PerYear == nil {
			return
		}
		if l.Low.Nanolitres() < 0 || l.Low.Compare(*l.PerYear) > 0 || l.High.Compare(*l.PerYear) < 0 {
			r.Fatalf("%v not within %v to %v", l.PerYear, l.Low, l.High)
		}
	})
}
