package coolant

import (
	"cmp"
	"slices"

	"fitfill/compat"
)

// world is one thing that the fluids may be: the families in the fill with
// their shares, one family in the bottle, and the rule of every two of them.
type world struct {
	fill  int // index into substance.may; -1 where the fill is a known mix
	add   int // index into substance.may of the bottle
	comps []component
	top   int  // family in the bottle
	wet   bool // water meets something: shares by volume
	links []link
	spent bool // a test says that this fill has to come out
}

// link is two families that meet: components i and j, or component i and the
// bottle where j is -1.
type link struct {
	i, j   int
	rule   rule
	held   float64        // per cent, the smaller part of the two in the fill by itself
	before compat.Outcome // of the fill by itself
}

// sameShare is how far apart two shares may be that are meant to be equal.
const sameShare = 1e-12

// makeWorlds lists everything that the fluids may be, the likeliest first.
func (s *situation) makeWorlds() {
	fills := [][]component{s.fill.mixed}
	if !s.fill.knownMix() {
		fills = make([][]component, len(s.fill.may))
		for i, f := range s.fill.may {
			fills[i] = merge(slices.Clone(s.fill.mixed), component{f, cmp.Or(s.fill.rest, 1)})
		}
	}
	for fi, comps := range fills {
		for ai, a := range s.add.may {
			w := world{fill: fi, add: ai, comps: comps, top: a}
			if s.fill.knownMix() {
				w.fill = -1
			}
			wet := s.t.byID[waterID]
			w.wet = a == wet || len(comps) == 1 && comps[0].family == wet
			s.link(&w)
			_, w.spent = s.condemnedBy(mostOf(comps))
			s.worlds = append(s.worlds, w)
		}
	}
	s.outs = make([]compat.Outcome, len(s.worlds))
	s.spentAll = len(s.worlds) > 0 && !slices.ContainsFunc(s.worlds, func(w world) bool { return !w.spent })
}

// mostOf returns the family of the largest share.
func mostOf(comps []component) int {
	most := comps[0]
	for _, c := range comps[1:] {
		if c.share > most.share {
			most = c
		}
	}
	return most.family
}

// link lists every two families that meet in a world. Where the bottle's
// family is in a mixed fill already, it brings in no new pair.
func (s *situation) link(w *world) {
	there := len(w.comps) > 1 && slices.ContainsFunc(w.comps, func(c component) bool { return c.family == w.top })
	for i, c := range w.comps {
		if !there {
			w.links = append(w.links, link{i: i, j: -1, rule: s.ruleFor(c.family, w.top), before: compat.Yes})
		}
		for j := i + 1; j < len(w.comps); j++ {
			l := link{i: i, j: j}
			switch d := w.comps[j]; w.top {
			case c.family:
				l.rule = s.ruleFor(d.family, w.top)
			case d.family:
				l.rule = s.ruleFor(c.family, w.top)
			default:
				l.rule = rule{pair: s.t.pairs[c.family][d.family], a: c.family, b: d.family}
			}
			l.held = 100 * min(c.share, w.comps[j].share)
			l.before, _ = l.rule.judge(l.held, false)
			w.links = append(w.links, l)
		}
	}
}

// share is the range of the bottle's share, 0 to 1, while strengths are not
// exactly known.
type share struct{ low, high float64 }

// shares are the bottle's share in the concentrate and in the volume.
type shares struct{ concentrate, volume share }

// of picks the share that counts: water has no concentrate and counts by its
// volume, everything else by its concentrate.
func (w *world) of(s shares) share {
	if w.wet {
		return s.volume
	}
	return s.concentrate
}

// foreign returns the largest part, in per cent, that the smaller of the two
// families of a link has within the range of s. Both parts are linear in s, so
// their smaller one is largest at an end or where they are equal.
func (l *link) foreign(w *world, s share) float64 {
	x, dx, y, dy := l.lines(w)
	at := func(s float64) float64 { return 100 * min(x+dx*s, y+dy*s) }
	worst := max(at(s.low), at(s.high))
	if even := (y - x) / (dx - dy); dx != dy && even > s.low && even < s.high {
		worst = max(worst, at(even))
	}
	return worst
}

// lines returns the parts of the two families of a link as x + dx·s and
// y + dy·s, s being the bottle's share.
func (l *link) lines(w *world) (x, dx, y, dy float64) {
	line := func(c component) (float64, float64) {
		if c.family == w.top && len(w.comps) > 1 {
			return c.share, 1 - c.share
		}
		return c.share, -c.share
	}
	x, dx = line(w.comps[l.i])
	if l.j >= 0 {
		y, dy = line(w.comps[l.j])
		return x, dx, y, dy
	}
	return x, dx, 0, 1
}

// weigh returns what pouring does in this world, the link that decides it and
// the share there. A pair that was there before counts only if pouring raises
// its share or makes it worse.
func (w *world) weigh(s shares, strong bool) (out compat.Outcome, deciding *link, pct float64) {
	if w.spent {
		return compat.No, nil, 0
	}
	out = compat.Yes
	for i := range w.links {
		l := &w.links[i]
		p := l.foreign(w, w.of(s))
		o, _ := l.rule.judge(p, strong)
		if l.j >= 0 && !o.Worse(l.before) && p <= l.held*(1+sameShare) {
			continue
		}
		if deciding == nil || o.Worse(out) {
			out, deciding, pct = o, l, p
		}
	}
	return out, deciding, pct
}
