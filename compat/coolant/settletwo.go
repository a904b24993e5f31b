package coolant

import (
	"slices"

	"fitfill/compat"
)

// branch is one way two tests may come out.
type branch struct {
	says    string
	outcome compat.Outcome
}

// twoStrips finds the cheapest two strips or kits at hand that together let
// the bottle go in where neither does alone; nil where there are none, or one
// of those in the list decides anyway.
func (s *situation) twoStrips(list []Settle) *Settle {
	if len(s.fill.mixed) > 0 {
		return nil
	}
	var strips []test
	for _, x := range s.t.tests {
		if x.kind != "strip" || !s.atHand(x) || slices.ContainsFunc(s.fill.fluid.Readings, func(r Reading) bool { return r.Of == x.column }) {
			continue
		}
		if _, all, _ := s.tells(x); all {
			return nil
		}
		strips = append(strips, x)
	}
	for last := 1; last < len(strips); last++ { // by rising cost of the dearer one
		for first := range last {
			if found := s.together(&strips[first], &strips[last]); found != nil {
				return found
			}
		}
	}
	return nil
}

// reads reports whether a family may read high, or low, in a test. A low
// reading rules a family out only while the fill is in date.
func (s *situation) reads(w *world, x *test, high bool) bool {
	i := s.fill.may[w.fill]
	if high {
		return s.t.families[i].holds[x.column] != minus
	}
	return s.t.families[i].holds[x.column] != plus || !s.t.inDate(&s.q.Fill, i)
}

func (s *situation) together(x, y *test) *Settle {
	alone := func(x *test, high bool) bool { // lets it go in by itself
		o, any := s.combine(func(w *world) bool { return s.reads(w, x, high) })
		return any && (o == compat.Yes || o == compat.Caution)
	}
	var ways []branch
	pours, all := false, true
	for _, xHigh := range []bool{false, true} {
		for _, yHigh := range []bool{false, true} {
			o, any := s.combine(func(w *world) bool { return s.reads(w, x, xHigh) && s.reads(w, y, yHigh) })
			if !any {
				continue
			}
			if o == compat.Yes || o == compat.Caution {
				pours = pours || !alone(x, xHigh) && !alone(y, yHigh)
				ways = append(ways, branch{x.name + " " + x.word(xHigh) + " and " + y.name + " " + y.word(yHigh), o})
			} else if o == compat.CannotSay {
				all = false
			}
		}
	}
	if !pours {
		return nil
	}
	says := ""
	for _, w := range ways {
		says += w.says + ": " + pourWords(w.outcome) + "; "
	}
	if all {
		says += "anything else: do not pour"
	} else {
		says += "anything else: still don't pour"
	}
	return &Settle{x.name + " and " + y.name, says, x.cost + " and " + y.cost, true}
}

// word is what a reading of the test is called.
func (x *test) word(high bool) string {
	if high {
		return x.high
	}
	return x.low
}
