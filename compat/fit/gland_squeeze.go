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
	r := t.glandResult(g, rests, append(append(t.limits.cite(squeezeLowAxial, setTypical), b.origin), pub.origin)...)
	r.Steps = t.squeezeSteps(g, q, mid.nominal)
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
