package coolant

import (
	"errors"
	"fmt"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// flushing is one question about a flush with all that is worked out first.
type flushing struct {
	t    *Tables
	q    *FlushQuestion
	loop *catalog.Circuit
	ask  string

	from, to substance
	new      int // family of what goes in
	worst    int // family of the old fill that takes the least
	rinse    string
	method   drainMethod
	premix   bool

	course   course
	shareMax float64 // of the old in all concentrate, per cent
	leftMax  float64 // of the old fill, per cent
	extra    int     // rounds that a cleaner needs
	little   bool    // little enough of the old coolant is left

	findings, missing []compat.Finding
}

func (t *Tables) roundsMax() int { return int(t.limits[limitRounds].value) }

// flushing reads the question.
func (t *Tables) flushing(q *FlushQuestion) (*flushing, error) {
	p := &flushing{t: t, q: q}
	if q.Engine != nil {
		p.loop, _, p.ask = loopOf(q.Engine, q.Circuit)
	}
	p.from = t.substance(&q.From, false, p.loop)
	p.to = t.substance(&q.To, true, p.loop)
	one, ok := p.to.only()
	if !ok {
		return nil, errors.New("what goes in has to be one known coolant: name its product number or its chemistry")
	}
	p.new = one
	if p.ask != "" {
		return p, nil
	}
	if err := p.volumes(); err != nil {
		return nil, err
	}
	c := &p.course
	c.oldLow, c.oldHigh = p.from.low, p.from.high
	p.premix = p.to.high <= t.lim.fillHigh // no stronger than a fill: ready to pour
	if c.bottle = p.to.high; t.families[p.new].id == waterlessID && !p.to.exact {
		c.bottle = 100
	}
	switch p.rinse = q.Rinse; {
	case t.families[p.new].id == waterlessID || t.families[p.new].id == lowConductivityID:
		p.rinse = RinseCoolant
	case p.rinse == "" && p.premix:
		p.rinse = RinseCoolant
	case p.rinse == "":
		p.rinse = RinseWater
	case p.rinse != RinseWater && p.rinse != RinseCoolant:
		return nil, fmt.Errorf("%q is nothing to rinse with: it is water or coolant", p.rinse)
	}
	return p, nil
}

// volumes works out what the system holds and what one drain takes out.
func (p *flushing) volumes() error {
	var v, d float64
	if p.loop != nil {
		v, d = p.loop.CoolantCapacity.Value.Litres(), p.loop.DrainVolume.Value.Litres()
	}
	if p.q.Volume.Known {
		if v > 0 && p.q.Volume.Value.Litres() != v && !p.q.Drain.Known {
			d = 0 // the drain volume on file belongs to the capacity on file
		}
		v = p.q.Volume.Value.Litres()
	}
	if v <= 0 {
		return errors.New("how much the system holds is not known: say it with --volume, or name an engine whose capacity is on file")
	}
	id := p.q.Method
	if id == "" {
		id = p.t.drains[0].id
	}
	var ok bool
	if p.method, ok = p.t.drainMethod(id); !ok {
		return fmt.Errorf("%q is no way to drain that is on file", id)
	}
	switch {
	case p.q.Drain.Known:
		d = p.q.Drain.Value.Litres()
	case p.q.Method != "" && p.q.Method != p.t.drains[0].id, d <= 0:
		d = max(d, v*p.method.low/100)
		p.note(compat.Finding{
			Check: "drain", Outcome: compat.Yes, Grade: compat.CommonPractice, Origin: []compat.Evidence{compat.Cite(p.method.row)},
			Says: fmt.Sprintf("Counted with %s out each time: %s frees %.0f to %.0f %%. Measure it.", p.q.Show.FormatVolume(litres(d)), p.method.says, p.method.low, p.method.high),
		})
	}
	switch {
	case d <= 0:
		return errors.New("nothing drains at 0 L: measure what comes out of the tap and say it with --drain")
	case d > v*(1+rounding):
		return fmt.Errorf("%s cannot drain out of a system that holds %s: check both figures", p.q.Show.FormatVolume(litres(d)), p.q.Show.FormatVolume(litres(v)))
	}
	p.course.volume, p.course.drain = v, min(d, v)
	return nil
}

// aim works out how much of the old coolant may stay and how strong it ends.
func (p *flushing) aim() {
	t := p.t
	p.shareMax, p.worst = 100, -1
	for _, i := range p.from.may {
		if clean := t.CleanShare(t.families[i].id, t.families[p.new].id).Percents(); p.worst < 0 || clean < p.shareMax {
			p.shareMax, p.worst = clean, i
		}
	}
	if p.t.is(&p.from, waterID) || p.t.families[p.new].id == waterID {
		p.shareMax = 100
	}
	p.leftMax = 100
	if p.q.Left.Known {
		p.leftMax = p.q.Left.Value.Percents()
	} else if look, ok := t.conditions[p.q.Condition]; ok && look.outcome == compat.No && p.q.Condition != rustyID {
		p.leftMax = t.limits[limitOily].value
	}
	p.course.target = p.targetStrength()
	// A bottle that is no stronger than what is asked for comes near it and
	// never quite there: what no reading tells apart counts as there.
	if c := &p.course; c.target > c.bottle-rounding && c.target <= c.bottle+t.lim.strengthPM {
		c.target, c.slack = c.bottle, t.lim.strengthPM
	}
}

const rustyID = "rusty"

// targetStrength is the strength to end at: as asked for, else what the engine
// asks for or the cold needs, whichever is more, else the usual.
func (p *flushing) targetStrength() float64 {
	if p.q.Strength.Known {
		return p.q.Strength.Value.Percents()
	}
	id := p.t.families[p.new].id
	if id == waterID {
		return 0
	}
	if id == waterlessID || id == lowConductivityID {
		return p.course.bottle
	}
	want := p.t.limits[limitFlushStrength].value
	if p.loop != nil && p.loop.Strength.Known {
		want = p.loop.Strength.Value.Percents()
	}
	if p.q.Coldest.Known {
		cold := p.q.Coldest.Value.Add(units.Kelvins(-p.t.lim.freezeMargin))
		need, err := p.t.StrengthNeededAsPoured(p.to.glycol, cold)
		if err != nil { // colder than any strength protects: the most that does
			c := p.t.curveOf(p.to.glycol)
			need, _ = p.t.StrengthNeededAsPoured(p.to.glycol, units.Celsius(c.freeze[len(c.freeze)-1]))
		}
		want = max(want, need.Percents())
	}
	return want
}

func (p *flushing) note(f compat.Finding) {
	if f.NotChecked {
		p.missing = append(p.missing, f)
		return
	}
	f.Origin = some(slices.Compact(f.Origin))
	p.findings = append(p.findings, f)
}
