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
	f := t.show.fine
	r.Steps = []string{
		fmt.Sprintf("ring across = inner + 2 x section = %s + 2 x %s = %s", f(inner.nom()), f(g.section.nom()), f(ring.nom())),
		fmt.Sprintf("pressed together by the outer wall of %s: (%s - %s)/%s = %s %%, from %s", f(g.outer.nom()), f(ring.nom()), f(g.outer.nom()), f(ring.nom()), pct(pressed.nom()), pctSpan(pressed)),
		fmt.Sprintf("inner wall = outer wall - 2 x width = %s - 2 x %s = %s", f(g.outer.nom()), f(g.width.nom()), f(wall.nom())),
		fmt.Sprintf("stretch over it = (wall - inner)/inner = (%s - %s)/%s = %s %%, from %s; below nought it is free", f(wall.nom()), f(inner.nom()), f(inner.nom()), pct(over.nom()), pctSpan(over)),
		fmt.Sprintf("limits: pressed together %s %% or stretched %s %% with care, no above %s %%; slack up to %s %%", trimmed(t.limits.of(rimCompression)), trimmed(t.limits.of(stretchDoubt)), trimmed(t.limits.of(stretchNo)), trimmed(-t.limits.of(stretchSlack))),
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
