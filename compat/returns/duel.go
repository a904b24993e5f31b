package returns

import "math"

// Duel sets the parts of one type of two suppliers against each other in money.
type Duel struct {
	Cheap, Dear         int      // suppliers
	CheapCost, DearCost Interval // expected cost of a fitted piece, comebacks included
	CheapBack, DearBack Interval // share 0..1 that fails within the days asked for
	Saves               float64  // price of the dear one less that of the cheap one
	PerFailure          float64  // what a failure of the cheap one costs
	// Allowed is how many more pieces of the cheap one may fail before the saving
	// is gone, as a share of pieces: Saves/PerFailure.
	Allowed float64
	More    Interval // failures of the cheap one less those of the dear one, share −1..1, as the books allow
	// Level is how much dearer the dear one may be before it costs more overall.
	Level       BreakEven
	DearCheaper float64 // probability that the dear one costs less overall
	CheapFailed float64 // quality failures of this type
	DearFailed  float64
	Comparable  bool    // both sold a part type of which one failed
	CheapWorse  float64 // probability that the cheap one's parts fail more often; not to be shown unless Comparable
	Word        DuelWord
}

// EvenCost returns what a failure may cost before the saving is gone:
// Saves/More, its limits those of More the other way round. It is infinite where
// the cheap one fails no more often: then it pays whatever a failure costs. That
// at which both cost the same needs no price of a failure to be known.
func (d Duel) EvenCost() Interval {
	even := func(more float64) float64 {
		if more <= 0 {
			return math.Inf(1)
		}
		return d.Saves / more
	}
	return Interval{even(d.More.Est), even(d.More.High), even(d.More.Low)}
}

// DuelWord is the verdict on a cheaper part.
type DuelWord string

// The words.
const (
	CostsMore    DuelWord = "costs more in the end"
	LeansMore    DuelWord = "leaning: costs more in the end"
	Pays         DuelWord = "pays"
	LeansPays    DuelWord = "leaning: pays"
	AboutLevel   DuelWord = "about level"
	TooFewToTell DuelWord = "too few to tell"
)

// Duel compares two suppliers' parts of one type within day days, at the prices
// given. The verdict comes from the probability that the dear one is cheaper
// overall, by the same thresholds as every other word: AboutLevel between them,
// and TooFewToTell where there is no ranking, no common part type, or where
// either supplier would usually have lost less than one piece of the type. It is false where Hazard
// cannot say or a supplier is not compared.
func (c Comparison) Duel(a, b, partType, day int, costA, costB PartCost, set Settings) (Duel, bool) {
	if costA.Price > costB.Price {
		a, b, costA, costB = b, a, costB, costA
	}
	colA, colB := c.columnOf(a), c.columnOf(b)
	h, ok := c.Hazard(partType, day)
	if !ok || colA < 0 || colB < 0 {
		return Duel{}, false
	}
	d := Duel{Cheap: a, Dear: b, Saves: costB.Price - costA.Price, PerFailure: costA.PerFailure, Allowed: math.Inf(1), Word: TooFewToTell}
	if costA.PerFailure > 0 {
		d.Allowed = d.Saves / costA.PerFailure
	}
	d.CheapCost, _ = c.CostPerPart(a, partType, day, costA, set.Confidence)
	d.DearCost, _ = c.CostPerPart(b, partType, day, costB, set.Confidence)
	d.CheapBack, _ = c.CostPerPart(a, partType, day, PartCost{PerFailure: 1}, set.Confidence)
	d.DearBack, _ = c.CostPerPart(b, partType, day, PartCost{PerFailure: 1}, set.Confidence)
	d.Level = BreakEvenGap(c.Posterior, colB, colA, h, costB, costA, set.Confidence)
	d.DearCheaper = d.Level.ACheaper
	d.More = BreakEvenGap(c.Posterior, colB, colA, h, PartCost{PerFailure: 1}, PartCost{PerFailure: 1}, set.Confidence).Gap
	var usualA, usualB float64
	d.CheapFailed, usualA = c.Table.ByType(colA, partType)
	d.DearFailed, usualB = c.Table.ByType(colB, partType)
	for _, p := range c.Pairs {
		if p.A == min(a, b) && p.B == max(a, b) {
			d.Comparable, d.CheapWorse = p.Comparable, p.AWorse
			if p.A == d.Dear {
				d.CheapWorse = 1 - p.AWorse
			}
		}
	}
	if c.Ranked && d.Comparable && min(usualA, usualB) >= 1 {
		d.Word = AboutLevel
		switch set.Call(d.DearCheaper) {
		case Worse:
			d.Word = CostsMore
		case LeaningWorse:
			d.Word = LeansMore
		case Better:
			d.Word = Pays
		case LeaningBetter:
			d.Word = LeansPays
		}
	}
	return d, true
}
