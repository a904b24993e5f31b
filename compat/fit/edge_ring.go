package fit

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

const (
	seatCheck  = "flange and seat"
	crushCheck = "edge ring"
)

// flangeSeat compares the thickness of the flange with the depth of its seat.
// A flange that stands proud holds the housing open where an O-ring or an edge
// ring seals, and has to be swallowed by a flat gasket.
func (t trial) flangeSeat() []result {
	thick, seat := t.c.Part.FlangeThickness, t.q.Engine.SeatDepth
	switch {
	case !seat.Known:
		return []result{unchecked(seatCheck, "seat depth of the engine", "The depth of the flange's seat is not on file.")}
	case !thick.Known:
		return []result{unchecked(seatCheck, "flange thickness of the part", "The sheet states no flange thickness; the seat is "+t.show.length(seat.Value)+" deep.")}
	}
	f, d := t.printed(thick).span(), t.printed(seat).span()
	proud := f.minus(d)
	r := result{role: agrees, check: "flange thickness", own: garage(seat.Origin), sure: t.firmly(func(p *catalog.Part) catalog.Stated[units.Length] { return p.FlangeThickness }), Finding: compat.Finding{
		Check: seatCheck, Outcome: compat.Yes, Grade: compat.Measured, Origin: from(thick.Origin, seat.Origin),
		Steps: []string{
			fmt.Sprintf("flange %s to %s, seat %s to %s %s, as printed", t.show.fine(f.lo), t.show.fine(f.hi), t.show.fine(d.lo), t.show.fine(d.hi), t.show.lengthUnit()),
			fmt.Sprintf("stands proud at least %s - %s = %s %s", t.show.fine(f.lo), t.show.fine(d.hi), t.show.fine(proud.lo), t.show.lengthUnit()),
			fmt.Sprintf("stands proud at most %s - %s = %s %s", t.show.fine(f.hi), t.show.fine(d.lo), t.show.fine(proud.hi), t.show.lengthUnit()),
		},
	}}
	kind := sealKind(t.q.Engine.SealForm.Value)
	has, deep := t.show.length(thick.Value), t.show.length(seat.Value)
	switch {
	case proud.lo > 0 && (kind == oRing || kind == moulded):
		r.role, r.Outcome = fails, compat.No
		r.Says = fmt.Sprintf("Flange %s thick stands %s proud of its seat of %s: the housing does not close on its %s.", has, t.show.between(proud), deep, kind)
		r.short, r.ask, r.flag = fmt.Sprintf("flange %s, seat %s deep", has, deep), "Measure the thickness of the flange.", sizeFlag("flange thickness")
	case proud.lo > 0:
		r.role, r.Outcome = doubt, compat.Caution
		r.Says = fmt.Sprintf("Flange %s thick stands %s proud of its seat of %s: the gasket has to swallow it.", has, t.show.between(proud), deep)
		r.short, r.ask = "check the flange thickness", "Compare the thickness of the flange and the gasket with the old ones."
	case proud.hi > 0:
		r.Says = fmt.Sprintf("Flange %s thick in a seat of %s: flush, as far as the printed digits tell.", has, deep)
	default:
		r.Says = fmt.Sprintf("Flange %s thick lies %s below the face of its seat of %s.", has, t.show.between(proud.times(-1).ordered()), deep)
	}
	return []result{r}
}

// ordered returns the span with its ends in order.
func (s span) ordered() span { return span{min(s.lo, s.hi), max(s.lo, s.hi)} }

// edgeRing computes how far an edge ring is crushed when the housing closes:
// (free height − recess)/free height.
func (t trial) edgeRing() []result {
	p, seat := t.c.Part, t.q.Engine.SeatDepth
	if partSealKind(p) != moulded {
		return nil
	}
	switch {
	case !seat.Known:
		return []result{unchecked(crushCheck, "seat depth of the engine", "The depth of the seal's recess is not on file.")}
	case !p.Thickness.Known:
		return []result{unchecked(crushCheck, "thickness of the seal", "The sheet states no free height of the ring; the recess is "+t.show.length(seat.Value)+" deep.")}
	}
	free, recess := t.printed(p.Thickness).span(), t.printed(seat).span()
	c, nominal, half := crush(free, recess)
	low, high := t.limits.of(crushLow), t.limits.of(crushHigh)
	r := result{role: agrees, check: "height of the ring", own: garage(seat.Origin), sure: t.firmly(func(p *catalog.Part) catalog.Stated[units.Length] { return p.Thickness }), Finding: compat.Finding{
		Check: crushCheck, Outcome: compat.Yes, Grade: compat.Measured,
		Origin: cite(from(p.Thickness.Origin, seat.Origin), t.limits.cite(crushLow, crushHigh, crushNoMax)...),
		Steps: []string{
			fmt.Sprintf("crush = (free height - recess)/free height = (%s - %s)/%s = %s %%", t.show.fine(free.nom()), t.show.fine(recess.nom()), t.show.fine(free.nom()), pct(nominal)),
			fmt.Sprintf("least: (%s - %s)/%s = %s %%", t.show.fine(free.lo), t.show.fine(recess.hi), t.show.fine(free.lo), pct(c.lo)),
			fmt.Sprintf("most: (%s - %s)/%s = %s %%", t.show.fine(free.hi), t.show.fine(recess.lo), t.show.fine(free.hi), pct(c.hi)),
			t.crushStep(free, recess, half),
			fmt.Sprintf("limits of the crush: right from %s to %s %%, no at nought or above %s %%", trimmed(low), trimmed(high), trimmed(t.limits.of(crushNoMax))),
		},
	}}
	has, deep := t.show.length(p.Thickness.Value), t.show.length(seat.Value)
	switch {
	case c.hi <= 0 || c.lo > t.limits.of(crushNoMax):
		r.role, r.Outcome = fails, compat.No
		r.Says = fmt.Sprintf("Ring %s high in a recess of %s: crushed by %s; it wants %s to %s %%.", has, deep, pctSpan(c), trimmed(low), trimmed(high))
		r.short, r.ask, r.flag = fmt.Sprintf("ring %s, recess %s", has, deep), "Measure the free height of the ring.", sizeFlag("ring height")
	case nominal < low || nominal > high:
		r.role, r.Outcome = doubt, compat.Caution
		r.Says = fmt.Sprintf("Ring %s high in a recess of %s: crushed by %s %%; it wants %s to %s %%.", has, deep, pct(nominal), trimmed(low), trimmed(high))
		r.short, r.ask = "check the height of the ring", "Compare the height of the ring with the old one."
	default:
		r.Says = fmt.Sprintf("Ring %s high is crushed by %s %% in a recess of %s (%s to %s %% is right).", has, pct(nominal), deep, trimmed(low), trimmed(high))
	}
	return []result{r}
}
