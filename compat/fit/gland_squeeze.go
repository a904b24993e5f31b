package fit

import (
	"fmt"

	"fitfill/catalog"
)

// judgeSqueeze applies the squeeze limits of a face groove.
func (t trial) judgeSqueeze(g faceRing, rests []catalog.Origin) result {
	thick, thin, mid := t.squeeze(g.thicker(1)), t.squeeze(g.thicker(-1)), t.squeeze(g.gland)
	q := span{thin.squeeze.lo, thick.squeeze.hi}
	b, pub := t.band(g.section.nom(), true), t.groove(g.section.nom())
	noMin, noMax := t.limits.of(squeezeNoMin), t.limits.of(squeezeNoMax)
	h := g.height.nom()
	set := t.limits.of(setTypical)
	back, _, left := afterSet(g.section.nom(), h, set)
	r := t.glandResult(g, rests, b.origin, pub.origin)
	r.Steps = []string{
		fmt.Sprintf("ring %s: %s", g.Name, g.size(t.show)),
		fmt.Sprintf("squeeze = (section - depth)/section = (%s - %s)/%s = %s %%", t.show.fine(g.section.nom()), t.show.fine(h), t.show.fine(g.section.nom()), pct(mid.nominal)),
		fmt.Sprintf("least: (%s - %s)/%s = %s %%", t.show.fine(g.thicker(-1).section.lo), t.show.fine(g.thicker(-1).height.hi), t.show.fine(g.thicker(-1).section.lo), pct(q.lo)),
		fmt.Sprintf("most: (%s - %s)/%s = %s %%", t.show.fine(g.thicker(1).section.hi), t.show.fine(g.thicker(1).height.lo), t.show.fine(g.thicker(1).section.hi), pct(q.hi)),
		fmt.Sprintf("statistically %s to %s %%", pct(mid.nominal-mid.rss), pct(mid.nominal+mid.rss)),
		fmt.Sprintf("published for a section of %s: %s to %s %%", t.show.mm(b.section), trimmed(b.squeeze.lo), trimmed(b.squeeze.hi)),
		fmt.Sprintf("published face groove for a section of %s: %s deep, %s wide", t.show.mm(pub.section), t.show.mm(pub.depth), t.show.mm(pub.width)),
		fmt.Sprintf("after a compression set of %s %% the ring springs back to %s and keeps %s %% squeeze", trimmed(set), t.show.mm(back), pct(left)),
	}
	r.short = fmt.Sprintf("section %s, groove %s", t.show.length(g.Section), t.show.mm(h))
	what := fmt.Sprintf("Section %s in a groove %s deep is squeezed by %s (middle %s %%)", t.show.length(g.Section), t.show.mm(h), pctSpan(q), pct(mid.nominal))
	switch {
	case thick.squeeze.lo < noMin:
		r.fail(what + ": too little, it leaks.")
	case thin.squeeze.hi > noMax:
		r.fail(what + ": too much, the housing does not close.")
	case q.lo < t.limits.of(squeezeLowAxial):
		r.doubt(what+": little, it may weep.", "check the ring's section", "Measure the section of the ring and the depth of the groove.")
	case q.hi > t.limits.of(squeezeHigh):
		r.doubt(what+": much.", "check the ring's section", "Measure the section of the ring and the depth of the groove.")
	default:
		r.Says = what + "."
	}
	return r
}
