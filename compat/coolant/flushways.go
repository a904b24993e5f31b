package coolant

import (
	"fmt"

	"fitfill/catalog/units"
)

// nearest lists the other ways that get there, the least change first: where
// the way asked for does not, any; where it does, those with fewer rounds.
func (p *flushing) nearest(reached bool) []FlushWay {
	var list []FlushWay
	try := func(flag, says string, change func(*flushing)) {
		other := *p
		q := *p.q
		other.q = &q
		other.findings, other.missing = nil, nil
		change(&other)
		other.choose()
		if !other.little || !other.course.strong() || reached && other.course.rounds >= p.course.rounds {
			return
		}
		low, _ := other.course.ends()
		w := FlushWay{Flag: flag, Rounds: other.course.rounds, Final: units.Percents(low.strength())}
		for _, in := range other.course.pours() {
			w.Bottle = w.Bottle.Add(litres(in.bottle))
		}
		w.Says = fmt.Sprintf("%s: %d rounds, %s of coolant, ends at %.3g %%", says, w.Rounds, p.q.Show.FormatVolume(w.Bottle), low.strength())
		if w.Rounds == 1 {
			w.Says = fmt.Sprintf("%s: 1 round, %s of coolant, ends at %.3g %%", says, p.q.Show.FormatVolume(w.Bottle), low.strength())
		}
		list = append(list, w)
	}
	if !reached && p.rinse == RinseWater {
		try("--coolant-rounds 2", "coolant in the last two rounds instead of one", func(o *flushing) { o.q.Fresh = 2 })
		try("--rinse coolant", "coolant in every round instead of water", func(o *flushing) { o.rinse = RinseCoolant })
	}
	for _, m := range p.t.drains {
		if d := p.course.volume * m.low / 100; d > p.course.drain*(1+rounding) && m.id != p.t.drains[0].id {
			try("--drain-with "+m.id, fmt.Sprintf("%s (%.0f %% out or more)", m.says, m.low), func(o *flushing) { o.course.drain = d })
		}
	}
	return list
}
