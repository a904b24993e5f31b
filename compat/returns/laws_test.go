package returns_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/compat/returns"
)

// drawUnits invents sale lines of a few suppliers and part types.
func drawUnits(t *rapid.T, suppliers int) []returns.Unit {
	n := rapid.IntRange(15, 60).Draw(t, "lines")
	units := make([]returns.Unit, n)
	for i := range units {
		units[i] = returns.Unit{
			Supplier: rapid.IntRange(0, suppliers-1).Draw(t, "supplier"), PartType: rapid.IntRange(0, 2).Draw(t, "type"),
			Entry: -1, Exit: rapid.IntRange(0, 400).Draw(t, "exit"), Event: rapid.IntRange(0, 2).Draw(t, "event") == 0,
			Weight: float64(rapid.IntRange(1, 4).Draw(t, "weight")), Line: i,
		}
	}
	return units
}

func compare(t interface{ Fatal(...any) }, units []returns.Unit, suppliers int, set returns.Settings) returns.Comparison {
	c, err := returns.Compare(units, suppliers, set)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// coarse keeps the laws quick: they hold on any grid.
func coarse(t *testing.T) returns.Settings {
	set := settings(t)
	set.TauStep = 0.25
	return set
}

func TestObservedAndExpectedHaveOneSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(2, 5).Draw(t, "suppliers")
		table := returns.RiskTable(drawUnits(t, k), k, 365)
		e := table.Expect()
		var o, x float64
		for s := range k {
			o += e.Observed[s]
			x += e.Expected[s]
			var byTypeO, byTypeE float64
			for g := range 3 {
				go1, ge := table.ByType(s, g)
				byTypeO, byTypeE = byTypeO+go1, byTypeE+ge
			}
			if byTypeO != e.Observed[s] || math.Abs(byTypeE-e.Expected[s]) > 1e-9 {
				t.Fatalf("supplier %d by type %g %g, in all %g %g", s, byTypeO, byTypeE, e.Observed[s], e.Expected[s])
			}
		}
		if math.Abs(o-x) > 1e-9 {
			t.Fatalf("observed %g, expected %g", o, x)
		}
	})
}

func TestRenamingSuppliersRenamesTheAnswer(t *testing.T) {
	set := coarse(t)
	rapid.Check(t, func(t *rapid.T) {
		const k = 4
		units := drawUnits(t, k)
		perm := rapid.Permutation([]int{0, 1, 2, 3}).Draw(t, "names")
		renamed := append([]returns.Unit(nil), units...)
		for i := range renamed {
			renamed[i].Supplier = perm[renamed[i].Supplier]
		}
		a, b := compare(t, units, k, set), compare(t, renamed, k, set)
		for s := range k {
			x, y := a.Standings[s], b.Standings[perm[s]]
			if x.Compared != y.Compared || math.Abs(x.WorseThanRest-y.WorseThanRest) > 1e-8 || math.Abs(x.ExpectedRank-y.ExpectedRank) > 1e-8 ||
				math.Abs(x.Expected-y.Expected) > 1e-9 || math.Abs(x.Second.Q-y.Second.Q) > 1e-8 {
				t.Fatalf("supplier %d: %+v\nrenamed: %+v", s, x, y)
			}
		}
	})
}

func TestSplittingALineChangesNothingButTheDesignEffect(t *testing.T) {
	set := coarse(t)
	set.DesignEffectFrom = math.MaxFloat64
	rapid.Check(t, func(t *rapid.T) {
		units := drawUnits(t, 3)
		var split []returns.Unit
		for _, u := range units {
			for range int(u.Weight) {
				one := u
				one.Weight, one.Line = 1, len(split)
				split = append(split, one)
			}
		}
		a, b := compare(t, units, 3, set), compare(t, split, 3, set)
		if !reflect.DeepEqual(a.Standings, b.Standings) || !reflect.DeepEqual(a.Pairs, b.Pairs) || !reflect.DeepEqual(a.Table, b.Table) || a.Global != b.Global {
			t.Fatalf("together %+v\napart %+v", a.Standings, b.Standings)
		}
	})
}

func TestATypeBoughtFromOneSupplierAddsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		units := drawUnits(t, 3)
		more := append([]returns.Unit(nil), units...)
		for range 5 {
			more = append(more, returns.Unit{Supplier: 1, PartType: 9, Entry: -1, Exit: rapid.IntRange(0, 300).Draw(t, "exit"), Event: true, Weight: 2})
		}
		a, errA := returns.RiskTable(units, 3, 365).FitSpread(0.7, nil)
		b, errB := returns.RiskTable(more, 3, 365).FitSpread(0.7, nil)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		for s := range 3 {
			for r := range 3 {
				if math.Abs(a.V.At(s, r)-b.V.At(s, r)) > 1e-9 {
					t.Fatalf("V %d %d: %g, with it %g", s, r, a.V.At(s, r), b.V.At(s, r))
				}
			}
			if math.Abs(a.B[s]-b.B[s]) > 1e-9 {
				t.Fatalf("b %d: %g, with it %g", s, a.B[s], b.B[s])
			}
		}
	})
}

func TestANeutralReturnTakesOnlyTheDaysAfterIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		units := drawUnits(t, 3)
		units[0].Event, units[0].Exit = false, 390
		day := rapid.IntRange(0, 389).Draw(t, "day")
		before := returns.RiskTable(units, 3, 365)
		units[0].Exit = day
		after := returns.RiskTable(units, 3, 365)
		for i, r := range before.Rows {
			want := r.AtRisk[units[0].Supplier]
			if r.PartType == units[0].PartType && r.Day > day {
				want -= units[0].Weight
			}
			if got := after.Rows[i].AtRisk[units[0].Supplier]; got != want {
				t.Fatalf("type %d day %d: %g at risk, want %g", r.PartType, r.Day, got, want)
			}
		}
	})
}

func TestOfTwoSuppliersOneIsWorse(t *testing.T) {
	set := coarse(t)
	rapid.Check(t, func(t *rapid.T) {
		c := compare(t, drawUnits(t, 2), 2, set)
		if sum := c.Standings[0].WorseThanRest + c.Standings[1].WorseThanRest; math.Abs(sum-1) > 1e-9 {
			t.Fatalf("the two probabilities add up to %g", sum)
		}
		if len(c.Pairs) == 1 && math.Abs(c.Pairs[0].AWorse-c.Standings[0].WorseThanRest) > 1e-9 {
			t.Fatalf("pair %g, rest %g", c.Pairs[0].AWorse, c.Standings[0].WorseThanRest)
		}
	})
}

func TestRowOrderChangesNothing(t *testing.T) {
	set := coarse(t)
	books := shop(t)
	first := returns.Match(books, set)
	want, err := returns.Judge(first, set)
	if err != nil {
		t.Fatal(err)
	}
	for seed := range uint64(5) {
		r := rand.New(rand.NewPCG(seed, 1))
		r.Shuffle(len(books.Sales), func(i, j int) { books.Sales[i], books.Sales[j] = books.Sales[j], books.Sales[i] })
		r.Shuffle(len(books.Returns), func(i, j int) { books.Returns[i], books.Returns[j] = books.Returns[j], books.Returns[i] })
		l := returns.Match(books, set)
		got, err := returns.Judge(l, set)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(l.Units, first.Units) || !reflect.DeepEqual(l.Counts(), first.Counts()) {
			t.Fatal("units or counts of codes depend on the order of rows")
		}
		if a, b := fmt.Sprintf("%+v", got.Suppliers[0].Shares), fmt.Sprintf("%+v", want.Suppliers[0].Shares); a != b || !reflect.DeepEqual(got, want) {
			t.Fatal("the report depends on the order of rows")
		}
	}
}

func TestEveryPieceOfAReturnIsAccountedFor(t *testing.T) {
	set := settings(t)
	reasons := []returns.Class{returns.UnknownReason, returns.QualityFailure, returns.DeadOnArrival, returns.SupplyError, returns.Neutral}
	days := []string{"2025-01-01", "2025-01-03", "2025-02-01", "2025-03-01", "2025-06-01"}
	rapid.Check(t, func(rt *rapid.T) {
		b := returns.Books{AsOf: date(t, "2025-12-31")}
		suppliers, parts := []string{"AA", "BB"}, []string{"P1", "P2", "p-1"}
		for i := range rapid.IntRange(1, 12).Draw(rt, "sales") {
			b.Sales = append(b.Sales, sold(t, i, rapid.SampledFrom(days).Draw(rt, "day"), float64(rapid.IntRange(1, 3).Draw(rt, "qty")), func(s *returns.Sale) {
				s.Supplier, s.Part = rapid.SampledFrom(suppliers).Draw(rt, "supplier"), rapid.SampledFrom(parts).Draw(rt, "part")
			}))
		}
		for i := range rapid.IntRange(0, 12).Draw(rt, "returns") {
			b.Returns = append(b.Returns, back(t, i, rapid.SampledFrom(days).Draw(rt, "day"), float64(rapid.IntRange(1, 3).Draw(rt, "qty")), rapid.SampledFrom(reasons).Draw(rt, "class"), func(r *returns.Return) {
				r.Supplier, r.Part = rapid.SampledFrom(suppliers).Draw(rt, "supplier"), rapid.SampledFrom(parts).Draw(rt, "part")
			}))
		}
		l := returns.Match(b, set)
		given := make([]int, len(b.Sales))
		for i, f := range l.Returns {
			n := f.Unmatched
			for _, a := range f.Sales {
				n += a.Pieces
				given[a.Sale] += a.Pieces
			}
			if want := int(b.Returns[i].Quantity.Float()); n != want {
				rt.Fatalf("return %d: %d pieces accounted for, %d came back", i, n, want)
			}
		}
		var watched, sold float64
		for _, u := range l.Units {
			watched += u.Weight
		}
		for i, s := range b.Sales {
			sold += s.Quantity.Float()
			if given[i] > int(s.Quantity.Float()) {
				rt.Fatalf("sale %d gave %d of %g", i, given[i], s.Quantity.Float())
			}
		}
		if watched != sold {
			rt.Fatalf("%g pieces watched, %g sold", watched, sold)
		}
	})
}

func TestMonthsSumToTheWhole(t *testing.T) {
	set := coarse(t)
	start := date(t, "2023-05-10")
	rapid.Check(t, func(t *rapid.T) {
		units := drawUnits(t, 3)
		for i := range units {
			units[i].Sold = start + catalog.Date(rapid.IntRange(0, 500).Draw(t, "sold"))
			if rapid.IntRange(0, 3).Draw(t, "late") == 0 {
				units[i].Entry = rapid.IntRange(-1, units[i].Exit).Draw(t, "entry")
			}
		}
		c := compare(t, units, 3, set)
		for s, list := range c.ByMonth() {
			before, after := returns.Split(list, start+catalog.Date(rapid.IntRange(0, 700).Draw(t, "split")))
			st := c.Standings[s]
			if math.Abs(before.Expected+after.Expected-st.Expected) > 1e-9 || math.Abs(before.Observed+after.Observed-st.Observed) > 1e-9 {
				t.Fatalf("supplier %d: %+v and %+v, in all %g of %g", s, before, after, st.Observed, st.Expected)
			}
		}
	})
}

// Ten times the goods leave about a tenth of the variance, the nearer the less
// the spread between suppliers matters.
func TestTenTimesTheGoodsLeaveATenthOfTheDoubt(t *testing.T) {
	_, c := shopComparison(t)
	variance := func(times float64) float64 {
		f, err := c.Table.Divided(1/times).FitSpread(1, nil)
		if err != nil {
			t.Fatal(err)
		}
		return f.V.At(0, 0) + f.V.At(3, 3) - 2*f.V.At(0, 3)
	}
	last := 1.0
	for _, times := range []float64{1, 10, 100, 1000} {
		ratio := variance(10*times) / variance(times)
		if ratio >= last || ratio < 0.1 {
			t.Errorf("from %g to %g times: variance falls to %.4f", times, 10*times, ratio)
		}
		last = ratio
	}
	if last > 0.101 {
		t.Errorf("far out the variance falls to %.4f, not a tenth", last)
	}
}
