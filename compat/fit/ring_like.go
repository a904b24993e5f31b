package fit

import (
	"cmp"
	"math"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// RingsLike returns the standard rings that a measured ring may be, the
// nearest first: AS568, JIS B 2401 and ISO 3601-1 sizes whose section and
// inner diameter differ from the measured ones by no more than the tolerances
// of both together (ISO 3601-1 class B for the measured ring). A calliper cannot tell 3.50 from 3.53 mm: the groove
// decides between them.
func (t *Tables) RingsLike(inner, section catalog.Stated[units.Length]) []Ring {
	measured := t.rings.general3601(inner.Value, section.Value)
	id := t.printed(inner).span().widen(measured.InnerTol.Millimetres())
	w := t.printed(section).span().widen(measured.SectionTol.Millimetres())
	type near struct {
		Ring
		off float64
	}
	var found []near
	for _, series := range [][]Ring{t.rings.standard().as568, t.rings.standard().jis, t.rings.standard().iso} {
		for _, r := range series {
			if !r.sectionSpan().overlaps(w) || !r.innerSpan().overlaps(id) {
				continue
			}
			off := math.Hypot(r.innerSpan().nom()-id.nom(), r.sectionSpan().nom()-w.nom())
			found = append(found, near{r, off})
		}
	}
	slices.SortStableFunc(found, func(a, b near) int { return cmp.Compare(a.off, b.off) })
	out := make([]Ring, len(found))
	for i, f := range found {
		out[i] = f.Ring
	}
	return out
}
