package fit

import (
	"cmp"
	"maps"
	"slices"

	"fitfill/catalog"
)

// Reference is one line of a sheet that joins two parts: From is the same as To,
// replaces it or is replaced by it.
type Reference struct {
	From, To int64 // parts by ID
	Relation catalog.Relation
	Origin   catalog.Origin
}

// Network is the cross-references and supersessions between parts as a graph.
// A cross-reference holds both ways, a supersession only from the old number to
// the new one: the new part goes where the old one went, and not the reverse.
type Network struct {
	parts map[int64]*catalog.Part
	same  map[int64][]*edge // by either end
	newer map[int64][]*edge // by the old number
	all   []*edge
}

// edge is everything that the sheets say about two parts: they are the same, or
// b replaces a.
type edge struct {
	a, b      int64
	replaces  bool
	origins   []catalog.Origin
	bothSides bool // the sheets of both ends say so
}

// other returns the end that is not id.
func (e *edge) other(id int64) int64 {
	if e.a == id {
		return e.b
	}
	return e.a
}

// NewNetwork builds the network of parts that the references join. References to
// parts that are not among them, or to the part itself, are left out. The order
// of parts and references changes nothing.
func NewNetwork(parts []*catalog.Part, refs []Reference) *Network {
	n := &Network{parts: make(map[int64]*catalog.Part, len(parts)), same: map[int64][]*edge{}, newer: map[int64][]*edge{}}
	for _, p := range parts {
		n.parts[p.ID] = p
	}
	type pair struct {
		a, b     int64
		replaces bool
	}
	edges := map[pair]*edge{}
	speakers := map[pair]int64{}
	for _, r := range refs {
		if n.parts[r.From] == nil || n.parts[r.To] == nil || r.From == r.To {
			continue
		}
		p := pair{min(r.From, r.To), max(r.From, r.To), false}
		switch r.Relation {
		case catalog.Replaces:
			p = pair{r.To, r.From, true}
		case catalog.ReplacedBy:
			p = pair{r.From, r.To, true}
		}
		e := edges[p]
		if e == nil {
			e = &edge{a: p.a, b: p.b, replaces: p.replaces}
			edges[p], speakers[p] = e, r.From
			n.all = append(n.all, e)
		}
		e.bothSides = e.bothSides || speakers[p] != r.From
		if !slices.Contains(e.origins, r.Origin) {
			e.origins = append(e.origins, r.Origin)
		}
	}
	n.arrange()
	return n
}

// arrange puts edges and origins in one order, whatever order they came in.
func (n *Network) arrange() {
	slices.SortFunc(n.all, func(x, y *edge) int { return cmp.Or(n.compare(x.a, y.a), n.compare(x.b, y.b)) })
	for _, e := range n.all {
		slices.SortStableFunc(e.origins, byOrigin)
		if e.replaces {
			n.newer[e.a] = append(n.newer[e.a], e)
			continue
		}
		n.same[e.a] = append(n.same[e.a], e)
		n.same[e.b] = append(n.same[e.b], e)
	}
}

// compare orders parts by supplier and number.
func (n *Network) compare(x, y int64) int {
	a, b := n.parts[x], n.parts[y]
	return cmp.Or(cmp.Compare(a.Supplier, b.Supplier), cmp.Compare(a.Number, b.Number), cmp.Compare(x, y))
}

// Part returns a part of the network; nil where it is not in it.
func (n *Network) Part(id int64) *catalog.Part { return n.parts[id] }

// Parts returns every part of the network, by supplier and number.
func (n *Network) Parts() []*catalog.Part {
	ids := slices.Collect(maps.Keys(n.parts))
	slices.SortFunc(ids, n.compare)
	out := make([]*catalog.Part, len(ids))
	for i, id := range ids {
		out[i] = n.parts[id]
	}
	return out
}

// Same returns the parts that a cross-reference joins with a part, in one step.
func (n *Network) Same(id int64) []*catalog.Part {
	var out []*catalog.Part
	for _, e := range n.same[id] {
		out = append(out, n.parts[e.other(id)])
	}
	slices.SortStableFunc(out, func(a, b *catalog.Part) int { return n.compare(a.ID, b.ID) })
	return out
}
