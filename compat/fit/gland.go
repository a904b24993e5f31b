package fit

import "math"

// gland is a groove with a ring in it, every size in millimetres between its
// ends. Over is the diameter that the ring is stretched over; a ring that lies
// unstretched in a face groove has none.
type gland struct {
	inner, section span // of the ring, free
	height         span // what the ring is squeezed to
	over           span // zero: not stretched
	bore           span // what a stretched ring is squeezed against; zero: height stands alone
	width          span // of the groove; zero: not known
	play           span // radial play of an eccentric plug; zero: centred
}

// squeezed is what a gland does to its ring, in per cent, between the worst
// cases, with the value at the middle of every tolerance.
type squeezed struct {
	squeeze span
	nominal float64
	rss     float64 // statistical half width of the squeeze
	stretch span
	loss    span // section lost to the stretch
}

// plugGland is a ring on a plug in a bore: height (Db − Dg)/2, stretched over Dg.
func plugGland(inner, section, groove, bore span) gland {
	return gland{inner: inner, section: section, over: groove, bore: bore, height: bore.minus(groove).times(0.5)}
}

// squeeze computes q = (Ws − h)/Ws in per cent, with Ws the section after
// stretching: least with the thinnest section, most stretch and deepest gland,
// most with the opposite. An eccentric plug adds its most play to the deepest
// side and takes its least play from the shallowest.
func (t *Tables) squeeze(g gland) squeezed {
	s := squeezed{}
	if g.over != (span{}) {
		s.stretch = span{stretch(g.over.lo, g.inner.hi), stretch(g.over.hi, g.inner.lo)}
	}
	s.loss = span{t.thinning.loss(s.stretch.lo, g.inner.nom(), g.section.nom()), t.thinning.loss(s.stretch.hi, g.inner.nom(), g.section.nom())}
	q := func(w, over, d1, h float64) float64 {
		st := 0.0
		if over > 0 {
			st = stretch(over, d1)
		}
		ws := w * (1 - t.thinning.loss(st, d1, w)/100)
		return 100 * (ws - h) / ws
	}
	at := func(w, st, h float64) float64 {
		ws := w * (1 - st/100)
		return 100 * (ws - h) / ws
	}
	s.squeeze = span{at(g.section.lo, s.loss.hi, g.height.hi+g.play.hi), at(g.section.hi, s.loss.lo, g.height.lo-g.play.lo)}
	s.nominal = q(g.section.nom(), g.over.nom(), g.inner.nom(), g.height.nom())
	if g.bore != (span{}) { // groove and bore vary apart; the height follows from both
		s.rss = rss(func(in []float64) float64 { return q(in[0], in[1], in[2], (in[3]-in[1])/2) }, g.section, g.over, g.inner, g.bore)
	} else {
		s.rss = rss(func(in []float64) float64 { return q(in[0], in[1], in[2], in[3]) }, g.section, g.over, g.inner, g.height)
	}
	return s
}

// fill returns how much of the groove the ring takes, per section:
// 100·(π/4·W²)/(b·h), in per cent, between the worst cases.
func (g gland) fill() (between span, nominal float64) {
	f := func(w, b, h float64) float64 { return 100 * math.Pi / 4 * w * w / (b * h) }
	return span{f(g.section.lo, g.width.hi, g.height.hi), f(g.section.hi, g.width.lo, g.height.lo)},
		f(g.section.nom(), g.width.nom(), g.height.nom())
}

// hot returns a gland fill after a rise of the temperature, by the linear
// expansions of rubber and housing and a swell of the rubber in per cent:
// F·(1 + 3·αr·ΔT + swell)/(1 + 3·αh·ΔT).
func (t *Tables) hot(fill, swell float64) float64 {
	rise := t.limits.of(warmRise)
	return fill * (1 + 3*t.limits.of(rubberExpansion)*rise + swell/100) / (1 + 3*t.limits.of(housingExpansion)*rise)
}

// afterSet returns the height a ring springs back to after a compression set
// of c per cent, the interference left, and the squeeze left in per cent of the
// free section: t1 = W − C·(W − h) (ASTM D395 method B).
func afterSet(w, h, c float64) (height, left, squeeze float64) {
	height = w - c/100*(w-h)
	return height, height - h, 100 * (height - h) / w
}

// crush returns by how much an edge ring is crushed, in per cent of its free
// height, between the worst cases, with the middle and the statistical half
// width.
func crush(free, recess span) (between span, nominal, statistical float64) {
	c := func(in []float64) float64 { return 100 * (in[0] - in[1]) / in[0] }
	return span{c([]float64{free.lo, recess.hi}), c([]float64{free.hi, recess.lo})},
		c([]float64{free.nom(), recess.nom()}), rss(c, free, recess)
}
