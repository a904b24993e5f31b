package fit

import (
	"slices"

	"fitfill/catalog"
)

// Step is one step of a chain: the part that it leads to, and what says so.
type Step struct {
	To       *catalog.Part
	Relation catalog.Relation // To is the same as, or replaces, the one before
	Origins  []catalog.Origin
}

// Links follows cross-references and supersessions from the listed parts and
// returns by part what leads to it. Listed neighbours are named each; a part that
// lies further away is reached by the chain with the fewest cross-references, and
// over no more of them than count for anything (limit hops_counted): what is
// "close enough" adds up. Supersessions do not count as steps.
func (t *Tables) Links(n *Network, listed []int64) map[int64][]Link {
	listed = slices.DeleteFunc(slices.Clone(listed), func(id int64) bool { return n.parts[id] == nil })
	slices.SortFunc(listed, n.compare)
	out := map[int64][]Link{}
	reached := map[int64]bool{}
	var now []*chain
	for _, id := range listed {
		if !reached[id] {
			reached[id] = true
			now = append(now, &chain{root: id, at: id})
		}
	}
	for _, c := range now { // every listed neighbour speaks for a part, listed or not
		for _, next := range n.steps(c) {
			out[next.at] = append(out[next.at], next.link(n))
		}
	}
	reach := func(c *chain) {
		reached[c.at] = true
		now = append(now, c)
		if c.length() > 1 {
			out[c.at] = append(out[c.at], c.link(n))
		}
	}
	for crossed := 0; len(now) > 0; crossed++ {
		var beyond []*chain
		for i := 0; i < len(now); i++ { // grows by supersessions, which do not count as steps
			for _, next := range n.steps(now[i]) {
				if next.crossed > crossed {
					beyond = append(beyond, next)
				} else if !reached[next.at] {
					reach(next)
				}
			}
		}
		now = nil
		if crossed == t.HopsCounted() {
			break
		}
		for _, next := range beyond {
			if !reached[next.at] {
				reach(next)
			}
		}
	}
	return out
}

// chain is a way from a listed part to another.
type chain struct {
	root, at int64
	before   *chain
	by       *edge
	crossed  int // cross-references on the way
}

// steps returns the chains that are one step longer.
func (n *Network) steps(c *chain) []*chain {
	var out []*chain
	for _, e := range n.newer[c.at] {
		out = append(out, &chain{root: c.root, at: e.b, before: c, by: e, crossed: c.crossed})
	}
	for _, e := range n.same[c.at] {
		out = append(out, &chain{root: c.root, at: e.other(c.at), before: c, by: e, crossed: c.crossed + 1})
	}
	return out
}

func (c *chain) length() int {
	n := 0
	for ; c.before != nil; c = c.before {
		n++
	}
	return n
}

// link turns a chain into what speaks for its last part.
func (c *chain) link(n *Network) Link {
	l := Link{Via: n.parts[c.root], Hops: max(1, c.crossed)}
	for s := c; s.before != nil; s = s.before {
		step := Step{To: n.parts[s.at], Relation: catalog.Same, Origins: s.by.origins}
		if s.by.replaces {
			step.Relation = catalog.Replaces
		}
		l.Chain = append(l.Chain, step)
	}
	slices.Reverse(l.Chain)
	l.Relation, l.Origin = l.Chain[0].Relation, l.Chain[0].Origins[0]
	return l
}

// HopsCounted is how many cross-references in a row count for anything.
func (t *Tables) HopsCounted() int { return int(t.limits.of(hopsCounted)) }
