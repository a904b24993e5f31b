package coolant

import (
	"fmt"
	"math"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// plan writes the course out.
func (p *flushing) plan() FlushPlan {
	t, c := p.t, &p.course
	low, high := c.ends()
	out := FlushPlan{
		LeftMax: units.Percents(p.leftMax), ShareMax: units.Percents(p.shareMax), Target: units.Percents(c.target),
		OldShare: units.Percents(high.foreign()), BottleIs: "concentrate", Candidates: p.candidates(),
		Start: t.chargeOf(p, brew{old: c.volume * c.oldLow / 100, water: c.volume * (1 - c.oldLow/100)}),
	}
	if p.premix {
		out.BottleIs = "ready to pour"
	}
	strong := c.strong()
	out.Reachable = p.little && strong
	if !p.hopeless() {
		out.Rounds = p.rounds()
		a, b := units.Percents(low.strength()), units.Percents(high.strength())
		out.Final, out.FinalHigh, out.Freeze = &a, &b, p.freezing(low)
	}
	for _, r := range out.Rounds {
		out.Bottle, out.Water, out.Waste = out.Bottle.Add(r.Bottle), out.Water.Add(r.Water), out.Waste.Add(r.Drain)
	}
	p.oldFinding(high)
	p.strengthFinding(low, high, strong)
	p.coldFinding(out.Freeze)
	if out.Reachable {
		p.judgeAfter(high, low)
	}
	out.Nearest = p.nearest(out.Reachable)
	out.Findings, out.NotChecked = p.findings, p.missing
	out.Outcome = compat.Yes
	for _, f := range p.findings {
		if f.Check != checkOld || f.Outcome != compat.Caution { // that more may stay was asked for
			out.Outcome = compat.Worst(out.Outcome, f.Outcome)
		}
	}
	if len(out.Rounds) > 0 {
		out.Steps = p.steps()
	}
	out.Cautions = p.cautions()
	out.First = p.first(&out)
	return out
}

// hopeless reports whether any trace of the old coolant counts and some stays:
// then no number of rounds does.
func (p *flushing) hopeless() bool {
	return !p.little && p.shareMax == 0 && !p.q.Left.Known
}

func (p *flushing) candidates() []string {
	list := make([]string, len(p.from.may))
	for i, f := range p.from.may {
		list[i] = p.t.families[f].id
	}
	return list
}

// rounds writes out what each round drains, takes and leaves.
func (p *flushing) rounds() []FlushRound {
	c := &p.course
	pours := c.pours()
	lows, highs := c.run(c.oldLow, pours), c.run(c.oldHigh, pours)
	list := make([]FlushRound, len(pours))
	before := p.t.chargeOf(p, brew{old: c.volume * c.oldLow / 100, water: c.volume * (1 - c.oldLow/100)})
	for i, in := range pours {
		r := FlushRound{
			Drain: litres(c.drain), With: RinseWater, Bottle: litres(in.bottle), OldLeft: units.Percents(c.left(i + 1)),
			Strength: units.Percents(lows[i].strength()), StrengthHigh: units.Percents(highs[i].strength()), Freeze: p.freezing(lows[i]),
			Drained: before.scale(c.drain / c.volume), Standing: p.t.chargeOf(p, lows[i]),
		}
		r.Water = r.Drain.Sub(r.Bottle)
		glycol := in.bottle * c.bottle / 100
		r.Poured = p.t.chargeOf(p, brew{fresh: glycol, water: in.bottle - glycol + in.water})
		switch {
		case i >= c.rounds-c.fresh:
			r.With = RinseCoolant
		case i == 0 && p.extra > 0:
			r.With = "water with the cleaner"
		case i < p.extra:
			r.With = "neutralising rinse"
		}
		r.DoNotLeave = p.doNotLeave(r.Freeze, lows[i])
		before = r.Standing
		list[i] = r
	}
	return list
}

func (c Charge) scale(f float64) Charge { return Charge{c.Ethylene * f, c.Propylene * f, c.Water * f} }

// chargeOf is what stands, by mass.
func (t *Tables) chargeOf(p *flushing, b brew) Charge {
	return t.pour(p.from.glycol, b.old, 1).Add(t.pour(p.to.glycol, b.fresh, 1)).Add(t.pour("", b.water, 0))
}

// freezing is the freezing point of what stands, nil where no table has it.
func (p *flushing) freezing(b brew) *Figure[units.Temperature, units.TempDelta] {
	for _, id := range []string{waterlessID, lowConductivityID} {
		if p.t.is(&p.from, id) || p.t.is(&p.to, id) {
			return nil
		}
	}
	charge := p.t.chargeOf(p, b)
	pm := 0.0
	if b.old+b.fresh > 0 {
		pm = p.t.lim.strengthPM
	}
	f, d, err := p.t.Freezing(charge, units.Percents(pm))
	if err != nil {
		return nil
	}
	return &boilFigure{f, d}
}

// doNotLeave reports whether what stands may freeze on the coldest day; where
// that is not known, whether it protects no more than water does.
func (p *flushing) doNotLeave(f *Figure[units.Temperature, units.TempDelta], b brew) bool {
	if f == nil {
		return false
	}
	if !p.q.Coldest.Known {
		return b.strength() < p.t.lim.strengthMin
	}
	return f.Value.Celsius()+f.PM.Kelvins() > p.q.Coldest.Value.Celsius()
}

// steps are the sentences of the plan.
func (p *flushing) steps() []string {
	opens := "the thermostat opens"
	if e := p.q.Engine; e != nil && e.OpeningTemp.Known {
		opens += " (" + p.q.Show.FormatTemperature(e.OpeningTemp.Value) + ")"
	}
	look, seen := p.t.conditions[p.q.Condition]
	show := map[string]bool{
		"always": true, "rounds": p.course.rounds > 1, "water-rounds": p.course.rounds > p.course.fresh,
		"cleaner": p.q.Cleaner != nil, "cleaner-unlabelled": p.extra > 1, "oily": seen && !look.getHome,
		"dirty": seen && look.outcome == compat.No,
	}
	var list []string
	for _, l := range p.t.flushLines {
		if show[l.when] {
			list = append(list, strings.ReplaceAll(l.says, "{opens}", opens))
		}
	}
	if c := &p.course; c.rounds > c.fresh+1 && p.extra == 0 {
		keep := 1 - c.drain/c.volume
		before := c.left(c.rounds) / keep // what the last drain may leave to itself
		if q, err := FlushThrough(litres(c.volume), units.Percents(before)); err == nil {
			list = append(list, fmt.Sprintf("Or, in place of the rounds with water, run about %s of water through it at low pressure, thermostat out; then drain and fill as in the last round.", p.q.Show.FormatVolume(litres(math.Ceil(q.Litres())))))
		}
	}
	return list
}

// cautions are those that hold for every opened system.
func (p *flushing) cautions() []string {
	s := situation{t: p.t, q: &Question{Engine: p.q.Engine, Circuit: p.q.Circuit}, loop: p.loop, fill: p.from}
	return s.cautions()
}

// askLoop is the answer while it is not known which loop is meant.
func (p *flushing) askLoop() FlushPlan {
	return FlushPlan{
		First: "cannot say: name the loop first", Outcome: compat.CannotSay, Ask: p.ask, Cautions: p.cautions(), Candidates: p.candidates(),
		Findings: []compat.Finding{{
			Check: checkCircuit, Outcome: compat.CannotSay, Grade: compat.CommonPractice, Says: p.ask + " They do not take the same fluid.",
			Origin: some(cite(p.engineOrigin())),
		}},
	}
}

func (p *flushing) engineOrigin() catalog.Origin {
	if p.q.Engine.Electrified.Known {
		return p.q.Engine.Electrified.Origin
	}
	for _, c := range p.q.Engine.Circuits {
		if c.CoolantChem.Known {
			return c.CoolantChem.Origin
		}
	}
	return catalog.Origin{}
}
