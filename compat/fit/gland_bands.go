package fit

import (
	"math"

	"fitfill/catalog"
	"fitfill/compat"
)

// band is a published range of squeeze for one section.
type band struct {
	section float64
	axial   bool
	squeeze span
	origin  compat.Evidence
}

func newBands(ref catalog.Tables) ([]band, error) {
	rows, err := ref.Table("fit_squeeze_bands")
	if err != nil {
		return nil, err
	}
	var out []band
	for _, row := range rows {
		v, err := floats(row, "section_mm", "squeeze_low_pct", "squeeze_high_pct")
		if err != nil {
			return nil, err
		}
		out = append(out, band{section: v[0], axial: row.Get("arrangement") == "axial", squeeze: span{v[1], v[2]}, origin: compat.Cite(row)})
	}
	return out, nil
}

// band returns the published band whose section is nearest.
func (t *Tables) band(section float64, axial bool) (best band) {
	for _, b := range t.bands {
		if b.axial == axial && (best.section == 0 || math.Abs(b.section-section) < math.Abs(best.section-section)) {
			best = b
		}
	}
	return best
}

// groove is a published face groove for one section.
type groove struct {
	section, depth, width float64
	origin                compat.Evidence
}

func newGrooves(ref catalog.Tables) ([]groove, error) {
	rows, err := ref.Table("fit_gland_metric")
	if err != nil {
		return nil, err
	}
	var out []groove
	for _, row := range rows {
		v, err := floats(row, "section_mm", "depth_mm", "width_face_mm")
		if err != nil {
			return nil, err
		}
		out = append(out, groove{v[0], v[1], v[2], compat.Cite(row)})
	}
	return out, nil
}

// groove returns the published face groove whose section is nearest.
func (t *Tables) groove(section float64) (best groove) {
	for _, g := range t.grooves {
		if best.section == 0 || math.Abs(g.section-section) < math.Abs(best.section-section) {
			best = g
		}
	}
	return best
}
