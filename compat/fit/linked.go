package fit

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

const (
	crossReferenceOnly = "cross-reference only"
	supersessionOnly   = "supersession only"
)

// linked reads the chains of cross-references and supersessions that lead from
// a listed part to this one. Each line counts once; where a list names the part
// itself they only agree. Two parts of one cross-reference whose ratings,
// flanges or kinds of seal differ cannot be one part, and the finding says so; a
// part that replaces another may differ from it, and its own sizes are judged.
func (t trial) linked(listedToo bool) []result {
	var out []result
	for _, l := range t.c.Links {
		r := result{role: linked, short: crossReferenceOnly, ask: "Compare it with the old part: it is not listed itself.", Finding: compat.Finding{
			Check: "cross-reference", Outcome: compat.Caution, Grade: compat.Listed, Says: l.says(), Origin: from(l.origins()...),
		}}
		if listedToo { // it agrees with a list, and leaves no doubt of its own
			r.Outcome, r.ask = compat.Yes, ""
		}
		if l.superseding() {
			r.short = supersessionOnly
			if changes := t.changed(t.c.Part, l.Via, t.show); len(changes) > 0 {
				r.Says += " It is not made alike: " + strings.Join(changes, "; ") + ". Its own sizes count."
			}
		} else if d := t.differs(t.c.Part, l.Via, t.show); d != "" {
			t.doubtful(&r, d)
		}
		out = merge(out, r)
	}
	if p := t.c.Poison; p != nil && len(out) > 0 {
		f := compat.Finding{Check: "cross-reference", Outcome: compat.Yes, Grade: compat.Listed, Says: p.Says(), Origin: p.Origins()}
		role := note
		if !listedToo && !p.sound(t.c) {
			f.Outcome, role = compat.Caution, doubt
		}
		out = append(out, result{Finding: f, role: role, short: "cross-reference is doubtful"})
	}
	return out
}

// doubtful says that the two ends of a cross-reference differ.
func (t trial) doubtful(r *result, differs string) {
	r.Outcome = compat.Caution
	r.Says += " But " + differs + ": the two are not one part."
	r.short, r.ask = "cross-reference is doubtful", "Compare it with the old part: "+differs+"."
	r.Grade = compat.Presumed
}

// last returns the step that leads to the candidate itself.
func (l *Link) last() Step {
	if len(l.Chain) > 0 {
		return l.Chain[len(l.Chain)-1]
	}
	return Step{Relation: l.Relation, Origins: []catalog.Origin{l.Origin}}
}

// origins returns every line that the chain rests on.
func (l *Link) origins() []catalog.Origin {
	if len(l.Chain) == 0 {
		return []catalog.Origin{l.Origin}
	}
	var out []catalog.Origin
	for _, s := range l.Chain {
		out = append(out, s.Origins...)
	}
	return out
}

// superseding reports whether the chain is of supersessions alone: the maker
// says that the part takes the other's place.
func (l *Link) superseding() bool {
	if len(l.Chain) == 0 {
		return l.Relation == catalog.Replaces
	}
	for _, s := range l.Chain {
		if s.Relation != catalog.Replaces {
			return false
		}
	}
	return true
}

// says puts a chain into words.
func (l *Link) says() string {
	via := named(l.Via)
	if len(l.Chain) > 1 {
		var through []string
		for _, s := range l.Chain[:len(l.Chain)-1] {
			through = append(through, named(s.To))
		}
		by := "by way of " + strings.Join(through, ", then ")
		if l.superseding() {
			return fmt.Sprintf("Supersession: replaces %s, which is listed, %s.", via, by)
		}
		return fmt.Sprintf("Cross-reference: leads to %s, which is listed, in %d steps %s.", via, len(l.Chain), by)
	}
	relation, text := l.last().Relation, "Cross-reference: leads to %s, which is listed"
	switch relation {
	case catalog.Same:
		text = "Cross-reference: the same as %s, which is listed"
	case catalog.Replaces:
		text = "Supersession: replaces %s, which is listed"
	}
	text = fmt.Sprintf(text, via)
	if l.Hops > 1 {
		text += fmt.Sprintf(", over %d steps", l.Hops)
	}
	return text + "."
}

// named names a part with its supplier.
func named(p *catalog.Part) string {
	return strings.TrimSpace(p.Number + " of " + orGarage(p.Supplier))
}
