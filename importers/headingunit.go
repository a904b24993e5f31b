package importers

import (
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// headingBases returns the heading itself and what is left of it when a unit or
// currency at its end is taken off: "Bore (mm)", "Opening °C", "bore_mm",
// "Preis in EUR".
func headingBases(heading string) []string {
	bases := []string{heading}
	for _, p := range headingParts(heading) {
		bases = append(bases, p.base)
	}
	return bases
}

type headingPart struct{ base, unit string }

func headingParts(heading string) []headingPart {
	h := strings.ReplaceAll(trim(heading), "_", " ")
	var parts []headingPart
	if i := strings.LastIndexAny(h, "([{"); i > 0 {
		inside := strings.Trim(h[i+1:], ")]} .")
		parts = append(parts, headingPart{trimJoint(h[:i]), inside})
	}
	tokens := strings.FieldsFunc(h, func(r rune) bool { return r == ' ' || r == '/' || r == ',' || r == '\u00a0' })
	for n := 1; n <= 2 && n < len(tokens); n++ {
		tail := tokens[len(tokens)-n]
		base := trimJoint(h[:strings.LastIndex(h, tail)])
		parts = append(parts, headingPart{base, strings.Join(tokens[len(tokens)-n:], " ")})
	}
	return parts
}

func trimJoint(base string) string {
	base = strings.TrimRight(base, " /,-:\u00a0")
	if b, ok := strings.CutSuffix(base, " in"); ok {
		return b
	}
	return base
}

// resolve finds the field that a heading means in a sheet of that kind, and
// the unit or currency that it states for the column.
func (v *vocabulary) resolve(k *kindSpec, heading string) (f field, unit units.Unit, currency string, ok bool) {
	index := v.headings[k.kind]
	if name := index[v.headingKey(heading)]; name != "" {
		f, ok = k.field(name)
	}
	for _, p := range headingParts(heading) {
		name := index[v.headingKey(p.base)]
		if ok && name != f.name || name == "" {
			continue
		}
		g, _ := k.field(name)
		u, c := v.unitOf(g.kind, p.unit)
		if u != "" || c != "" {
			return g, u, c, true
		}
	}
	return f, "", "", ok
}

// unitOf reads a unit or currency in a heading of a column of that kind.
func (v *vocabulary) unitOf(kind catalog.Kind, text string) (units.Unit, string) {
	if kind == catalog.KindMoney {
		return "", v.currency(text)
	}
	if kind == catalog.KindPercent && strings.Trim(text, "% ") == "" {
		return percentUnit, ""
	}
	if u, err := units.ParseUnit(text); err == nil && measures(u, kind) {
		return u, ""
	}
	return "", ""
}

// percentUnit marks a column whose heading says "%".
const percentUnit units.Unit = "%"

// currency returns the code for a currency's sign, name or code, empty where
// the text is none.
func (v *vocabulary) currency(text string) string {
	values := v.words["currency"][wordKey(text)]
	if len(values) == 0 {
		values = v.words["currency"][trim(text)]
	}
	if len(values) == 1 {
		return values[0]
	}
	return ""
}

// measures reports whether the unit is one of quantities of that kind.
func measures(u units.Unit, kind catalog.Kind) bool {
	var err error
	switch kind {
	case catalog.KindTemperature:
		_, err = units.ParseTemperature("80", u)
		return err == nil && (u == units.UnitCelsius || u == units.UnitFahrenheit)
	case catalog.KindLength:
		_, err = units.ParseLength("1 "+string(u), "")
	case catalog.KindVolume:
		_, err = units.ParseVolume("1 "+string(u), "")
	case catalog.KindDisplacement:
		_, err = units.ParseDisplacement("2000 "+string(u), "")
		if err != nil {
			_, err = units.ParseDisplacement("2 "+string(u), "")
		}
	case catalog.KindPressure:
		_, err = units.ParsePressure("1 "+string(u), "")
	default:
		return false
	}
	return err == nil
}
