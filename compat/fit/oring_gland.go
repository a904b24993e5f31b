package fit

import (
	"fitfill/catalog"
	"fitfill/compat"
)

const glandCheck = "O-ring in its groove"

// ringGroove computes an O-ring in the face groove of the engine's housing:
// squeeze between the worst cases and statistically, gland fill cold and hot,
// and how the ring lies between the groove's walls. It is a failure where every
// size that the printed digits allow fails, a caution where only some do. A
// groove whose width is not on file is computed as far as it goes and proves
// nothing.
func (t trial) ringGroove() []result {
	e := &t.q.Engine
	if k := partSealKind(t.c.Part); k != "" && k != oRing {
		return nil
	}
	if !e.GrooveDepth.Known {
		if e.GrooveWidth.Known || e.GrooveOuterDiameter.Known {
			return []result{unchecked(glandCheck, "groove depth of the engine", "The depth of the groove is not on file.")}
		}
		return nil
	}
	ring, rests, missing, why := t.ringOf(t.c.Part)
	if missing != "" {
		return []result{unchecked(glandCheck, missing, sentence(why+"the ring cannot be put into its groove without the "+missing))}
	}
	g := t.faceGland(ring)
	out := []result{t.judgeSqueeze(g, rests)}
	if !e.GrooveWidth.Known {
		out[0].demote()
		return append(out, unchecked(glandCheck, "groove width of the engine", "The width of the groove is not on file: how full the ring makes it cannot be told."))
	}
	out = append(out, t.judgeFill(g, rests))
	if e.GrooveOuterDiameter.Known {
		out = append(out, t.judgeRim(g, rests))
	}
	return out
}

// demote makes a size that agrees a mere note: too little is known to count it.
func (r *result) demote() {
	if r.role == agrees {
		r.role = note
	}
}

// faceRing is a ring in a face groove, with the part of every size that comes
// from the last printed digit kept apart.
type faceRing struct {
	Ring
	gland
	sectionDigit, innerDigit, depthDigit, widthDigit float64
	outer                                            span // groove's outer wall
}

func (t trial) faceGland(ring Ring) faceRing {
	e, p := &t.q.Engine, t.c.Part
	depth := t.printed(e.GrooveDepth)
	g := faceRing{Ring: ring, gland: gland{inner: ring.innerSpan(), section: ring.sectionSpan(), height: depth.tolerance}, depthDigit: depth.digit}
	if ring.Series == "stated" && p.Section.Known && p.Section.Value == ring.Section {
		g.sectionDigit, g.innerDigit = t.printed(p.Section).digit, t.printed(p.InnerDiameter).digit
	}
	if e.GrooveWidth.Known {
		width := t.printed(e.GrooveWidth)
		g.width, g.widthDigit = width.tolerance, width.digit
	}
	if e.GrooveOuterDiameter.Known {
		g.outer = t.printed(e.GrooveOuterDiameter).span()
	}
	return g
}

// thicker returns the gland with every printed digit resolved to one side: f is
// +1 for the thickest ring in the smallest groove, −1 for the opposite.
func (g faceRing) thicker(f float64) gland {
	h := g.gland
	h.section = h.section.shift(f * g.sectionDigit)
	h.height = h.height.shift(-f * g.depthDigit)
	h.width = h.width.shift(-f * g.widthDigit)
	return h
}

func (t trial) glandResult(g faceRing, rests []catalog.Origin, more ...compat.Evidence) result {
	e := &t.q.Engine
	facts := append([]catalog.Origin{e.GrooveDepth.Origin}, rests...)
	if e.GrooveWidth.Known {
		facts = append(facts, e.GrooveWidth.Origin)
	}
	if e.GrooveOuterDiameter.Known {
		facts = append(facts, e.GrooveOuterDiameter.Origin)
	}
	return result{role: agrees, check: "ring size", sure: t.ringFirmly(g.Ring, rests), own: garage(e.GrooveDepth.Origin, e.GrooveWidth.Origin, e.GrooveOuterDiameter.Origin), Finding: compat.Finding{
		Check: glandCheck, Outcome: compat.Yes, Grade: compat.Measured,
		Origin: cite(cite(from(facts...), g.Origin...), append(t.limits.cite(squeezeNoMin), more...)...),
	}}
}

// fail makes the result a size that cannot work.
func (r *result) fail(says string) {
	r.role, r.Outcome, r.Says = fails, compat.No, says
	r.ask, r.flag = "Measure the ring: section and inner diameter.", sizeFlag("ring section")
}

// doubt makes the result a size that works with a reservation.
func (r *result) doubt(says, short, ask string) {
	r.role, r.Outcome, r.Says, r.short, r.ask = doubt, compat.Caution, says, short, ask
}
