package coolant_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

func topped(id string, litres, strength float64) coolant.Poured {
	return coolant.Poured{Chemistry: id, Volume: units.Litres(litres), Strength: pct(strength), Glycol: "ethylene", Origin: origin}
}

func changed(id string, litres, drained, strength float64) coolant.Poured {
	p := topped(id, litres, strength)
	p.Drained = vol(drained)
	return p
}

func shareOf(f coolant.Fluid, id string) float64 {
	for _, s := range f.Mixed {
		if s.Chemistry == id {
			return s.Percent.Percents()
		}
	}
	return 0
}

// Worked by hand: 1-(1-p)^k of k top-offs of the share p each.
func TestRepeatedTopOffsAddUp(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		p       float64
		k       int
		foreign float64
	}{{0.05, 5, 22.6}, {0.05, 10, 40.1}, {0.10, 3, 27.1}, {0.10, 10, 65.1}} {
		log := slices.Repeat([]coolant.Poured{topped("iat", 10*c.p, 50)}, c.k)
		f := tb.FillByLog(fluid(50, "oat"), units.Litres(10), log)
		near(t, "share of what was topped, %", shareOf(f, "iat"), c.foreign, 0.05)
		near(t, "strength, vol %", f.Strength.Value.Percents(), 50, 1e-6)
	}
	// Each was small; together they are past the limit (class C, 25 %).
	f := tb.FillByLog(fluid(50, "oat"), units.Litres(10), slices.Repeat([]coolant.Poured{topped("iat", 1, 50)}, 3))
	a := tb.Mix(ask(f, fluid(50, "iat"), 9, 1))
	if a.Outcome != compat.No || a.Before.Outcome != compat.No {
		t.Errorf("a fourth top-off of 10 %%: %s, before %s\n%s", a.Outcome, a.Before.Outcome, says(a))
	}
	if !strings.Contains(says(a), "By its log") {
		t.Errorf("the log is not told:\n%s", says(a))
	}
}

// Worked by hand: 0.55 drained four times leaves 0.45^4 = 4.10 %.
func TestAFlushInTheLogLeavesWhatDrainingLeaves(t *testing.T) {
	tb := tables(t)
	rinse := changed("water", 4.4, 4.4, 0)
	log := []coolant.Poured{rinse, rinse, rinse, changed("si-oat", 4.4, 4.4, 90)}
	f := tb.FillByLog(fluid(50), units.Litres(8), log)
	old, fresh := 8*0.5*math.Pow(0.45, 4), 4.4*0.90
	near(t, "share that nobody knows, %", shareOf(f, "unknown"), 100*old/(old+fresh), 0.01)
	near(t, "strength, vol %", f.Strength.Value.Percents(), 100*(old+fresh)/8, 0.01)
	if f.Glycol != "ethylene" {
		t.Errorf("glycol %q: all that was logged and said is ethylene", f.Glycol)
	}
	f.ByColour = "red"
	a := tb.Mix(ask(f, fluid(49.5, "si-oat"), 7.7, 0.3))
	if a.Outcome != compat.Yes {
		t.Errorf("the right coolant on top of a flushed fill: %s\n%s", a.Outcome, says(a))
	}
}

func TestTheUnknownRestOfALogMayBeAnything(t *testing.T) {
	tb := tables(t)
	f := tb.FillByLog(coolant.Fluid{}, units.Litres(10), []coolant.Poured{topped("oat", 2, 50)})
	a := tb.Mix(ask(f, fluid(50, "oat"), 9, 1))
	if a.Outcome == compat.Yes || a.Before.Outcome == compat.Yes {
		t.Errorf("most of it is not known: %s, before %s\n%s", a.Outcome, a.Before.Outcome, says(a))
	}
	if f.Strength.Known {
		t.Errorf("strength %v, though eight litres of it are not known", f.Strength.Value)
	}
	f = tb.FillByLog(coolant.Fluid{}, units.Litres(10), []coolant.Poured{changed("oat", 9.9, 9.9, 50)})
	if a = tb.Mix(ask(f, fluid(50, "oat"), 9, 1)); a.Outcome != compat.Yes {
		t.Errorf("a trace is not known: %s\n%s", a.Outcome, says(a))
	}
	if only := tb.FillByLog(coolant.Fluid{}, units.Litres(5), []coolant.Poured{changed("water", 5, 5, 0)}); !slices.Equal(only.Chemistries, []string{"water"}) {
		t.Errorf("nothing but water is in it: %+v", only)
	}
}

// What is in it before an entry and what is poured is in it after, less what
// was drained.
func TestLawLogKeepsItsShares(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		full := rapid.Float64Range(4, 30).Draw(t, "full")
		var log []coolant.Poured
		want := map[string]float64{"unknown": full * 0.5}
		all := full
		for range rapid.IntRange(1, 6).Draw(t, "entries") {
			v := rapid.Float64Range(0.1, full).Draw(t, "litres")
			id := rapid.SampledFrom([]string{"oat", "iat", "water"}).Draw(t, "id")
			p := topped(id, v, 50)
			lost := max(0, all-(full-v))
			if rapid.Bool().Draw(t, "drained") {
				lost = min(v, all)
				p.Drained = vol(lost)
			}
			for k := range want {
				want[k] *= (all - lost) / all
			}
			if id != "water" {
				want[id] += p.Volume.Litres() * 0.5
			}
			all += v - lost
			if all > full {
				for k := range want {
					want[k] *= full / all
				}
				all = full
			}
			log = append(log, p)
		}
		f := tb.FillByLog(fluid(50), units.Litres(full), log)
		whole := 0.0
		for _, v := range want {
			whole += v
		}
		if whole <= 1e-9 {
			return
		}
		for id, v := range want {
			if got := shareOf(f, id); math.Abs(got-100*v/whole) > 0.01 {
				t.Fatalf("%s: %g %%, want %g %%", id, got, 100*v/whole)
			}
		}
		if got, want := f.Strength.Value.Percents(), 100*whole/all; f.Strength.Known && math.Abs(got-want) > 0.01 {
			t.Fatalf("strength %g, want %g", got, want)
		}
	})
}

// What two top-offs have put together stands in the answer as it is, however much
// of the fill nobody knows: 10 L unknown, topped with 3 L of OAT and 2 L of IAT,
// hold 7·0.8 = 5.6 L unknown, 2.4 L of OAT and 2 L of IAT.
func TestAKnownBadPairIsToldBesideAnUnknownRest(t *testing.T) {
	tb := tables(t)
	f := tb.FillByLog(coolant.Fluid{}, units.Litres(10), []coolant.Poured{topped("oat", 3, 50), topped("iat", 2, 50)})
	for range 5 { // the order of a map would show
		b := tb.Mix(ask(f, fluid(50, "oat"), 9, 0.5)).Before
		text := strings.Join(b.Says, " ")
		if b.Outcome != compat.No || !strings.Contains(text, "OAT and conventional IAT are in it together.") && !strings.Contains(text, "Conventional IAT and OAT are in it together.") || !strings.Contains(text, "Drain and flush it.") {
			t.Fatalf("%s: %s", b.Outcome, text)
		}
	}
	alone := tb.FillByLog(coolant.Fluid{}, units.Litres(10), []coolant.Poured{topped("oat", 3, 50)})
	if b := tb.Mix(ask(alone, fluid(50, "oat"), 9, 0.5)).Before; b.Outcome == compat.No || !strings.Contains(strings.Join(b.Says, " "), "is not known. Should that be") {
		t.Errorf("only OAT is known to be in it: %s, %v", b.Outcome, b.Says)
	}
}
