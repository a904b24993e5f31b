package fit

import "math"

// span is a size known between two ends, in millimetres.
type span struct{ lo, hi float64 }

func exactly(v float64) span { return span{v, v} }

// around returns nom with a tolerance to each side.
func around(nom, minus, plus float64) span { return span{nom - minus, nom + plus} }

func (s span) nom() float64         { return (s.lo + s.hi) / 2 }
func (s span) widen(d float64) span { return span{s.lo - d, s.hi + d} }
func (s span) shift(d float64) span { return span{s.lo + d, s.hi + d} }
func (s span) minus(o span) span    { return span{s.lo - o.hi, s.hi - o.lo} }
func (s span) plus(o span) span     { return span{s.lo + o.lo, s.hi + o.hi} }
func (s span) times(f float64) span { return span{s.lo * f, s.hi * f} }
func (s span) overlaps(o span) bool { return s.lo <= o.hi && o.lo <= s.hi }

// rss returns the root of the sum of squares of how much f moves when each
// input goes from its middle to its end, alone: the statistical half width of
// f(inputs), where the worst case adds the moves up.
func rss(f func(in []float64) float64, in ...span) float64 {
	mid := make([]float64, len(in))
	for i, s := range in {
		mid[i] = s.nom()
	}
	sum := 0.0
	for i, s := range in {
		mid[i] = s.hi
		up := f(mid)
		mid[i] = s.lo
		down := f(mid)
		mid[i] = s.nom()
		sum += (up - down) * (up - down) / 4
	}
	return math.Sqrt(sum)
}
