package fit

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

const flangeCheck = "flange and bore"

// flangeBore compares the flange with the bore of the housing: the clearance
// per side is (bore − flange)/2, between everything that the printed digits of
// both allow. Below nought throughout, the flange cannot enter; above flange_lost
// it falls past its seat. Where several
// sheets print the flange and only some of them fail, the size is in doubt.
func (t trial) flangeBore() []result {
	bore := t.q.Engine.HousingBore
	if !bore.Known {
		return append(t.likeStayed(), unchecked(flangeCheck, "housing bore of the engine", "The housing bore is not on file."))
	}
	sheets, measured := t.sizes(func(p *catalog.Part) catalog.Stated[units.Length] { return p.FlangeDiameter })
	if len(sheets) == 0 {
		return []result{unchecked(flangeCheck, "flange diameter of the part", "The sheet states no flange diameter; the bore is "+t.show.length(bore.Value)+".")}
	}
	var worst result
	failing := 0
	for i, s := range sheets {
		r := t.enters(s, bore)
		if r.role == fails {
			failing++
		}
		if i == 0 || rank(r.role) > rank(worst.role) {
			worst = r
		}
	}
	worst.sure, worst.own = measured || failing > 1, garage(bore.Origin)
	if failing > 0 && failing < len(sheets) {
		worst.role, worst.Outcome = doubt, compat.Caution
		worst.Says += " Another sheet prints a size that goes in: measure the flange."
		worst.short, worst.ask, worst.flag = "check the flange", "Measure the flange: the sheets disagree.", sizeFlag("flange")
		for _, s := range sheets {
			worst.Origin = cite(worst.Origin, from(s.Origin)...)
		}
	}
	return []result{worst}
}

// rank orders the roles that a size can have from good to bad.
func rank(r role) int {
	switch r {
	case fails:
		return 3
	case doubt:
		return 2
	case note:
		return 1
	}
	return 0
}

// enters judges one flange in the bore.
func (t trial) enters(s sheetSize, bore catalog.Stated[units.Length]) result {
	f, b := t.printed(s.Stated).span(), t.printed(bore).span()
	c := b.minus(f).times(0.5)
	flange, hole := t.show.length(s.Value), t.show.length(bore.Value)
	r := result{role: agrees, check: "flange", Finding: compat.Finding{
		Check: flangeCheck, Outcome: compat.Yes, Grade: compat.Measured,
		Origin: cite(from(s.Origin, bore.Origin), t.limits.cite(flangeClearanceLow, flangeClearanceHigh, flangeLoose)...),
		Steps: []string{
			fmt.Sprintf("flange as printed: %s to %s %s", t.show.fine(f.lo), t.show.fine(f.hi), t.show.lengthUnit()),
			fmt.Sprintf("bore as printed: %s to %s %s", t.show.fine(b.lo), t.show.fine(b.hi), t.show.lengthUnit()),
			fmt.Sprintf("least clearance per side: (%s - %s)/2 = %s", t.show.fine(b.lo), t.show.fine(f.hi), t.show.fine(c.lo)),
			fmt.Sprintf("most clearance per side: (%s - %s)/2 = %s", t.show.fine(b.hi), t.show.fine(f.lo), t.show.fine(c.hi)),
			fmt.Sprintf("limits per side: below nought it does not enter, %s to %s is usual, above %s it is loose, above %s it does not reach its seat",
				t.show.mm(t.limits.of(flangeClearanceLow)), t.show.mm(t.limits.of(flangeClearanceHigh)), t.show.mm(t.limits.of(flangeLoose)), t.show.mm(t.limits.of(flangeLost))),
		},
	}}
	loose := t.limits.of(flangeLoose)
	switch {
	case c.hi < 0 && t.overSeal(s):
		r.role, r.Outcome = doubt, compat.Caution
		r.Says = fmt.Sprintf("%s is printed as the diameter over the seal; the bore is %s: measure the bare flange.", flange, hole)
		r.short, r.ask, r.flag = "check the bare flange", "Measure the flange without its seal.", sizeFlag("flange")
	case c.hi < 0:
		r.role, r.Outcome = fails, compat.No
		r.Says = fmt.Sprintf("Flange %s does not enter the bore of %s: %s per side too large.", flange, hole, t.show.mm(-c.nom()))
		r.short, r.ask, r.flag = fmt.Sprintf("flange %s, bore %s", flange, hole), "Measure the flange: it may be printed over its seal.", sizeFlag("flange")
	case c.lo > t.limits.of(flangeLost):
		r.role, r.Outcome = fails, compat.No
		r.Says = fmt.Sprintf("Flange %s is too small for the bore of %s: %s per side, it does not reach its seat all round.", flange, hole, t.show.between(c))
		r.short, r.ask, r.flag = fmt.Sprintf("flange %s, bore %s", flange, hole), "Measure the flange.", sizeFlag("flange")
		r.Origin = cite(r.Origin, t.limits.cite(flangeLost)...)
	case c.lo > loose && t.edgeSealed():
		r.role, r.Outcome = fails, compat.No
		r.Says = fmt.Sprintf("Flange %s is loose in the bore of %s by %s per side: it no longer centres its seal.", flange, hole, t.show.between(c))
		r.short, r.ask, r.flag = fmt.Sprintf("flange %s, bore %s", flange, hole), "Measure the flange.", sizeFlag("flange")
	case c.lo > loose:
		r.role, r.Outcome = doubt, compat.Caution
		r.Says = fmt.Sprintf("Flange %s is loose in the bore of %s by %s per side.", flange, hole, t.show.between(c))
		r.short, r.ask = "check the flange, loose in bore", "Does the flange centre the seal? Compare it with the old part."
	case c.lo < 0 && c.nom() < t.limits.of(flangeClearanceLow):
		r.role, r.Outcome = doubt, compat.Caution
		r.Says = fmt.Sprintf("Flange %s in a bore of %s: as printed it may bind (%s per side at worst).", flange, hole, t.show.mm(c.lo))
		r.short, r.flag = "check the flange", sizeFlag("flange")
		r.ask = "Measure the flange: it has to be smaller than the bore of " + hole + "."
	default:
		r.Says = fmt.Sprintf("Flange %s enters the bore of %s with %s clearance per side.", flange, hole, t.show.between(span{max(c.lo, 0), c.hi}))
		if c.nom() > t.limits.of(flangeClearanceHigh) {
			r.Says += " That is more than usual."
		}
	}
	return r
}

// edgeSealed reports whether the seal sits around the edge of the flange.
func (t trial) edgeSealed() bool {
	return sealKind(t.q.Engine.SealForm.Value) == moulded || !t.q.Engine.SealForm.Known && partSealKind(t.c.Part) == moulded
}
