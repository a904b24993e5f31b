package fit

import (
	"fmt"
	"math"
	"strconv"

	"fitfill/catalog/units"
)

// The steps below write a computation so that it can be followed with a pocket
// calculator: the formula, its numbers, and what they come to.

// squeezeSteps writes the squeeze of a ring between the worst cases,
// statistically and after a compression set.
func (t trial) squeezeSteps(g faceRing, q span, nominal float64) []string {
	f := t.show.fine
	thin, thick := g.thicker(-1), g.thicker(1)
	w, h := g.section, g.height
	steps := []string{
		fmt.Sprintf("ring %s: %s", g.Name, g.size(t.show)),
		fmt.Sprintf("groove: %s to %s %s deep, as printed", f(thick.height.lo), f(thin.height.hi), t.show.lengthUnit()),
		fmt.Sprintf("squeeze = (section - depth)/section = (%s - %s)/%s = %s %%", f(w.nom()), f(h.nom()), f(w.nom()), pct(nominal)),
		fmt.Sprintf("least: (%s - %s)/%s = %s %%", f(thin.section.lo), f(thin.height.hi), f(thin.section.lo), pct(q.lo)),
		fmt.Sprintf("most: (%s - %s)/%s = %s %%", f(thick.section.hi), f(thick.height.lo), f(thick.section.hi), pct(q.hi)),
	}
	steps = append(steps, t.rssStep(w, h, nominal))
	b, pub := t.band(w.nom(), true), t.groove(w.nom())
	return append(append(steps,
		t.limitStep("squeeze", squeezeNoMin, squeezeLowAxial, squeezeHigh, squeezeNoMax),
		fmt.Sprintf("published for a section of %s: %s to %s %%", t.show.mm(b.section), trimmed(b.squeeze.lo), trimmed(b.squeeze.hi)),
		fmt.Sprintf("published face groove for a section of %s: %s deep, %s wide", t.show.mm(pub.section), t.show.mm(pub.depth), t.show.mm(pub.width)),
	), t.setStep(w.nom(), h.nom()))
}

// rssStep writes the statistical half width of the squeeze: the root of the sum
// of squares of what the tolerances of section and depth do to it alone.
func (t trial) rssStep(w, h span, nominal float64) string {
	f := t.show.fine
	dw, dh := (w.hi-w.lo)/2, (h.hi-h.lo)/2
	ofW, ofH := 100*h.nom()*dw/(w.nom()*w.nom()), 100*dh/w.nom()
	half := math.Hypot(ofW, ofH)
	text := fmt.Sprintf("statistically: 100 x depth x tolerance/section² = 100 x %s x %s/(%s x %s) = %s %%", f(h.nom()), f(dw), f(w.nom()), f(w.nom()), pct(ofW))
	if dh > 0 {
		text += fmt.Sprintf(" by the section, 100 x %s/%s = %s %% by the depth, together %s %%", f(dh), f(w.nom()), pct(ofH), pct(half))
	}
	return fmt.Sprintf("%s: %s to %s %%", text, pct(nominal-half), pct(nominal+half))
}

// setStep writes what is left of the squeeze after a compression set (ASTM D395
// method B).
func (t trial) setStep(w, h float64) string {
	f := t.show.fine
	set := t.limits.of(setTypical)
	back, _, left := afterSet(w, h, set)
	return fmt.Sprintf("after a compression set of %s %%: %s - %s x (%s - %s) = %s, and (%s - %s)/%s = %s %% squeeze is left",
		trimmed(set), f(w), strconv.FormatFloat(set/100, 'f', -1, 64), f(w), f(h), f(back), f(back), f(h), f(w), pct(left))
}

// fillSteps writes how full the ring makes its groove, cold, hot and swollen.
func (t trial) fillSteps(g faceRing, nominal, most float64) []string {
	f := t.show.fine
	thick := g.thicker(1)
	rise, swell := t.limits.of(warmRise), t.limits.of(swellShare)
	rubber, housing := inFull(t.limits.of(rubberExpansion)), inFull(t.limits.of(housingExpansion))
	return []string{
		fmt.Sprintf("fill = 0.7854 x section x section/(width x depth) = 0.7854 x %s x %s/(%s x %s) = %s %%", f(g.section.nom()), f(g.section.nom()), f(g.width.nom()), f(g.height.nom()), pct(nominal)),
		fmt.Sprintf("most: 0.7854 x %s x %s/(%s x %s) = %s %%", f(thick.section.hi), f(thick.section.hi), f(thick.width.lo), f(thick.height.lo), pct(most)),
		fmt.Sprintf("%s hotter, rubber %s and housing %s per K: %s x (1 + 3 x %s x %s)/(1 + 3 x %s x %s) = %s %%",
			t.show.delta(units.Kelvins(rise)), rubber, housing, pct(most), rubber, inFull(rise), housing, inFull(rise), pct(t.hot(most, 0))),
		fmt.Sprintf("and swollen by %s %%: %s x (1 + 3 x %s x %s + %s)/(1 + 3 x %s x %s) = %s %%",
			trimmed(swell), pct(most), rubber, inFull(rise), inFull(swell/100), housing, inFull(rise), pct(t.hot(most, swell))),
		fmt.Sprintf("limits: care above %s %% as printed or %s %% hot, no above %s %% hot", trimmed(t.limits.of(fillNominal)), trimmed(t.limits.of(fillHotDoubt)), trimmed(t.limits.of(fillHotNo))),
	}
}

// limitStep writes the limits between which a share is refused, doubted or
// right.
func (t trial) limitStep(what, no, low, high, noMore string) string {
	return fmt.Sprintf("limits of the %s: right from %s to %s %%, no below %s or above %s %%",
		what, trimmed(t.limits.of(low)), trimmed(t.limits.of(high)), trimmed(t.limits.of(no)), trimmed(t.limits.of(noMore)))
}

// inFull writes a number with all its digits.
func inFull(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// crushStep writes the statistical half width of the crush of an edge ring.
func (t trial) crushStep(free, recess span, half float64) string {
	f := t.show.fine
	df, dr := (free.hi-free.lo)/2, (recess.hi-recess.lo)/2
	ofFree, ofRecess := 100*recess.nom()*df/(free.nom()*free.nom()), 100*dr/free.nom()
	return fmt.Sprintf("statistically: 100 x %s x %s/(%s x %s) = %s %% by the ring, 100 x %s/%s = %s %% by the recess, together %s %% either way",
		f(recess.nom()), f(df), f(free.nom()), f(free.nom()), pct(ofFree), f(dr), f(free.nom()), pct(ofRecess), pct(half))
}
