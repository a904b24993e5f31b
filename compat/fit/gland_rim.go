package fit

import (
	"fmt"

	"fitfill/catalog"
)

// judgeRim compares the ring with the groove's walls: pressed together along
// the outer wall, stretched over the inner one, or slack. Coolant pressure from
// inside puts the ring against the outer wall.
func (t trial) judgeRim(g faceRing, rests []catalog.Origin) result {
	inner := g.inner.widen(g.innerDigit)
	ring := inner.plus(g.section.widen(g.sectionDigit).times(2))
	pressed := span{100 * (ring.lo - g.outer.hi) / ring.lo, 100 * (ring.hi - g.outer.lo) / ring.hi}
	wall := g.outer.minus(g.width.widen(g.widthDigit).times(2))
	over := span{stretch(wall.lo, inner.hi), stretch(wall.hi, inner.lo)}
	r := t.glandResult(g, rests)
	r.Origin = cite(r.Origin, t.limits.cite(rimCompression, stretchDoubt, stretchNo, stretchSlack)...)
	r.Steps = []string{
		fmt.Sprintf("outside of the ring: %s + 2 x %s = %s; outer wall %s: pressed together by %s %%", t.show.fine(inner.nom()), t.show.fine(g.section.nom()), t.show.fine(ring.nom()), t.show.fine(g.outer.nom()), pct(pressed.nom())),
		fmt.Sprintf("inner wall: %s - 2 x %s = %s; stretched by %s %%", t.show.fine(g.outer.nom()), t.show.fine(g.width.nom()), t.show.fine(wall.nom()), pct(over.nom())),
	}
	r.short = fmt.Sprintf("ring %s across, groove %s", t.show.mm(ring.nom()), t.show.mm(g.outer.nom()))
	what := fmt.Sprintf("Ring %s across in a groove of %s", t.show.mm(ring.nom()), t.show.mm(g.outer.nom()))
	const ask = "Lay the ring into the groove: does it lie flat?"
	switch {
	case pressed.lo > t.limits.of(stretchNo):
		r.fail(what + ": too large, it does not lie in the groove.")
	case over.lo > t.limits.of(stretchNo):
		r.fail(fmt.Sprintf("%s: stretched by %s over the inner wall, too much.", what, pctSpan(over)))
	case pressed.nom() > t.limits.of(rimCompression), over.nom() > t.limits.of(stretchDoubt), pressed.nom() < t.limits.of(stretchSlack):
		r.doubt(what+": not the size of the groove.", "check the ring's diameter", ask)
	default:
		r.Says = what + ": lies as it should."
	}
	return r
}
