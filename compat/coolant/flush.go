package coolant

import (
	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// FlushQuestion asks how to get from what is in a system to what shall be in
// it by draining and refilling.
type FlushQuestion struct {
	Engine  *catalog.EngineFamily // nil if none is named
	Circuit string

	From, To Fluid
	Volume   catalog.Stated[units.Volume] // of the whole system; else the engine's capacity
	Drain    catalog.Stated[units.Volume] // that really comes out; else by Method, else the engine's drain volume
	Method   string                       // tap, block-plug, vacuum; "" is the tap
	Left     catalog.Stated[units.Percent]
	Strength catalog.Stated[units.Percent] // to end at, vol % as poured
	Coldest  catalog.Stated[units.Temperature]

	Rinse     string        // water, coolant, or "" for what the bottle needs
	Fresh     int           // how many of the last rounds get coolant; 0: one
	Cleaner   *catalog.Part // nil if none is used
	Condition string        // how the old fill looks
	Show      units.System
}

// What the rounds before the last are filled with.
const (
	RinseWater   = "water"
	RinseCoolant = "coolant"
)

// FlushRound is one drain and the refill after it.
type FlushRound struct {
	Drain        units.Volume
	With         string // water or coolant
	Bottle       units.Volume
	Water        units.Volume
	OldLeft      units.Percent // of the old fill
	Strength     units.Percent // standing in the system, for the weakest old fill
	StrengthHigh units.Percent // and for the strongest
	Freeze       *Figure[units.Temperature, units.TempDelta]
	DoNotLeave   bool // it freezes above the coldest day, or that day is not known and it freezes as water does

	Drained, Poured, Standing Charge // by mass, for the weakest old fill
}

// FlushPlan is how to do it, and whether it gets there.
type FlushPlan struct {
	First      string
	Outcome    compat.Outcome // yes: it gets there; caution: mind the findings; no: not that way
	Reachable  bool
	Rounds     []FlushRound
	LeftMax    units.Percent // of the old fill, what the plan aims at
	ShareMax   units.Percent // of the old concentrate in all concentrate, what the judgement takes; 100 if any
	OldShare   units.Percent // what it comes to, for the strongest old fill
	Target     units.Percent
	Final      *units.Percent // strength at the end; nil without rounds
	FinalHigh  *units.Percent
	Freeze     *Figure[units.Temperature, units.TempDelta]
	Bottle     units.Volume // coolant in all
	BottleIs   string       // concentrate or ready to pour
	Water      units.Volume
	Waste      units.Volume
	Start      Charge // by mass, for the weakest old fill
	Findings   []compat.Finding
	NotChecked []compat.Finding
	Nearest    []FlushWay // what does get there, or gets there sooner
	Steps      []string
	Cautions   []string
	Candidates []string
	Ask        string
}

// FlushWay is another way to do it.
type FlushWay struct {
	Flag   string // the flag of the command that asks for it
	Says   string
	Rounds int
	Bottle units.Volume
	Final  units.Percent
}

// Flush plans the rounds. The rounds are as few as leave no more of the old
// coolant than the pair of chemistries takes with a yes (CleanShare of the
// worst that the old fill may be), or than was asked for; the last of them is
// mixed to end at the target strength. More may stay than the pair takes where
// that was asked for: a finding says so and the outcome is that of the plan.
// Errors are sentences for the user.
func (t *Tables) Flush(q FlushQuestion) (FlushPlan, error) {
	p, err := t.flushing(&q)
	if err != nil {
		return FlushPlan{}, err
	}
	if p.ask != "" {
		return p.askLoop(), nil
	}
	p.aim()
	p.cleaner()
	p.choose()
	return p.plan(), nil
}

// choose counts the rounds: the fewest that leave little enough and do not end
// too strong. Where there are none, the most that anybody does are planned.
func (p *flushing) choose() {
	p.little = false
	for n := 1; n <= p.t.roundsMax() && !p.little; n++ {
		c := p.with(n)
		_, over := c.refill()
		// Rinsing with coolant, each round comes nearer to the bottle's strength.
		if p.clean(&c) && !over && (p.rinse != RinseCoolant || c.strong()) {
			p.course, p.little = c, true
		}
	}
	if !p.little {
		p.course = p.with(p.t.roundsMax())
		p.little = p.clean(&p.course)
	}
}

// with is the course with that many rounds besides those that a cleaner needs.
func (p *flushing) with(n int) course {
	c := p.course
	c.rounds, c.fresh = n+p.extra, min(max(p.q.Fresh, 1), n)
	if p.rinse == RinseCoolant {
		c.fresh = n
	}
	return c
}

// clean reports whether little enough of the old coolant is left.
func (p *flushing) clean(c *course) bool {
	if c.left(c.rounds) > p.leftMax+rounding {
		return false
	}
	if p.q.Left.Known {
		return true
	}
	_, high := c.ends()
	return high.foreign() <= p.shareMax+rounding
}

// strong reports whether the end is as strong as it has to be. Coolant that is
// ready to pour cannot make up for a weak old fill, so there the middle of what
// the old fill may have been counts.
func (c *course) strong() bool {
	low, high := c.ends()
	end := low.strength()
	if c.slack > 0 {
		end = (low.strength() + high.strength()) / 2
	}
	return end >= c.target-c.slack-1e-6
}
