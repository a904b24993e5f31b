package returns

import (
	"fmt"
	"math"
)

// Compare scores suppliers 0 … suppliers − 1 on the same part types at the same
// age. Relative rate, probabilities and ranks come from the normal frailty of
// FitSpread averaged over the grid of spreads; Second is the model-free look
// beside it. Fewer quality failures than the setting, or fewer than two
// suppliers under watch: nobody is ranked, every word is NotTold, and Why says
// why; relative rates with their limits are still given where there are two.
// The order of units changes nothing.
func Compare(units []Unit, suppliers int, set Settings) (Comparison, error) {
	return compareInOrder(sorted(units), suppliers, set)
}

// compareInOrder is Compare of units that stand in order.
func compareInOrder(units []Unit, suppliers int, set Settings) (Comparison, error) {
	c := Comparison{Standings: make([]Standing, suppliers), DesignEffect: designEffect(units, suppliers, set.ScoreHorizon)}
	column := make([]int, suppliers)
	for s := range c.Standings {
		c.Standings[s] = Standing{Supplier: s, Word: NotTold, WordNarrow: NotTold, WordWide: NotTold, WorseThanRest: 0.5}
		column[s] = -1
	}
	for s, own := range bySupplier(units, suppliers) {
		for i := 0; i < len(own) && !c.Standings[s].Compared; i++ {
			c.Standings[s].Compared = own[i].seen()
		}
	}
	for s := range c.Standings {
		if c.Standings[s].Compared {
			column[s] = len(c.Compared)
			c.Compared = append(c.Compared, s)
		}
	}
	c.units = units
	if len(c.Compared) < suppliers {
		var kept []Unit
		for _, u := range c.units {
			if column[u.Supplier] >= 0 {
				u.Supplier = column[u.Supplier]
				kept = append(kept, u)
			}
		}
		c.units = kept
	}
	c.Table = RiskTable(c.units, len(c.Compared), set.ScoreHorizon)
	c.expect(set)
	switch {
	case len(c.Compared) < 2:
		c.Why = "parts of fewer than two suppliers are under watch: there is nobody to compare with"
		return c, nil
	case c.Failures < set.MinFailures:
		noun := "failures"
		if c.Failures == 1 {
			noun = "failure"
		}
		c.Why = fmt.Sprintf("%g quality %s in all: a ranking needs at least %g", c.Failures, noun, set.MinFailures)
	default:
		c.Ranked = true
	}
	return c, c.model(set)
}

// expect fills in observed against expected and the second look.
func (c *Comparison) expect(set Settings) {
	design := 1.0
	if c.DesignEffect > set.DesignEffectFrom {
		design, c.Divided = c.DesignEffect, true
	}
	c.design = design
	e := c.Table.Expect()
	c.Global = c.Table.Divided(design).Expect().Test()
	for _, o := range e.Observed {
		c.Failures += o
	}
	p := make([]float64, len(c.Compared))
	for i, s := range c.Compared {
		st := &c.Standings[s]
		st.Observed, st.Expected = e.Observed[i], e.Expected[i]
		if st.Expected > 0 {
			g := Garwood(st.Observed/design, set.Confidence)
			scale := design / st.Expected
			st.Ratio = &Interval{st.Observed / st.Expected, g.Low * scale, g.High * scale}
		}
		p[i] = WorseThanShare(st.Observed/design, st.Expected/design, c.Failures/design)
	}
	for i, q := range FalseDiscovery(p) {
		c.Standings[c.Compared[i]].Second = SecondLook{P: p[i], Q: q, Flag: c.Ranked && q <= set.FalseDiscovery}
	}
}

// model fills in what the frailty says.
func (c *Comparison) model(set Settings) error {
	table := c.Table
	if c.Divided {
		table = table.Divided(c.DesignEffect)
	}
	fits, err := table.FitGrid(set.TauStep, set.TauMax)
	if err != nil {
		return err
	}
	wide, err := table.FitSpread(set.CommonGroundTau, nil)
	if err != nil {
		return err
	}
	post, narrow, broad := Believe(fits, set.Spread), Believe(fits, set.SpreadLow), Believe(fits, set.SpreadHigh)
	c.Posterior = post
	k := len(c.Compared)
	tail := (1 - set.Confidence) / 2
	lasted := c.watchedPast(set.BetterAfter)
	for i, s := range c.Compared {
		st := &c.Standings[s]
		st.TooNew = lasted[i] < set.FewWatched
		rr := post.Contrast(againstAll(i, k))
		st.Relative = &Interval{math.Exp(rr.Quantile(0.5)), math.Exp(rr.Quantile(tail)), math.Exp(rr.Quantile(1 - tail))}
		rest := againstRest(i, k)
		st.WorseThanRest = post.Contrast(rest).Positive()
		st.CommonGround = wide.commonGround(rest)
		if !c.Ranked {
			continue
		}
		if st.CommonGround < set.MinCommonGround {
			st.Word, st.WordNarrow, st.WordWide = NotComparable, NotComparable, NotComparable
			continue
		}
		st.Word = st.call(st.WorseThanRest, set)
		st.WordNarrow = st.call(narrow.Contrast(rest).Positive(), set)
		st.WordWide = st.call(broad.Contrast(rest).Positive(), set)
		st.DependsOnSpread = st.WordNarrow != st.Word || st.WordWide != st.Word
	}
	c.pair(post, wide, set)
	return nil
}

// call words the probability; a supplier whose pieces were not watched long
// enough is never called better.
func (s Standing) call(p float64, set Settings) Word {
	w := set.Call(p)
	if s.TooNew && (w == Better || w == LeaningBetter) {
		return NotTold
	}
	return w
}

// watchedPast returns how many pieces of each column were watched past day.
func (c *Comparison) watchedPast(day int) []float64 {
	n := make([]float64, len(c.Compared))
	for s, own := range bySupplier(c.units, len(c.Compared)) {
		n[s] = StillWatched(own, day)
	}
	return n
}

// pair compares every two suppliers and, from that, ranks and groups them.
func (c *Comparison) pair(post Posterior, wide Fit, set Settings) {
	k := len(c.Compared)
	rank, worse := make([]float64, k), make([][]float64, k)
	for i := range worse {
		rank[i], worse[i] = 1, make([]float64, k)
	}
	for a := range k {
		for b := a + 1; b < k; b++ {
			contrast := pairwise(a, b, k)
			p := post.Contrast(contrast).Positive()
			ground := wide.commonGround(contrast)
			c.Pairs = append(c.Pairs, Pair{c.Compared[a], c.Compared[b], p, ground, ground >= set.MinCommonGround})
			worse[a][b], worse[b][a] = p, 1-p
			rank[a] += p
			rank[b] += 1 - p
		}
	}
	if !c.Ranked {
		return
	}
	letters := Letters(rank, func(a, b int) float64 { return worse[a][b] }, set.CallAt)
	for i, s := range c.Compared {
		c.Standings[s].ExpectedRank, c.Standings[s].Group = rank[i], letters[i]
	}
}
