package importers

import (
	"fmt"
	"hash/maphash"
	"strings"

	"fitfill/catalog"
)

// Two rows about the same part must not state different facts: one of them is
// wrong, and nobody here can say which. All rows of that part are held, also
// those that state nothing about the disputed fact. A row that repeats another
// one word for word is counted and not kept twice.

// repeats is what a first look at a whole sheet finds.
type repeats struct {
	conflicts map[int]*problem
	same      map[int]int // record -> the earlier record that it repeats
}

// findRepeats returns the problem of every record whose part (engine, vehicle)
// is stated differently on another record, and which records say the same.
func (d *identities) findRepeats() (repeats, error) {
	r := repeats{map[int]*problem{}, map[int]int{}}
	p := d.plans[0]
	if p.identity < 0 {
		return r, nil
	}
	g := group{src: d.src, plan: p, repeats: r, first: map[uint64]int{}}
	return r, d.repeated(g.judge)
}

// group compares the records of one identity.
type group struct {
	src     *source
	plan    *plan
	repeats repeats
	cells   []string
	raw     [][]string
	canon   [][]string
	good    []bool
	first   map[uint64]int
}

func (g *group) judge(keys []keyed) {
	n := len(g.plan.columns)
	for len(g.raw) < len(keys) {
		g.raw, g.canon, g.good = append(g.raw, make([]string, n)), append(g.canon, make([]string, n)), append(g.good, false)
	}
	for k, key := range keys {
		g.cells = g.src.cells(int(key.record), g.cells)
		p, _ := g.plan.canonical(g.cells, g.raw[k], g.canon[k])
		g.good[k] = p == nil
	}
	if p := g.contradiction(keys); p != nil {
		for _, key := range keys {
			g.repeats.conflicts[int(key.record)] = p
		}
		return
	}
	clear(g.first)
	for k, key := range keys {
		if !g.good[k] {
			continue
		}
		var h maphash.Hash
		h.SetSeed(hashSeed)
		for _, c := range g.canon[k] {
			h.WriteString(c)
			h.WriteByte(0)
		}
		earlier, seen := g.first[h.Sum64()]
		if !seen {
			g.first[h.Sum64()] = k
			continue
		}
		if sameTexts(g.canon[earlier], g.canon[k]) {
			g.repeats.same[int(key.record)] = int(keys[earlier].record)
		}
	}
}

func sameTexts(a, b []string) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// contradiction compares the readable cells of a group of records.
func (g *group) contradiction(keys []keyed) *problem {
	p := g.plan
	for j, c := range p.columns {
		if c.field.free || j == p.identity || j == p.currency {
			continue
		}
		scope := p.kind.scope(c.field.name)
		var said map[string]int // first record that states the field, by scope
		first := -1
		for k := range keys {
			if g.canon[k][j] == "" {
				continue
			}
			at := first
			if scope != "" {
				if said == nil {
					said = map[string]int{}
				}
				earlier, ok := said[p.scopeOf(scope, g.canon[k])]
				if at = earlier; !ok {
					said[p.scopeOf(scope, g.canon[k])] = k
					continue
				}
			} else if first < 0 {
				first = k
				continue
			}
			a, b := g.canon[at][j], g.canon[k][j]
			if a != b && (c.list == nil || !strings.EqualFold(a, b)) {
				return &problem{code: "conflict", field: c.field.name, why: fmt.Sprintf(
					"%s %s: %s is %q on line %d and %q on line %d: find out which is right and correct the other",
					p.kind.noun, g.raw[k][p.identity], c.Heading, g.raw[at][j], g.line(keys[at]), g.raw[k][j], g.line(keys[k]))}
			}
		}
	}
	return nil
}

func (g *group) line(k keyed) int { return g.src.records.lineOf(int(k.record)) }

// scopeOf returns the value that narrows what a field is about.
func (p *plan) scopeOf(scope string, canon []string) string {
	for j, c := range p.columns {
		if c.field.name == scope && canon[j] != "" {
			return canon[j]
		}
	}
	return catalog.DefaultCircuit
}
