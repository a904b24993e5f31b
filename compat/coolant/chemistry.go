package coolant

import "fitfill/compat"

// chemistry is what pouring an amount does, over everything that the fluids
// may be.
type chemistry struct {
	outcome compat.Outcome
	world   *world // the likeliest that decides
	link    *link  // the pair in it that decides, nil if nothing meets
	pct     float64
	any     bool // no amount is known: this is the worst of them
}

// chemistry weighs every world at one amount. All of them no: no. All at least
// caution: the worst of them. Some no and some better: nobody can say.
func (s *situation) chemistry(sh shares, strong bool) chemistry {
	var worst chemistry
	better := false
	for i := range s.worlds {
		w := &s.worlds[i]
		out, l, pct := w.weigh(sh, strong)
		s.outs[i] = out
		if out != compat.No {
			better = true
		}
		if i == 0 || out.Worse(worst.outcome) {
			worst = chemistry{outcome: out, world: w, link: l, pct: pct}
		}
	}
	if worst.outcome == compat.No && better {
		worst.outcome = compat.CannotSay
	}
	return worst
}

// combine gives the verdict over some of the worlds as they were last weighed.
func (s *situation) combine(take func(*world) bool) (compat.Outcome, bool) {
	worst, no, better, any := compat.Yes, false, false, false
	for i := range s.worlds {
		if !take(&s.worlds[i]) {
			continue
		}
		any = true
		worst = compat.Worst(worst, s.outs[i])
		if s.outs[i] == compat.No {
			no = true
		} else {
			better = true
		}
	}
	if no && better {
		worst = compat.CannotSay
	}
	return worst, any
}
