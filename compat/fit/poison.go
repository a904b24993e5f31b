package fit

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Poison is a group of parts that cross-references join although two of them
// cannot be one part. Weakest is what to distrust first: of the chain between
// the two, the cross-reference that the least speaks for.
type Poison struct {
	Members []*catalog.Part
	A, B    *catalog.Part // the two that differ most clearly
	Weakest Joint

	apart string // in the units of Poisoned's caller
	cut   map[int64]bool
}

// Joint is one cross-reference of a group.
type Joint struct {
	A, B    *catalog.Part
	Origins []catalog.Origin
	Ties    []catalog.Origin // lines of others that are as weak
	strength
}

// strength is what speaks for a cross-reference: whether its ends differ
// themselves, how many independent sheets state it, whether both sides do, and
// how many facts of its ends agree.
type strength struct {
	Differs     string
	Sheets      int
	BothSides   bool
	Agreeing    int
	disagreeing bool
}

// rank orders strengths: what differs is weakest, then what few state.
func (s strength) rank() int {
	r := 100*s.Sheets + s.Agreeing
	if s.BothSides {
		r += 10
	}
	if s.disagreeing {
		r -= 10000
	}
	return r
}

// Poisoned returns the groups of a network that cannot be right, in the order of
// supplier and number. Supersessions join no group: a new part may differ from
// the old one.
func (t *Tables) Poisoned(n *Network, in units.System) []*Poison {
	var out []*Poison
	show := showIn(in)
	for _, g := range n.groups() {
		if p := t.poison(n, g, show); p != nil {
			out = append(out, p)
		}
	}
	return out
}

// groups returns the parts that cross-references join, in one order.
func (n *Network) groups() [][]int64 {
	var out [][]int64
	seen := map[int64]bool{}
	for _, e := range n.all {
		if e.replaces || seen[e.a] {
			continue
		}
		seen[e.a] = true
		group := []int64{e.a}
		for i := 0; i < len(group); i++ {
			for _, next := range n.same[group[i]] {
				if id := next.other(group[i]); !seen[id] {
					seen[id] = true
					group = append(group, id)
				}
			}
		}
		slices.SortFunc(group, n.compare)
		out = append(out, group)
	}
	return out
}

// poison finds the two members of a group that differ and the weakest joint of
// the strongest chain between them: a chain is as strong as its weakest joint.
func (t *Tables) poison(n *Network, group []int64, show shower) *Poison {
	kinds := t.alike(n, group, show)
	if len(kinds) < 2 {
		return nil
	}
	p := &Poison{A: n.parts[kinds[0]], B: n.parts[kinds[1]]}
	p.apart = t.differs(p.A, p.B, show)
	for _, id := range group {
		p.Members = append(p.Members, n.parts[id])
	}
	var joints []*edge
	for _, id := range group {
		for _, e := range n.same[id] {
			if e.a == id {
				joints = append(joints, e)
			}
		}
	}
	strengths := map[*edge]strength{}
	for _, e := range joints {
		strengths[e] = t.strengthOf(n, e, show)
	}
	slices.SortStableFunc(joints, func(x, y *edge) int { return strengths[y].rank() - strengths[x].rank() })
	in := joined{}
	for i, e := range joints { // the strongest first, until the two are joined
		in.join(e.a, e.b)
		if in.of(p.A.ID) != in.of(p.B.ID) {
			continue
		}
		p.Weakest = Joint{A: n.parts[e.a], B: n.parts[e.b], Origins: e.origins, strength: strengths[e]}
		for _, other := range joints[:i] {
			if strengths[other].rank() == strengths[e].rank() && !n.without(other, p.A.ID)[p.B.ID] {
				p.Weakest.Ties = append(p.Weakest.Ties, other.origins...)
			}
		}
		p.cut = n.without(e, p.A.ID)
		break
	}
	return p
}

// alike returns one member of each kind that cannot be the same part as the
// members before it; of a group of one kind a single one.
func (t *Tables) alike(n *Network, group []int64, show shower) []int64 {
	var kinds []int64
	for _, id := range group {
		apart := true
		for _, k := range kinds {
			apart = apart && t.differs(n.parts[k], n.parts[id], show) != ""
		}
		if apart {
			kinds = append(kinds, id)
		}
	}
	return kinds
}

// strengthOf weighs one cross-reference.
func (t *Tables) strengthOf(n *Network, e *edge, show shower) strength {
	a, b := n.parts[e.a], n.parts[e.b]
	var all []statement
	for _, o := range e.origins {
		all = append(all, said(o, o.Supplier))
	}
	s := strength{Sheets: independent(all...), BothSides: e.bothSides, Differs: t.differs(a, b, show)}
	s.disagreeing = s.Differs != ""
	tr := trial{Tables: t}
	if x, ok := tr.opening(a); ok {
		if y, ok := tr.opening(b); ok && t.sameRating(x, y) {
			s.Agreeing++
		}
	}
	if a.FlangeDiameter.Known && b.FlangeDiameter.Known && t.printed(a.FlangeDiameter).span().overlaps(t.printed(b.FlangeDiameter).span()) {
		s.Agreeing++
	}
	if x, y := partSealKind(a), partSealKind(b); x != "" && x == y {
		s.Agreeing++
	}
	return s
}

// without returns the parts that cross-references still join with id when one of
// them is left out.
func (n *Network) without(cut *edge, id int64) map[int64]bool {
	seen := map[int64]bool{id: true}
	list := []int64{id}
	for i := 0; i < len(list); i++ {
		for _, e := range n.same[list[i]] {
			if next := e.other(list[i]); e != cut && !seen[next] {
				seen[next] = true
				list = append(list, next)
			}
		}
	}
	return seen
}

// sound reports whether no chain that speaks for the candidate crosses the
// weakest joint.
func (p *Poison) sound(c *evidence) bool {
	for _, l := range c.Links {
		if p.cut[l.Via.ID] != p.cut[c.Part.ID] {
			return false
		}
	}
	return true
}

// Says puts the group into words.
func (p *Poison) Says() string {
	w := p.Weakest
	text := fmt.Sprintf("The cross-references around it cannot all be right: %s and %s are joined by them, but %s. The weakest joins %s and %s",
		named(p.A), named(p.B), apartText(p.apart), named(w.A), named(w.B))
	return text + ", " + w.Why() + "."
}

// apartText turns "it opens at ... and that one at ..." into a clause about two
// parts that are named before.
func apartText(text string) string {
	text = strings.Replace(text, "it is a ", "the first is a ", 1)
	text = strings.Replace(text, "it opens", "the first opens", 1)
	text = strings.Replace(text, "its ", "the first one's ", 1)
	text = strings.Replace(text, "that one's", "the second one's", 1)
	return strings.Replace(text, "that one", "the second", 1)
}

// Why says why a cross-reference is the weakest.
func (j *Joint) Why() string {
	switch {
	case j.Differs != "":
		return "whose own facts differ"
	case len(j.Ties) > 0:
		return "which no more speaks for than for the others"
	case j.BothSides:
		return fmt.Sprintf("which %s", counted(j.Sheets, "sheet")+" "+verb(j.Sheets, "states", "state"))
	}
	return fmt.Sprintf("which %s, and only from one side", counted(j.Sheets, "sheet")+" "+verb(j.Sheets, "states", "state"))
}

// Origins returns the lines of the weakest cross-reference and of the facts that
// differ.
func (p *Poison) Origins() []compat.Evidence {
	return cite(from(p.Weakest.Origins...), stated(p.A, p.B)...)
}

// joined keeps which parts are joined already.
type joined map[int64]int64

func (j joined) of(id int64) int64 {
	for up, ok := j[id]; ok && up != id; up, ok = j[id] {
		id = up
	}
	return id
}

func (j joined) join(a, b int64) { j[j.of(a)] = j.of(b) }
