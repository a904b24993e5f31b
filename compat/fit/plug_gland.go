package fit

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

const plugCheck = "O-ring on its plug"

// ringPlug computes an O-ring that lies in a groove around a plug or neck and
// seals against the bore that it goes into: stretch over the groove, the
// section that the stretch takes, squeeze between the worst cases and off
// centre, and gland fill where the groove's width is on file. It is a failure
// where every size that the printed digits allow fails.
func (t trial) ringPlug() []result {
	e := &t.q.Engine
	if k := partSealKind(t.c.Part); k != "" && k != oRing || !e.PlugGroove.Known && !e.PlugBore.Known {
		return nil
	}
	switch {
	case !e.PlugGroove.Known:
		return []result{unchecked(plugCheck, "groove diameter of the plug", "The diameter of the groove around the plug is not on file.")}
	case !e.PlugBore.Known:
		return []result{unchecked(plugCheck, "bore for the plug", "The bore that the plug goes into is not on file.")}
	}
	ring, rests, missing, why := t.ringOf(t.c.Part)
	if missing != "" {
		return []result{unchecked(plugCheck, missing, sentence(why+"the ring cannot be put on its plug without the "+missing))}
	}
	f := t.faceGland(ring) // for the printed digits of the ring
	groove, bore := t.printed(e.PlugGroove), t.printed(e.PlugBore)
	at := func(way float64) gland { // +1: every digit to the side that squeezes most
		return plugGland(f.inner.shift(-way*f.innerDigit), f.section.shift(way*f.sectionDigit), groove.tolerance.shift(way*groove.digit), bore.tolerance.shift(-way*bore.digit))
	}
	r := result{role: agrees, check: "ring size", sure: t.ringFirmly(ring, rests), own: garage(e.PlugGroove.Origin, e.PlugBore.Origin), Finding: compat.Finding{
		Check: plugCheck, Outcome: compat.Yes, Grade: compat.Measured,
		Origin: cite(cite(from(append([]catalog.Origin{e.PlugGroove.Origin, e.PlugBore.Origin, e.PlugDiameter.Origin}, rests...)...), ring.Origin...),
			append(t.limits.cite(squeezeNoMin, stretchDoubt), t.thinning.origin...)...),
	}}
	t.judgePlug(&r, f, at(1), at(-1))
	out := []result{r}
	if e.GrooveWidth.Known {
		g := at(0)
		f.gland.height, f.depthDigit = g.height, (groove.digit+bore.digit)/2
		out = append(out, t.judgeFill(f, rests))
	}
	return out
}

func (t trial) judgePlug(r *result, f faceRing, thick, thin gland) {
	most, least := t.squeeze(thick), t.squeeze(thin)
	mid := plugGland(f.inner, f.section, exactly((thick.over.nom()+thin.over.nom())/2), exactly((thick.bore.nom()+thin.bore.nom())/2))
	m := t.squeeze(mid)
	q, s := span{least.squeeze.lo, most.squeeze.hi}, span{least.stretch.lo, most.stretch.hi}
	r.Steps = t.plugSteps(f, thick, thin, mid, q, s)
	what := fmt.Sprintf("Ring %s on a groove of %s in a bore of %s: stretched by %s, squeezed by %s (middle %s %%)",
		f.size(t.show), t.show.mm(mid.over.nom()), t.show.mm(mid.bore.nom()), pctSpan(s), pctSpan(q), pct(m.nominal))
	r.short = fmt.Sprintf("ring %s on a groove of %s", t.show.length(f.Inner), t.show.mm(mid.over.nom()))
	const ask = "Measure the ring, the groove of the plug and the bore."
	switch {
	case most.squeeze.lo < t.limits.of(squeezeNoMin):
		r.fail(what + ": too little, it leaks.")
	case least.squeeze.hi > t.limits.of(squeezeNoMax):
		r.fail(what + ": too much, it does not go in.")
	case most.stretch.lo > t.limits.of(stretchNo):
		r.fail(what + ": stretched too far.")
	case q.lo < t.limits.of(squeezeLowRadial):
		r.doubt(what+": little, it may weep.", "check the ring's section", ask)
	case q.hi > t.limits.of(squeezeHigh):
		r.doubt(what+": much.", "check the ring's section", ask)
	case s.hi > t.limits.of(stretchDoubt), s.hi < t.limits.of(stretchSlack):
		r.doubt(what+": not the size of the groove.", "check the ring's diameter", ask)
	default:
		r.Says = what + "."
	}
	t.offCentre(r, thick, thin)
}

// offCentre says what is left of the squeeze where the plug lies to one side of
// its bore: the radial play (bore - plug)/2 deepens the gland there.
func (t trial) offCentre(r *result, thick, thin gland) {
	plug := t.q.Engine.PlugDiameter
	if !plug.Known || r.role == fails {
		return
	}
	p := t.printed(plug).span()
	thin.play = span{0, (thin.bore.hi - p.lo) / 2}
	thick.play = span{(thick.bore.lo - p.hi) / 2, 0}
	off := span{t.squeeze(thin).squeeze.lo, t.squeeze(thick).squeeze.hi}
	f := t.show.fine
	r.Steps = append(r.Steps, fmt.Sprintf("off centre by up to (%s - %s)/2 = %s: squeezed by %s", f(thin.bore.hi), f(p.lo), f(thin.play.hi), pctSpan(off)))
	r.Says += fmt.Sprintf(" Off centre it is squeezed by %s: keep it centred.", pctSpan(off))
	if off.lo < t.limits.of(squeezeNoMin) {
		r.role, r.Outcome, r.short = doubt, compat.Caution, "keep the plug centred"
		r.ask, r.flag = "Measure the plug and its bore.", sizeFlag("plug")
	}
}

func (t trial) plugSteps(r faceRing, thick, thin, mid gland, q, s span) []string {
	f := t.show.fine
	worst := func(name string, g gland, w, d1, over, h float64) []string {
		st := stretch(over, d1)
		loss := t.thinning.loss(st, g.inner.nom(), g.section.nom())
		ws := w * (1 - loss/100)
		return []string{
			fmt.Sprintf("%s: stretch = (groove - inner)/inner = (%s - %s)/%s = %s %%, which takes %s %% of the section: %s x (1 - %.4f) = %s", name, f(over), f(d1), f(d1), pct(st), pct(loss), f(w), loss/100, f(ws)),
			fmt.Sprintf("%s: squeeze = (section - height)/section = (%s - %s)/%s = %s %%", name, f(ws), f(h), f(ws), pct(100*(ws-h)/ws)),
		}
	}
	steps := []string{
		fmt.Sprintf("ring %s: %s", r.Name, r.size(t.show)),
		fmt.Sprintf("height = (bore - groove)/2 = (%s - %s)/2 = %s, from %s to %s", f(mid.bore.nom()), f(mid.over.nom()), f(mid.height.nom()), f(thick.height.lo), f(thin.height.hi)),
	}
	steps = append(steps, worst("middle", mid, mid.section.nom(), mid.inner.nom(), mid.over.nom(), mid.height.nom())...)
	steps = append(steps, worst("least", thin, thin.section.lo, thin.inner.lo, thin.over.hi, thin.height.hi)...)
	steps = append(steps, worst("most", thick, thick.section.hi, thick.inner.hi, thick.over.lo, thick.height.lo)...)
	lost := t.thinning.pieces
	if len(lost) > 0 && r.inner.nom()/r.section.nom() > t.thinning.stocky.upTo {
		steps = append(steps, fmt.Sprintf("section lost to a stretch S up to %s %%: %s + %s x S - %s x S x S", inFull(lost[0].to), inFull(lost[0].c0), inFull(lost[0].c1), inFull(-lost[0].c2)))
	}
	return append(steps,
		t.limitStep("squeeze", squeezeNoMin, squeezeLowRadial, squeezeHigh, squeezeNoMax),
		fmt.Sprintf("limits of the stretch: care above %s %%, no above %s %%; here from %s", trimmed(t.limits.of(stretchDoubt)), trimmed(t.limits.of(stretchNo)), pctSpan(s)),
		t.bandStep(units.Millimetres(r.section.nom())), "between the worst cases: "+pctSpan(q))
}

// bandStep names the published squeeze of a radial groove.
func (t trial) bandStep(section units.Length) string {
	b := t.band(section.Millimetres(), false)
	return fmt.Sprintf("published for a section of %s on a plug: %s to %s %%", t.show.mm(b.section), trimmed(b.squeeze.lo), trimmed(b.squeeze.hi))
}
