package fit

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/units"
	"fitfill/compat"
)

const setCheck = "seal on its thermostat"

// shortestNamed is how many characters a number must have to be recognised
// inside a text such as "on thermostat QM-1038".
const shortestNamed = 4

var forFlange = pattern.New(`(?i)(\d+(?:[.,]\d+)?)\s*mm[\s-]*(?:flange|flansch)`).Needing("mM")

// SealOnThermostat judges whether a seal goes on the flange of a thermostat:
// by the thermostat that the seal's lines name, where that is another one by
// comparing both flanges; else an edge ring by its inner diameter and by the
// thickness of flange that its text gives. It does not speak of O-rings and
// flat gaskets, which lie in the housing, nor where nothing is stated.
func (t *Tables) SealOnThermostat(seal *catalog.Part, lines []catalog.Fitment, on *catalog.Part, others []*catalog.Part, show units.System) (compat.Finding, bool) {
	f := compat.Finding{Check: setCheck, Outcome: compat.Yes, Grade: compat.Listed}
	sh := showIn(show)
	var named *catalog.Part
	for _, l := range lines {
		where := catalog.Key(l.WhereFitted)
		if where == "" {
			continue
		}
		if names(where, on) {
			f.Says, f.Origin = fmt.Sprintf("Goes on %s, as %s lists it.", on.Number, seal.Supplier), from(l.Origin)
			return f, true
		}
		for _, o := range others {
			if named == nil && names(where, o) {
				named, f.Origin = o, from(l.Origin)
			}
		}
	}
	if named != nil {
		return t.likeNamed(f, sh, seal, named, on), true
	}
	if partSealKind(seal) != moulded {
		return f, false
	}
	return t.ringOnFlange(f, sh, seal, on)
}

func names(where string, p *catalog.Part) bool {
	return len(p.Key) >= shortestNamed && strings.Contains(where, p.Key)
}

// likeNamed compares the thermostat that a seal is made for with the one chosen.
func (t *Tables) likeNamed(f compat.Finding, sh shower, seal, named, on *catalog.Part) compat.Finding {
	made := fmt.Sprintf("%s is listed for %s", seal.Number, named.Number)
	f.Origin = cite(f.Origin, from(named.FlangeThickness.Origin, on.FlangeThickness.Origin, named.FlangeDiameter.Origin, on.FlangeDiameter.Origin)...)
	thick, thin := named.FlangeThickness, on.FlangeThickness
	wide, narrow := named.FlangeDiameter, on.FlangeDiameter
	switch {
	case thick.Known && thin.Known && !t.printed(thick).span().overlaps(t.printed(thin).span()):
		f.Outcome, f.Grade = compat.No, compat.Measured
		f.Says = fmt.Sprintf("%s, with a flange of %s; %s has %s.", made, sh.length(thick.Value), on.Number, sh.length(thin.Value))
	case wide.Known && narrow.Known && !t.sameAcross(wide, narrow):
		f.Outcome, f.Grade = compat.No, compat.Measured
		f.Says = fmt.Sprintf("%s, with a flange of %s across; %s has %s.", made, sh.length(wide.Value), on.Number, sh.length(narrow.Value))
	case thick.Known && thin.Known && wide.Known && narrow.Known:
		f.Grade, f.Says = compat.Measured, fmt.Sprintf("%s, whose flange is that of %s.", made, on.Number)
	default:
		f.Outcome, f.Says = compat.Caution, fmt.Sprintf("%s, not for %s: compare the flanges", made, on.Number)
	}
	return f
}

// sameAcross reports whether two printed diameters may be one.
func (t *Tables) sameAcross(a, b catalog.Stated[units.Length]) bool {
	x, y := t.printed(a).span(), t.printed(b).span()
	return max(x.lo-y.hi, y.lo-x.hi) <= t.limits.of(poisonFlange)
}

// ringOnFlange compares an edge ring with the flange that it is to lie around.
func (t *Tables) ringOnFlange(f compat.Finding, sh shower, seal, on *catalog.Part) (compat.Finding, bool) {
	inner, flange, thin := seal.InnerDiameter, on.FlangeDiameter, on.FlangeThickness
	f.Grade = compat.Measured
	f.Origin = cite(from(inner.Origin, flange.Origin, thin.Origin), t.limits.cite(poisonFlange)...)
	thick, stated := flangeIn(seal.Description)
	across := inner.Known && flange.Known
	switch {
	case across && !t.sameAcross(inner, flange):
		f.Outcome = compat.No
		f.Says = fmt.Sprintf("Ring of %s inside; the flange of %s is %s across.", sh.length(inner.Value), on.Number, sh.length(flange.Value))
	case stated && thin.Known && !t.printed(thick).span().overlaps(t.printed(thin).span()):
		f.Outcome = compat.No
		f.Says = fmt.Sprintf("Ring for a flange of %s; that of %s is %s.", sh.length(thick.Value), on.Number, sh.length(thin.Value))
	case across && stated && thin.Known:
		f.Says = fmt.Sprintf("Ring for the flange of %s: %s across, %s thick.", on.Number, sh.length(flange.Value), sh.length(thin.Value))
	case across:
		f.Says = fmt.Sprintf("Ring of %s inside on the flange of %s, %s across.", sh.length(inner.Value), on.Number, sh.length(flange.Value))
	default:
		return f, false
	}
	return f, true
}

// flangeIn reads the thickness of flange that a ring's text gives: "edge ring
// for 1.6 mm flange".
func flangeIn(text catalog.Stated[string]) (catalog.Stated[units.Length], bool) {
	m := forFlange.FindStringSubmatch(text.Value)
	if m == nil {
		return catalog.Stated[units.Length]{}, false
	}
	l, err := units.ParseLength(strings.Replace(m[1], ",", ".", 1)+" mm", "")
	if err != nil {
		return catalog.Stated[units.Length]{}, false
	}
	return catalog.Say(l, m[1]+" mm", text.Origin), true
}
