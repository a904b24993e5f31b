package app

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"fitfill/catalog/sqlite"
)

func TestSupersessionChainsAndLoops(t *testing.T) {
	for name, tc := range map[string]struct {
		refs         []supersession
		whole, loops []string
	}{
		"a chain":         {[]supersession{{"A-1", "A-2"}, {"A2", "A-3"}}, []string{"A-1 -> A2 -> A-3"}, nil},
		"a branch":        {[]supersession{{"A", "B"}, {"A", "C"}}, []string{"A -> B", "A -> C"}, nil},
		"a loop":          {[]supersession{{"A", "B"}, {"B", "C"}, {"C", "A"}}, nil, []string{"A -> B -> C -> A"}},
		"a tail and loop": {[]supersession{{"X", "A"}, {"A", "B"}, {"B", "A"}}, nil, []string{"A -> B -> A"}},
		"itself":          {[]supersession{{"A", "a"}}, nil, []string{"a -> a"}},
		"said twice":      {[]supersession{{"A", "B"}, {"a", "b"}}, []string{"a -> b"}, nil},
		"nothing":         {nil, nil, nil},
	} {
		t.Run(name, func(t *testing.T) {
			whole, loops := chains(tc.refs)
			if diff := cmp.Diff([2][]string{tc.whole, tc.loops}, [2][]string{whole, loops}); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestPriceMoves(t *testing.T) {
	moves := []sqlite.PriceMove{
		{Number: "A", Old: 100_000, New: 1_000_000, Line: 2}, {Number: "B", Old: 50_000, New: 500_000, Line: 3},
		{Number: "C", Old: 10_000, New: 9_000, Line: 4}, {Number: "D", Old: 0, New: 10_000, Line: 5},
	}
	p := priceReport(moves)
	if p.Parts != 3 || p.Median != 10 || len(p.Up) != 2 || p.Down[0] != "C: 1.00 to 0.90 (line 4)" {
		t.Errorf("%+v", p)
	}
	if priceReport(nil) != nil {
		t.Error("no prices gave a report")
	}
}
