package fit

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// Succession is what became of a number: what replaced it, and what replaced
// that. Where it branches there are several newest parts, and where it runs in a
// circle there is none.
type Succession struct {
	Of     *catalog.Part
	Steps  []Step          // every step on the way, nearest first
	Newest []*catalog.Part // where the supersessions end
	Circle []*catalog.Part // the parts that replace each other in a circle, if any
}

// Successors follows the supersessions from a part; ok is false where nothing
// replaces it.
func (n *Network) Successors(id int64) (s Succession, ok bool) {
	if n.parts[id] == nil || len(n.newer[id]) == 0 {
		return s, false
	}
	s.Of = n.parts[id]
	seen := map[int64]bool{}
	var walk func(id int64, path []int64)
	walk = func(id int64, path []int64) {
		if at := slices.Index(path, id); at >= 0 {
			if s.Circle == nil {
				for _, p := range path[at:] {
					s.Circle = append(s.Circle, n.parts[p])
				}
			}
			return
		}
		if seen[id] {
			return
		}
		seen[id] = true
		if len(n.newer[id]) == 0 {
			s.Newest = append(s.Newest, n.parts[id])
		}
		for _, e := range n.newer[id] {
			s.Steps = append(s.Steps, Step{To: n.parts[e.b], Relation: catalog.Replaces, Origins: e.origins})
			walk(e.b, append(slices.Clone(path), id))
		}
	}
	walk(id, nil)
	return s, true
}

// Says puts the succession into one sentence.
func (s *Succession) Says() string {
	switch {
	case len(s.Circle) > 0 && len(s.Newest) == 0:
		return fmt.Sprintf("The supersessions run in a circle (%s): no sheet can say which is the newest.", numbers(append(s.Circle, s.Circle[0]), " → "))
	case len(s.Newest) > 1:
		return fmt.Sprintf("Several numbers replace %s: %s. Which one depends on the vehicle.", s.Of.Number, numbers(s.Newest, ", "))
	case len(s.Steps) > 1:
		chain := []*catalog.Part{s.Of}
		for _, step := range s.Steps {
			chain = append(chain, step.To)
		}
		return fmt.Sprintf("Replaced by %s (%s).", named(s.Newest[0]), numbers(chain, " → "))
	}
	return fmt.Sprintf("Replaced by %s.", named(s.Newest[0]))
}

func numbers(parts []*catalog.Part, between string) string {
	var out []string
	for _, p := range parts {
		out = append(out, p.Number)
	}
	return strings.Join(out, between)
}

// Origins returns the lines that the succession rests on.
func (s *Succession) Origins() []catalog.Origin {
	var out []catalog.Origin
	for _, step := range s.Steps {
		out = append(out, step.Origins...)
	}
	return out
}

// Changed names everything that a new part has otherwise than the old one, as
// far as both sheets state it.
func (t *Tables) Changed(now, old *catalog.Part, in units.System) []string {
	return t.changed(now, old, showIn(in))
}
