package fit

import (
	"fmt"

	"fitfill/compat"
)

// oldRing compares a ring with the one that came out, as a calliper measured
// it: the same where sections and inner diameters meet within the tolerances of
// both. Used rings flatten, and the old one may have been the wrong one: where a
// groove or a size is on file, that decides.
func (t trial) oldRing() []result {
	old := &t.q.Old
	if !old.Section.Known || !old.InnerDiameter.Known {
		return nil
	}
	ring, rests, missing, _ := t.ringOf(t.c.Part)
	if missing != "" {
		return nil
	}
	measured := t.rings.general3601(old.InnerDiameter.Value, old.Section.Value)
	w := t.printed(old.Section).span().widen(measured.SectionTol.Millimetres())
	id := t.printed(old.InnerDiameter).span().widen(measured.InnerTol.Millimetres())
	has := t.show.length(ring.Inner) + " x " + t.show.length(ring.Section)
	was := t.show.length(old.InnerDiameter.Value) + " x " + t.show.length(old.Section.Value)
	f := compat.Finding{
		Check: oldCheck, Outcome: compat.Yes, Grade: compat.Measured, Origin: cite(cite(from(append(rests, old.Section.Origin)...), ring.Origin...), t.rings.general...),
		Steps: []string{
			fmt.Sprintf("section %s to %s, the old one's %s to %s %s", t.show.fine(ring.sectionSpan().lo), t.show.fine(ring.sectionSpan().hi), t.show.fine(w.lo), t.show.fine(w.hi), t.show.lengthUnit()),
			fmt.Sprintf("inside %s to %s, the old one's %s to %s %s", t.show.fine(ring.innerSpan().lo), t.show.fine(ring.innerSpan().hi), t.show.fine(id.lo), t.show.fine(id.hi), t.show.lengthUnit()),
		},
	}
	if ring.sectionSpan().overlaps(w) && ring.innerSpan().overlaps(id) {
		f.Says = fmt.Sprintf("Ring %s: the old one's size (%s).", has, was)
		return []result{{Finding: f, like: true}}
	}
	f.Outcome = compat.Caution
	f.Says = fmt.Sprintf("Ring %s, the old one is %s: not the same ring.", has, was)
	r := result{Finding: f, role: doubt, unlike: true, short: fmt.Sprintf("ring %s, old one %s", has, was), ask: "Was the old ring the right one?"}
	if e := &t.q.Engine; e.GrooveDepth.Known || e.PlugGroove.Known || e.SealSection.Known {
		r.role, r.Says = note, r.Says+" The housing decides."
	}
	return []result{r}
}
