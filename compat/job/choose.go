package job

import (
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Candidate is one part that could fill a role, with its verdict.
type Candidate struct {
	Part     *catalog.Part
	Outcome  compat.Outcome
	First    string
	Findings []compat.Finding
	Listed   bool // some list names it for the engine
	Pieces   int  // that its list says go into one engine; 0 where it does not say

	// Expected is what one fitted piece costs in the end, comebacks included;
	// not known where too few came back to say.
	Expected catalog.Stated[units.Money]
}

// Ground says what decided between candidates of one outcome.
type Ground string

// The grounds of a choice, the strongest first. Fit always comes before them.
const (
	ByTake     Ground = "as you asked"
	OnlyOne    Ground = "the only one that fits"
	OnlyDoubt  Ground = "the only one that could fit"
	ByExpected Ground = "cheapest in the end, comebacks counted"
	ByPrice    Ground = "cheapest; comebacks not counted"
	ByEvidence Ground = "best evidence"
)

// usable leaves the candidates that may be handed over, the best first, and
// says what decided between the best. Among those in doubt a part that a list
// names for the engine comes before one that could fit by its sizes alone,
// whatever either costs.
func usable(cands []Candidate) ([]Candidate, Ground) {
	var tiers [unusable][]Candidate
	for _, c := range cands {
		if t := tierOf(c); t != unusable {
			tiers[t] = append(tiers[t], c)
		}
	}
	out, ground := []Candidate(nil), ByEvidence
	for _, tier := range tiers {
		if len(tier) == 0 {
			continue
		}
		if len(out) == 0 {
			ground = groundOf(tier)
		}
		slices.SortStableFunc(tier, func(a, b Candidate) int { return byGround(ground, a, b) })
		out = append(out, tier...)
	}
	switch {
	case ground != OnlyOne || tierOf(out[0]) == certain:
	case len(out) == 1:
		ground = OnlyDoubt
	default:
		ground = ByEvidence
	}
	return out, ground
}

// The tiers of parts, the best first: a dear one of a better tier is taken
// before a cheap one of the next.
const (
	certain = iota
	listed  // and in doubt
	doubtful
	unusable
)

func tierOf(c Candidate) int {
	switch {
	case c.Outcome == compat.Yes:
		return certain
	case c.Outcome != compat.Caution:
		return unusable
	case c.Listed:
		return listed
	}
	return doubtful
}

// groundOf says what can decide between equals: what all cost in the end,
// else the price where it is in one currency.
func groundOf(group []Candidate) Ground {
	if len(group) == 1 {
		return OnlyOne
	}
	oneCurrency := func(of func(Candidate) catalog.Stated[units.Money], all bool) bool {
		currency, found := "", false
		for _, c := range group {
			m := of(c)
			switch {
			case !m.Known && all, m.Known && found && m.Value.Currency() != currency:
				return false
			case m.Known:
				currency, found = m.Value.Currency(), true
			}
		}
		return found
	}
	switch {
	case oneCurrency(expectedOf, true):
		return ByExpected
	case oneCurrency(priceOf, false):
		return ByPrice
	}
	return ByEvidence
}

func expectedOf(c Candidate) catalog.Stated[units.Money] { return c.Expected }

func priceOf(c Candidate) catalog.Stated[units.Money] { return c.Part.PriceEach() }

func byGround(g Ground, a, b Candidate) int {
	switch g {
	case ByExpected:
		return cheaper(expectedOf(a), expectedOf(b))
	case ByPrice:
		return cheaper(priceOf(a), priceOf(b))
	}
	return 0
}

// cheaper orders by amount; what has none comes last.
func cheaper(a, b catalog.Stated[units.Money]) int {
	switch {
	case a.Known && !b.Known:
		return -1
	case !a.Known && b.Known:
		return 1
	case !a.Known || a.Value.Currency() != b.Value.Currency():
		return 0
	case a.Value.TenThousandths() < b.Value.TenThousandths():
		return -1
	case a.Value.TenThousandths() > b.Value.TenThousandths():
		return 1
	}
	return 0
}
