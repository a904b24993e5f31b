package fit

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

var relationWords = map[catalog.Relation]string{
	catalog.Same:       "Cross-reference: the same as %s, which is listed",
	catalog.Replaces:   "Supersession: replaces %s, which is listed",
	catalog.ReplacedBy: "Supersession: replaced by %s, which is listed",
}

// linked reads the cross-references that lead from a listed part to this one.
// Each line counts once; where a list names the part itself they only agree. Two parts of one cross-reference whose ratings, flanges
// or kinds of seal differ cannot be one part, and the finding says so.
func (t trial) linked(listedToo bool) []result {
	var out []result
	for _, l := range t.c.Links {
		text, ok := relationWords[l.Relation]
		if !ok {
			text = "Cross-reference: leads to %s, which is listed"
		}
		via := strings.TrimSpace(l.Via.Number + " of " + orGarage(l.Via.Supplier))
		r := result{role: linked, short: "cross-reference only", ask: "Compare it with the old part: it is not listed itself.", Finding: compat.Finding{
			Check: "cross-reference", Outcome: compat.Caution, Grade: compat.Listed, Says: fmt.Sprintf(text, via), Origin: from(l.Origin),
		}}
		if l.Hops > 1 {
			r.Says += fmt.Sprintf(", over %d steps", l.Hops)
		}
		r.Says += "."
		if listedToo { // it agrees with a list, and leaves no doubt of its own
			r.Outcome, r.ask = compat.Yes, ""
		}
		if d := t.differs(&l.Via); d != "" {
			r.Outcome = compat.Caution
			r.Says += " But " + d + ": the two are not one part."
			r.short, r.ask = "cross-reference is doubtful", "Compare it with the old part: "+d+"."
			r.Grade = compat.Presumed
		}
		out = merge(out, r)
	}
	return out
}

// differs names the first thing that tells this part from another that a
// cross-reference calls the same; empty where nothing known does.
func (t trial) differs(via *catalog.Part) string {
	p := t.c.Part
	if a, ok := t.opening(p); ok {
		if b, ok := t.opening(via); ok && t.conflicting(a, b) {
			return fmt.Sprintf("it opens at %s and that one at %s", t.show.temperature(a), t.show.temperature(b))
		}
	}
	if p.FlangeDiameter.Known && via.FlangeDiameter.Known {
		a, b := t.printed(p.FlangeDiameter).span(), t.printed(via.FlangeDiameter).span()
		if max(a.lo-b.hi, b.lo-a.hi) > t.limits.of(poisonFlange) {
			return fmt.Sprintf("its flange is %s and that one's %s", t.show.length(p.FlangeDiameter.Value), t.show.length(via.FlangeDiameter.Value))
		}
	}
	if a, b := partSealKind(p), partSealKind(via); a != "" && b != "" && a != b {
		return fmt.Sprintf("its seal is %s and that one's %s", a, b)
	}
	return ""
}
