package fit

import (
	"errors"
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/units"
)

// ErrRing is wrapped by the error of Ring when a designation is not that of a
// ring that the tables hold.
var ErrRing = errors.New("not a ring size on file")

var (
	dashText = pattern.New(`^(?:AS\s*568\s*[A-Z]?\s*)?-?\s*(?:2-)?(\d{3})$`)
	jisText  = pattern.New(`^(?:JIS\s*)?(?:B\s*2401\s*)?-?\s*([PG])\s*-?\s*(\d+(?:[.,]\d+)?)\s*(A?)$`)
	isoText  = pattern.New(`^(?:O-?\s?RING\s*-?\s*)?ISO\s*3601(?:-1)?\s*-?\s*(?:(\d{3})[A-Z]?)?\s*-?\s*(\d+(?:[.,]\d+)?)\s*X\s*(\d+(?:[.,]\d+)?)(?:\s*-\s*(?:N|S|CS))?$`)
	sizeText = pattern.New(`^(?:Ø\s*)?(\d*[.,]?\d+)\s*(MM|IN|INCH|")?\s*[X×*]\s*(\d*[.,]?\d+)\s*(MM|IN|INCH|")?$`)
)

// Ring resolves a printed ring designation to its sizes: "AS568-222", "-222",
// "222" (SAE AS568); "P38", "JIS B 2401 G60", where the letter after the
// number matters: P22 is 2.4 mm thick, P22A 3.5 mm (JIS B 2401);
// "O-ring-ISO3601-1-014A-12,42x1,78-N" (ISO 3601-1); "37.7x3.5", inner
// diameter by section, with the class B tolerances of ISO 3601-1. A size
// without a unit is in millimetres, unless its section is thinner than the
// thinnest ring on file, which makes it inches. The error wraps ErrRing and
// says what was expected.
func (t *Tables) Ring(designation string) (Ring, error) {
	text := strings.ToUpper(strings.NewReplacer("–", "-", "‐", "-", "−", "-", "_", "-").Replace(strings.TrimSpace(designation)))
	if m := dashText.FindStringSubmatch(text); m != nil {
		if i, ok := t.rings.standard().byDash[m[1]]; ok {
			return t.rings.standard().as568[i], nil
		}
		return Ring{}, fmt.Errorf("%q: AS568 has no size -%s on file: %w", designation, m[1], ErrRing)
	}
	if m := jisText.FindStringSubmatch(text); m != nil {
		name := m[1] + strings.Replace(m[2], ",", ".", 1) + m[3]
		if i, ok := t.rings.standard().byJIS[name]; ok {
			return t.rings.standard().jis[i], nil
		}
		return Ring{}, fmt.Errorf("%q: JIS B 2401 has no size %s on file: %w", designation, name, ErrRing)
	}
	if m := isoText.FindStringSubmatch(text); m != nil {
		if i, ok := t.rings.standard().byDash[m[1]]; ok {
			return t.rings.standard().as568[i], nil
		}
		return t.statedRing(designation, m[2], m[3], "MM")
	}
	if m := sizeText.FindStringSubmatch(text); m != nil {
		return t.statedRing(designation, m[1], m[3], m[2]+m[4])
	}
	return Ring{}, fmt.Errorf("%q is not a ring size: write AS568-222, P38 or inner diameter x section (37.7x3.5): %w", designation, ErrRing)
}

func (t *Tables) statedRing(designation, inner, section, unit string) (Ring, error) {
	to := units.Millimetres
	if unit == "" && decimal(section) < t.rings.standard().thinnest() || strings.ContainsAny(unit, `I"`) {
		to = units.Inches
	}
	ring := t.rings.general3601(to(decimal(inner)), to(decimal(section)))
	if ring.Section.Compare(ring.Inner) >= 0 || ring.Section.Nanometres() <= 0 {
		return Ring{}, fmt.Errorf("%q: the inner diameter stands first and is larger than the section (37.7x3.5): %w", designation, ErrRing)
	}
	ring.Name, ring.Series = strings.TrimSpace(designation), "stated"
	return ring, nil
}

// thinnest returns the thinnest section of the AS568 sizes in millimetres.
func (r *standardRings) thinnest() float64 {
	thin := r.as568[0].Section
	for _, ring := range r.as568 {
		if ring.Section.Compare(thin) < 0 {
			thin = ring.Section
		}
	}
	return thin.Millimetres()
}

// ringOf returns the ring that a part is: by its designation, or by the inner
// diameter and section its sheet prints, widened by their last digits. missing
// names what the sheet does not state; why says why a designation did not help.
func (t *Tables) ringOf(p *catalog.Part) (ring Ring, from []catalog.Origin, missing, why string) {
	if p.ORingSize.Known {
		r, err := t.Ring(p.ORingSize.Value)
		if err == nil {
			return r, []catalog.Origin{p.ORingSize.Origin}, "", ""
		}
		why = fmt.Sprintf("the ring size %q is not on file; ", p.ORingSize.Value)
	}
	switch {
	case !p.Section.Known && !p.InnerDiameter.Known:
		return Ring{}, nil, "ring size of the part", why
	case !p.Section.Known:
		return Ring{}, nil, "section of the part's ring", why
	case !p.InnerDiameter.Known:
		return Ring{}, nil, "inner diameter of the part's ring", why
	}
	ring = t.rings.general3601(p.InnerDiameter.Value, p.Section.Value)
	ring.Series = "stated"
	ring.Name = strings.TrimSpace(p.InnerDiameter.Text + " x " + p.Section.Text)
	return ring, []catalog.Origin{p.InnerDiameter.Origin, p.Section.Origin}, "", ""
}
