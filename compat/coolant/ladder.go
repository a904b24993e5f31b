package coolant

import (
	"slices"

	"fitfill/catalog/units"
	"fitfill/compat"
)

// ladder returns the amounts at which the verdict changes, from just above
// nothing up to the most that goes in. Every step holds for all amounts above
// the step before, up to and with its own.
//
// Shares, strength and nitrite move one way with the amount, and so do freezing
// and boiling points. So their limits are found one by one by bisection; they cut the
// range into pieces inside which nothing can change, and where two
// neighbouring pieces differ the change is found to the nanolitre.
func (s *situation) ladder(f fixed) []Step {
	most := litres(s.vol.most).Nanolitres()
	at := func(nl int64) rung { return s.rung(units.VolumeOf(nl).Litres(), f) }
	cuts := s.cuts(most)
	var steps []Step
	add := func(upTo int64, r rung) {
		step := Step{units.VolumeOf(upTo), r.outcome, s.whyOf(r)}
		if n := len(steps); n > 0 && steps[n-1].Outcome == step.Outcome && steps[n-1].Why == step.Why {
			steps[n-1].UpTo = step.UpTo
			return
		}
		steps = append(steps, step)
	}
	low := int64(1)
	here := at(low)
	for i, cut := range cuts {
		next := most
		if i+1 < len(cuts) {
			next = cuts[i+1]
		}
		probe := cut + (next-cut+1)/2
		if i == len(cuts)-1 {
			probe = most
		}
		there := at(probe)
		if probe <= low || there == here {
			continue
		}
		end := lastEqual(low, probe, cut, here, at)
		add(end, here)
		low, here = end+1, at(end+1)
		if here != there { // a second change before the probe
			end = lastEqual(low, probe, probe, here, at)
			add(end, here)
			low, here = end+1, at(end+1)
		}
	}
	if last := at(most); last != here {
		end := lastEqual(low, most, most, here, at)
		add(end, here)
		here = last
	}
	add(most, here)
	return steps
}

// lastEqual returns the last amount from low whose rung is still here; at high
// it is another one. The guess is tried first with a small window around it.
func lastEqual(low, high, guess int64, here rung, at func(int64) rung) int64 {
	const window = 1 << 10
	if g := guess - window; g > low && at(g) == here {
		low = g
	}
	if g := guess + window; g < high && at(g) != here {
		high = g
	}
	for high-low > 1 {
		if mid := low + (high-low)/2; at(mid) == here {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// cuts returns the amounts in nanolitres, rising, near which a limit is met.
func (s *situation) cuts(most int64) []int64 {
	var list []int64
	between := func(low, high int64, over func(a float64) bool) {
		if over(units.VolumeOf(low).Litres()) == over(units.VolumeOf(high).Litres()) {
			return
		}
		first := over(units.VolumeOf(low).Litres())
		for high-low > 1 {
			if mid := low + (high-low)/2; over(units.VolumeOf(mid).Litres()) == first {
				low = mid
			} else {
				high = mid
			}
		}
		list = append(list, low)
	}
	find := func(over func(a float64) bool) { between(1, most, over) }
	for _, part := range s.edges() {
		for _, pick := range []func(shares) float64{
			func(x shares) float64 { return x.concentrate.low }, func(x shares) float64 { return x.concentrate.high },
			func(x shares) float64 { return x.volume.low },
		} {
			find(func(a float64) bool { return pick(s.shares(a)) > part })
		}
	}
	// With two kinds of glycol freezing and boiling points may bend back on
	// the way from one to the other, so the way is walked in short stretches.
	stretches := int64(1)
	if s.fill.glycol != s.add.glycol && !s.t.is(&s.add, waterID) {
		stretches = 32
	}
	for i := range stretches {
		low, high := max(most*i/stretches, 1), most*(i+1)/stretches
		between(low, high, func(a float64) bool { return s.cold(a).weak })
		between(low, high, func(a float64) bool { return s.cold(a).over })
		between(low, high, s.tooHot)
	}
	find(s.tooThin)
	find(s.strongMix)
	find(s.nitriteLow)
	slices.Sort(list)
	return slices.Compact(list)
}

// edges returns the shares of the bottle, 0 to 1, at which some pair of
// families reaches the end of a band of its class.
func (s *situation) edges() []float64 {
	seen := map[float64]bool{}
	for i := range s.worlds {
		w := &s.worlds[i]
		for j := range w.links {
			l := &w.links[j]
			x, dx, y, dy := l.lines(w)
			c := l.rule.pair.class
			for _, pct := range append([]float64{c.ignored, l.held}, c.upTos()...) {
				for _, line := range [][2]float64{{x, dx}, {y, dy}} {
					if line[1] == 0 {
						continue
					}
					if at := (pct/100 - line[0]) / line[1]; at > 0 && at < 1 {
						seen[at] = true
					}
				}
			}
		}
	}
	list := make([]float64, 0, len(seen))
	for v := range seen {
		list = append(list, v)
	}
	slices.Sort(list)
	return list
}

func (c *class) upTos() []float64 {
	list := make([]float64, len(c.bands))
	for i, b := range c.bands {
		list[i] = b.upTo
	}
	return list
}

// reaches returns the amount above which an outcome holds first, where the
// steps below it are better.
func reaches(steps []Step, o compat.Outcome) (above units.Volume, found bool) {
	for i, s := range steps {
		if s.Outcome == o {
			if i == 0 {
				break
			}
			return steps[i-1].UpTo, true
		}
	}
	return units.Volume{}, false
}
