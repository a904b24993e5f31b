package fit

import (
	"fmt"

	"fitfill/catalog"
)

// judgeFill applies the limits of gland fill: nominal, and hot in the worst case.
func (t trial) judgeFill(g faceRing, rests []catalog.Origin) result {
	most, _ := g.thicker(1).fill()
	least, _ := g.thicker(-1).fill()
	_, nominal := g.fill()
	hot, hotLeast := t.hot(most.hi, 0), t.hot(least.hi, 0)
	r := t.glandResult(g, rests)
	r.Origin = cite(r.Origin, t.limits.cite(fillNominal, fillHotNo, rubberExpansion, housingExpansion, swellShare)...)
	r.Steps = t.fillSteps(g, nominal, most.hi)
	r.short = fmt.Sprintf("ring overfills its groove, %s %% hot", pct(hot))
	what := fmt.Sprintf("The ring fills %s %% of its groove, hot at most %s %%", pct(nominal), pct(hot))
	switch {
	case hotLeast > t.limits.of(fillHotNo):
		r.fail(what + ": it has nowhere to go.")
	case hot > t.limits.of(fillHotDoubt) || nominal > t.limits.of(fillNominal):
		r.doubt(what+": full.", "check the groove's width", "Measure the width of the groove.")
	default:
		r.Says = what + "."
	}
	return r
}
