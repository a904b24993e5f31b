package fit

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// judgeFill applies the limits of gland fill: nominal, and hot in the worst case.
func (t trial) judgeFill(g faceRing, rests []catalog.Origin) result {
	most, _ := g.thicker(1).fill()
	least, _ := g.thicker(-1).fill()
	_, nominal := g.fill()
	hot, hotLeast := t.hot(most.hi, 0), t.hot(least.hi, 0)
	r := t.glandResult(g, rests)
	rise := t.show.delta(units.Kelvins(t.limits.of(warmRise)))
	r.Origin = cite(r.Origin, t.limits.cite(fillNominal, fillHotNo, rubberExpansion, housingExpansion)...)
	r.Steps = []string{
		fmt.Sprintf("fill = 0.7854 x section x section / (width x depth) = 0.7854 x %s x %s / (%s x %s) = %s %%",
			t.show.fine(g.section.nom()), t.show.fine(g.section.nom()), t.show.fine(g.width.nom()), t.show.fine(g.height.nom()), pct(nominal)),
		fmt.Sprintf("most: 0.7854 x %s x %s / (%s x %s) = %s %%", t.show.fine(g.thicker(1).section.hi), t.show.fine(g.thicker(1).section.hi),
			t.show.fine(g.thicker(1).width.lo), t.show.fine(g.thicker(1).height.lo), pct(most.hi)),
		fmt.Sprintf("hot (%s warmer): %s x %.4f = %s %%", rise, pct(most.hi), t.hot(1, 0), pct(hot)),
		fmt.Sprintf("hot and swollen by %s %%: %s %%", trimmed(t.limits.of(swellShare)), pct(t.hot(most.hi, t.limits.of(swellShare)))),
	}
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
