package fit

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Differs names the first thing that tells two parts apart that a
// cross-reference calls the same: type, opening temperature, flange (limit
// poison_flange) or kind of seal. It is empty where nothing known does.
func (t *Tables) Differs(a, b *catalog.Part, in units.System) string {
	return t.differs(a, b, showIn(in))
}

func (t *Tables) differs(a, b *catalog.Part, show shower) string {
	if a.Type.Known && b.Type.Known && a.Type.Value != b.Type.Value {
		return fmt.Sprintf("it is a %s and that one a %s", a.Type.Value, b.Type.Value)
	}
	tr := trial{Tables: t}
	if at, ok := tr.opening(a); ok {
		if bt, ok := tr.opening(b); ok && t.conflicting(at, bt) {
			return fmt.Sprintf("it opens at %s and that one at %s", show.temperature(at), show.temperature(bt))
		}
	}
	if a.FlangeDiameter.Known && b.FlangeDiameter.Known {
		x, y := t.printed(a.FlangeDiameter).span(), t.printed(b.FlangeDiameter).span()
		if max(x.lo-y.hi, y.lo-x.hi) > t.limits.of(poisonFlange) {
			return fmt.Sprintf("its flange is %s and that one's %s", show.length(a.FlangeDiameter.Value), show.length(b.FlangeDiameter.Value))
		}
	}
	if x, y := partSealKind(a), partSealKind(b); x != "" && y != "" && x != y {
		return fmt.Sprintf("its seal is %s and that one's %s", x, y)
	}
	return ""
}

// changed names everything that a new part has otherwise than the old one that
// it replaces.
func (t *Tables) changed(now, old *catalog.Part, show shower) []string {
	var out []string
	tr := trial{Tables: t}
	if at, ok := tr.opening(now); ok {
		if before, ok := tr.opening(old); ok && !t.sameRating(at, before) {
			out = append(out, fmt.Sprintf("opens at %s, the old one at %s", show.temperature(at), show.temperature(before)))
		}
	}
	for _, size := range []struct {
		name string
		of   func(*catalog.Part) catalog.Stated[units.Length]
	}{
		{"flange", func(p *catalog.Part) catalog.Stated[units.Length] { return p.FlangeDiameter }},
		{"flange thickness", func(p *catalog.Part) catalog.Stated[units.Length] { return p.FlangeThickness }},
		{"ring section", func(p *catalog.Part) catalog.Stated[units.Length] { return p.Section }},
		{"ring inside", func(p *catalog.Part) catalog.Stated[units.Length] { return p.InnerDiameter }},
		{"thickness", func(p *catalog.Part) catalog.Stated[units.Length] { return p.Thickness }},
		{"hose bore", func(p *catalog.Part) catalog.Stated[units.Length] { return p.HoseBore }},
	} {
		a, b := size.of(now), size.of(old)
		if a.Known && b.Known && !t.printed(a).span().overlaps(t.printed(b).span()) {
			out = append(out, fmt.Sprintf("%s %s, the old one %s", size.name, show.length(a.Value), show.length(b.Value)))
		}
	}
	if a, b := partSealKind(now), partSealKind(old); a != "" && b != "" && a != b {
		out = append(out, fmt.Sprintf("seal %s, the old one %s", a, b))
	}
	if a, b := now.CapPressure, old.CapPressure; a.Known && b.Known && a.Value != b.Value {
		if apart := a.Value.Kilopascals() - b.Value.Kilopascals(); max(apart, -apart) > t.limits.of(capStep) {
			out = append(out, fmt.Sprintf("opens at %s, the old one at %s", units.System(show).FormatPressure(a.Value), units.System(show).FormatPressure(b.Value)))
		}
	}
	return out
}

// stated returns where the facts stand that tell two parts apart.
func stated(parts ...*catalog.Part) []compat.Evidence {
	var out []compat.Evidence
	for _, p := range parts {
		out = cite(out, from(p.OpeningTemp.Origin, p.FlangeDiameter.Origin, p.SealForm.Origin, p.Type.Origin)...)
	}
	return out
}
