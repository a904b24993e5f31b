package fit

import (
	"fmt"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Clamp is the part type of hose clamps.
const Clamp = "clamp"

const clampCheck = "clamp range"

// clampSize is a standard size of worm drive clamp.
type clampSize struct {
	name, standard string
	span           span
	origin         compat.Evidence
}

func newClamps(ref catalog.Tables) ([]clampSize, error) {
	rows, err := ref.Table("fit_clamp_sizes")
	if err != nil {
		return nil, err
	}
	var out []clampSize
	for _, row := range rows {
		v, err := floats(row, "min_mm", "max_mm")
		if err != nil {
			return nil, err
		}
		out = append(out, clampSize{row.Get("size"), row.Get("standard"), span{v[0], v[1]}, compat.Cite(row)})
	}
	return out, nil
}

// SizedClamp is a standard clamp size and how far it is open on a hose: 0 where
// it is closed as far as it goes, 1 where it is open as far as it goes.
type SizedClamp struct {
	Size, Standard string
	Min, Max       units.Length
	Position       float64
	Origin         compat.Evidence
}

// ClampsFor returns the standard worm drive sizes that suit a hose of that
// outside diameter on its neck, the best first: those on which the hose lies in
// the middle half of the range, nearest to its middle (SAE J1508 type F).
func (t *Tables) ClampsFor(outside units.Length) []SizedClamp {
	var out []SizedClamp
	for _, c := range t.clamps {
		p := c.span.position(outside.Millimetres())
		if p < t.limits.of(clampLow) || p > t.limits.of(clampHigh) {
			continue
		}
		out = append(out, SizedClamp{c.name, c.standard, units.Millimetres(c.span.lo), units.Millimetres(c.span.hi), p, c.origin})
	}
	slices.SortStableFunc(out, func(a, b SizedClamp) int {
		switch x, y := abs(a.Position-0.5), abs(b.Position-0.5); { // the middle of the range
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return out
}

// position is where a size lies in a span: 0 at its low end, 1 at its high one.
func (s span) position(v float64) float64 { return (v - s.lo) / (s.hi - s.lo) }

func abs(v float64) float64 { return max(v, -v) }

// clampRange puts the engine's hose into the range of a clamp. Outside the
// range it cannot hold; near an end it is a doubt.
func (t trial) clampRange() []result {
	hose, low, high := t.q.Engine.HoseOutside, t.c.Part.ClampMin, t.c.Part.ClampMax
	switch {
	case !hose.Known:
		return []result{unchecked(clampCheck, "outside of the hose on its neck", "The outside diameter of the hose on its neck is not on file.")}
	case !low.Known || !high.Known:
		return []result{unchecked(clampCheck, "range of the clamp", "The sheet does not state the range of this clamp; the hose is "+t.show.length(hose.Value)+" outside."+t.clampHint(hose.Value))}
	}
	if low.Value.Compare(high.Value) >= 0 {
		return []result{unchecked(clampCheck, "range of the clamp", fmt.Sprintf("The sheet prints %s to %s, which is no range.", t.show.number(low.Value), t.show.length(high.Value)))}
	}
	h, closed, opened := t.printed(hose).span(), t.printed(low).span(), t.printed(high).span()
	at := span{low.Value.Millimetres(), high.Value.Millimetres()}.position(hose.Value.Millimetres())
	has, takes := t.show.length(hose.Value), fmt.Sprintf("%s to %s", t.show.number(low.Value), t.show.length(high.Value))
	r := result{role: agrees, check: "clamp", own: garage(hose.Origin), Finding: compat.Finding{
		Check: clampCheck, Outcome: compat.Yes, Grade: compat.Measured,
		Says:   fmt.Sprintf("Takes %s; the hose is %s outside.", takes, has),
		Origin: cite(from(low.Origin, high.Origin, hose.Origin), t.limits.cite(clampLow, clampHigh)...),
		Steps: []string{fmt.Sprintf("(%s - %s)/(%s - %s) = %.2f of its range; %.2f to %.2f is right",
			t.show.fine(hose.Value.Millimetres()), t.show.fine(low.Value.Millimetres()), t.show.fine(high.Value.Millimetres()), t.show.fine(low.Value.Millimetres()), at, t.limits.of(clampLow), t.limits.of(clampHigh))},
	}}
	r.short = fmt.Sprintf("clamp %s, hose %s", takes, has)
	switch {
	case h.lo > opened.hi:
		r.fail(fmt.Sprintf("Takes %s; the hose is %s outside: too small.", takes, has))
	case h.hi < closed.lo:
		r.fail(fmt.Sprintf("Takes %s; the hose is %s outside: too large.", takes, has))
	case at < t.limits.of(clampLow) || at > t.limits.of(clampHigh):
		r.doubt(fmt.Sprintf("Takes %s; the hose of %s lies near the end of that.%s", takes, has, t.clampHint(hose.Value)), "check the clamp's size", "Measure over the hose on its neck.")
		r.flag = sizeFlag("hose")
	}
	if r.role == fails {
		r.ask, r.flag = "Measure over the hose on its neck.", sizeFlag("hose")
	}
	return []result{r}
}

// clampHint names the standard size for a hose.
func (t trial) clampHint(outside units.Length) string {
	best := t.ClampsFor(outside)
	if len(best) == 0 {
		return ""
	}
	return fmt.Sprintf(" Size %s of %s suits it.", best[0].Size, best[0].Standard)
}
