package fit

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

const ringCheck = "ring size"

// ringSize compares a ring with the size that the engine takes: sections and
// inner diameters are the same where their tolerances meet (ISO 3601-1 class B
// for a size without a designation). Where depth and width of the groove are on
// file, the groove judges the section instead. A ring that is too small is
// stretched, one that is too large is slack.
func (t trial) ringSize() []result {
	e := &t.q.Engine
	if k := partSealKind(t.c.Part); k != "" && k != oRing || e.SealForm.Known && sealKind(e.SealForm.Value) != oRing {
		return nil
	}
	if !e.SealSection.Known && !e.SealInnerDiameter.Known {
		if e.GrooveDepth.Known {
			return nil
		}
		return []result{unchecked(ringCheck, "seal size of the engine", "The size of the engine's seal is not on file.")}
	}
	ring, rests, missing, why := t.ringOf(t.c.Part)
	if missing != "" {
		return []result{unchecked(ringCheck, missing, sentence(why+"the sheet does not state the "+missing))}
	}
	wants := t.rings.general3601(e.SealInnerDiameter.Value, e.SealSection.Value)
	g := t.faceGland(ring)
	var out []result
	if e.SealSection.Known && !(e.GrooveDepth.Known && e.GrooveWidth.Known) {
		out = append(out, t.sameSection(g, wants, rests))
	}
	if e.SealInnerDiameter.Known && !(e.GrooveDepth.Known && e.GrooveWidth.Known && e.GrooveOuterDiameter.Known) {
		out = append(out, t.sameInner(g, wants, rests))
	}
	if !e.SealSection.Known || !e.SealInnerDiameter.Known {
		for i := range out {
			out[i].demote()
		}
	}
	switch {
	case !e.SealSection.Known && !e.GrooveDepth.Known:
		out = append(out, unchecked(ringCheck, "section of the engine's seal", "Neither the section of the engine's seal nor the depth of its groove is on file."))
	case !e.SealInnerDiameter.Known && !e.GrooveOuterDiameter.Known:
		out = append(out, unchecked(ringCheck, "inner diameter of the engine's seal", "Neither the inner diameter of the engine's seal nor the outside of its groove is on file."))
	}
	return out
}

func (t trial) sameSection(g faceRing, wants Ring, rests []catalog.Origin) result {
	e := t.q.Engine.SealSection
	mine := g.section.widen(g.sectionDigit)
	theirs := t.printed(e).span().widen(wants.SectionTol.Millimetres())
	r := result{role: agrees, check: "section of the ring", sure: t.ringFirmly(g.Ring, rests), own: garage(e.Origin), Finding: compat.Finding{
		Check: ringCheck, Outcome: compat.Yes, Grade: compat.Measured, Origin: cite(cite(from(append(rests, e.Origin)...), g.Origin...), t.rings.general...),
		Steps: []string{
			fmt.Sprintf("section of %s: %s to %s %s", g.Name, t.show.fine(mine.lo), t.show.fine(mine.hi), t.show.lengthUnit()),
			fmt.Sprintf("section that the engine takes: %s to %s %s", t.show.fine(theirs.lo), t.show.fine(theirs.hi), t.show.lengthUnit()),
		},
	}}
	has, takes := t.show.length(g.Section), t.show.length(e.Value)
	if mine.overlaps(theirs) {
		r.Says = fmt.Sprintf("Section %s, the engine takes %s: the same within tolerance.", has, takes)
		return r
	}
	r.short = fmt.Sprintf("section %s, engine takes %s", has, takes)
	way := "thin: it leaks"
	if mine.lo > theirs.hi {
		way = "thick: the housing does not close"
	}
	r.fail(fmt.Sprintf("Section %s, the engine takes %s: too %s.", has, takes, way))
	return r
}

func (t trial) sameInner(g faceRing, wants Ring, rests []catalog.Origin) result {
	e := t.q.Engine.SealInnerDiameter
	mine := g.inner.widen(g.innerDigit)
	theirs := t.printed(e).span().widen(wants.InnerTol.Millimetres())
	s := span{stretch(theirs.lo, mine.hi), stretch(theirs.hi, mine.lo)}
	nominal := stretch(theirs.nom(), mine.nom())
	r := result{role: agrees, check: "diameter of the ring", sure: t.ringFirmly(g.Ring, rests), own: garage(e.Origin), Finding: compat.Finding{
		Check: ringCheck, Outcome: compat.Yes, Grade: compat.Measured,
		Origin: cite(cite(from(append(rests, e.Origin)...), g.Origin...), t.limits.cite(stretchDoubt, stretchNo, stretchSlack)...),
		Steps: []string{
			fmt.Sprintf("inner diameter of %s: %s to %s %s", g.Name, t.show.fine(mine.lo), t.show.fine(mine.hi), t.show.lengthUnit()),
			fmt.Sprintf("inner diameter that the engine takes: %s to %s %s", t.show.fine(theirs.lo), t.show.fine(theirs.hi), t.show.lengthUnit()),
			fmt.Sprintf("stretch = (%s - %s)/%s = %s %%", t.show.fine(theirs.nom()), t.show.fine(mine.nom()), t.show.fine(mine.nom()), pct(nominal)),
		},
	}}
	has, takes := t.show.length(g.Inner), t.show.length(e.Value)
	r.short = fmt.Sprintf("ring %s, engine takes %s", has, takes)
	what := fmt.Sprintf("Inner diameter %s, the engine takes %s", has, takes)
	switch {
	case mine.overlaps(theirs):
		r.Says = what + ": the same within tolerance."
	case s.lo > t.limits.of(stretchNo):
		r.fail(fmt.Sprintf("%s: too small, stretched by %s %%.", what, pct(nominal)))
	case s.hi < t.limits.of(stretchSlack):
		r.fail(fmt.Sprintf("%s: too large by %s %%, it does not stay in place.", what, pct(-nominal)))
	default:
		r.doubt(what+": not the same size.", "check the ring's diameter", "Compare the ring with the old one: it may not lie in its groove.")
	}
	return r
}

// sentence makes a sentence of parts that were put together.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:] + "."
}
