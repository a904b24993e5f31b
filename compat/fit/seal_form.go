package fit

import (
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

// The kinds of thermostat seal.
const (
	oRing   = "o-ring"
	moulded = "moulded"
	flat    = "flat"
)

// sealKind reads the kind of seal from a sheet's word for it; an unknown word
// is no kind.
func sealKind(text string) string {
	f := catalog.Fold(text)
	switch {
	case strings.Contains(f, "o ring"), strings.Contains(f, "oring"):
		return oRing
	case strings.Contains(f, "mould"), strings.Contains(f, "mold"), strings.Contains(f, "edge"), strings.Contains(f, "rim"):
		return moulded
	case strings.Contains(f, "flat"), strings.Contains(f, "paper"), strings.Contains(f, "gasket"), strings.Contains(f, "fibre"):
		return flat
	}
	return ""
}

// partSealKind returns the kind of a seal: as stated, or an O-ring where the
// sheet gives a ring size.
func partSealKind(p *catalog.Part) string {
	if k := sealKind(p.SealForm.Value); p.SealForm.Known && k != "" {
		return k
	}
	if p.ORingSize.Known {
		return oRing
	}
	return ""
}

const sealFormCheck = "seal form"

// sealForm compares the kind of seal with the kind the housing is made for.
func (t trial) sealForm() []result {
	e, p := t.q.Engine.SealForm, t.c.Part
	wants, has := sealKind(e.Value), partSealKind(p)
	switch {
	case !e.Known || wants == "":
		return []result{unchecked(sealFormCheck, "kind of seal of the engine", "Which kind of seal the housing takes is not on file.")}
	case has == "":
		return []result{unchecked(sealFormCheck, "kind of seal of the part", "The sheet does not say which kind of seal this is; the housing takes a "+wants+" seal.")}
	}
	stated := p.SealForm.Origin
	if sealKind(p.SealForm.Value) == "" {
		stated = p.ORingSize.Origin
	}
	f := compat.Finding{Check: sealFormCheck, Outcome: compat.Yes, Grade: compat.Listed, Origin: from(stated, e.Origin)}
	if has == wants {
		f.Says = "Kind of seal: " + has + ", as the housing takes."
		return []result{{Finding: f}}
	}
	f.Outcome, f.Says = compat.No, "Kind of seal: "+has+"; the housing takes "+wants+"."
	return []result{{Finding: f, role: fails, own: garage(e.Origin), check: "kind of seal", short: has + " seal, housing takes " + wants, ask: "Compare the kind of seal with the old one."}}
}

// suppliedSeal says what a thermostat's own seal means for the housing.
func (t trial) suppliedSeal() []result {
	e, p := t.q.Engine.SealForm, t.c.Part
	wants, has := sealKind(e.Value), partSealKind(p)
	f := compat.Finding{Check: sealFormCheck, Outcome: compat.Yes, Grade: compat.Listed, Origin: from(p.SealIncluded.Origin, p.SealForm.Origin, e.Origin)}
	switch {
	case p.SealIncluded.Known && !p.SealIncluded.Value:
		f.Says = "Comes without its seal: order one."
	case !p.SealIncluded.Known || !e.Known || wants == "" || has == "":
		return nil
	case has == wants:
		f.Says = "Comes with its seal, " + has + " as the housing takes."
	default:
		f.Outcome, f.Says = compat.Caution, "Comes with a "+has+" seal; the housing takes "+wants+"."
		return []result{{Finding: f, role: doubt, short: "check the seal", ask: "Compare the seal with the old one."}}
	}
	return []result{{Finding: f}}
}
