package main

import "fmt"

// The part types of a world, in the order of a family's classes.
const (
	thermostat = iota
	sealRing
	hose
	radiatorCap
	coolant
	kinds
)

var kindNames = [kinds]string{"thermostat", "seal", "hose", "cap", "coolant"}

// family is an engine family of a world. class says by part type what fits: a
// part fits a family if and only if both have the same class of the part's
// type.
type family struct {
	name, make      string
	models          [3]string
	from, to        int
	class           [kinds]int
	flange, rating  int // places in the sizes
	ring, hose, cap int
	bayonet         bool
	chemistry       int
	measured        bool // the garage has its dimensions
	capacity, drain int  // centilitres
}

// world is the families with an index by class.
type world struct {
	*sizes
	families []family
	// members lists the families of a class, by part type.
	members [kinds][][]int
	// bored lists the families of a flange, whatever their rating.
	bored [][]int
}

// hoseShapes is how many shapes of hose there are to each bore.
const hoseShapes = 40

// newWorld draws n engine families.
func newWorld(s *sizes, seed uint64, n int) *world {
	w := &world{sizes: s, families: make([]family, n), bored: make([][]int, len(s.flanges))}
	classes := [kinds]int{
		len(s.flanges) * len(s.ratings), len(s.rings), len(s.hoses) * hoseShapes, len(s.caps) * 2, len(s.chemistries),
	}
	for k := range classes {
		w.members[k] = make([][]int, classes[k])
	}
	r := newPCG(seed, familyStream)
	for i := range w.families {
		f := &w.families[i]
		*f = family{
			name: fmt.Sprintf("%c%c%04d", 'A'+i%26, 'A'+i/26%26, i),
			make: s.makes[r.below(len(s.makes))],
			from: 1985 + r.below(35), flange: r.below(len(s.flanges)), rating: r.below(len(s.ratings)),
			ring: r.below(len(s.rings)), hose: r.below(len(s.hoses)), cap: r.below(len(s.caps)),
			bayonet: r.chance(50), chemistry: r.below(len(s.chemistries)), measured: r.chance(70), capacity: 500 + r.below(900),
		}
		f.to = min(f.from+3+r.below(10), 2025)
		f.drain = f.capacity * (45 + r.below(35)) / 100
		for m := range f.models {
			f.models[m] = fmt.Sprintf("%s %d", string(rune('A'+r.below(26))), 100+10*r.below(90)+m)
		}
		cap := f.cap * 2
		if f.bayonet {
			cap++
		}
		f.class = [kinds]int{f.flange*len(s.ratings) + f.rating, f.ring, f.hose*hoseShapes + r.below(hoseShapes), cap, f.chemistry}
		for k, c := range f.class {
			w.members[k][c] = append(w.members[k][c], i)
		}
		w.bored[f.flange] = append(w.bored[f.flange], i)
	}
	return w
}

// stranger draws a family that the part does not fit: for a thermostat one of
// the same bore and another rating where wrong is by rating, else any. It is
// -1 where every family is of the part's class.
func (w *world) stranger(r *pcg, p *design, rating bool) int {
	from := w.bored[p.flange]
	if !rating {
		from = nil
	}
	for range 50 {
		i := r.below(len(w.families))
		if len(from) > 0 {
			i = from[r.below(len(from))]
		}
		f := &w.families[i]
		if f.class[p.kind] != p.class && (rating || p.kind != thermostat || f.flange != p.flange) {
			return i
		}
	}
	return -1
}
