package coolant

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

const checkLog = "log"

// Poured is one entry of the log of what went into a system. A top-off drains
// nothing: what it replaces was lost before, at the strength that was in there.
type Poured struct {
	Chemistry string // id, "" if not known
	Strength  catalog.Stated[units.Percent]
	Glycol    string
	Volume    units.Volume
	Drained   catalog.Stated[units.Volume] // not known: as much as was poured had been lost
	Origin    catalog.Origin
}

// charged is what a system holds while the log is read, in litres.
type charged struct {
	of   map[string]float64 // concentrate by chemistry; "" for what nobody knows
	all  float64            // volume
	glyc map[string]float64 // glycol by kind; "" for what is not stated
}

func (c *charged) scale(f float64) {
	for k := range c.of {
		c.of[k] *= f
	}
	for k := range c.glyc {
		c.glyc[k] *= f
	}
	c.all *= f
}

func (c *charged) add(chemistry, glycol string, litres, strength float64) {
	c.of[chemistry] += litres * strength / 100
	if strength > 0 {
		c.glyc[glycol] += litres * strength / 100
	}
	c.all += litres
}

func (c *charged) concentrate() float64 {
	sum := 0.0
	for _, v := range c.of {
		sum += v
	}
	return sum
}

// FillByLog returns what a system of that capacity holds after the log, oldest
// entry first, if before it held start at full volume. Before each entry the
// system loses what was drained, or what had been lost, of the mix that was in
// it; so k top-offs of the share p each leave (1-p)^k of the old fill. The
// strength is known where all the strengths in it leave it uncertain by no more
// than the usual; otherwise it stays open.
func (t *Tables) FillByLog(start Fluid, capacity units.Volume, log []Poured) Fluid {
	full := capacity.Litres()
	if full <= 0 || len(log) == 0 {
		return start
	}
	ends := [2]charged{t.replayInto(start, full, log, 0), t.replayInto(start, full, log, 1)}
	f := start
	f.Strength, f.StrengthPM, f.Mixed, f.Presumed = catalog.Stated[units.Percent]{}, units.Percent{}, nil, false
	for _, p := range log {
		f.Origins = append(f.Origins, p.Origin)
	}
	low, high := 100*ends[0].concentrate()/ends[0].all, 100*ends[1].concentrate()/ends[1].all
	if (high-low)/2 <= t.lim.strengthPM {
		f.Strength = catalog.Say(units.Percents((low+high)/2), "", catalog.Origin{})
		f.StrengthPM = units.Percents((high-low)/2 + t.lim.strengthPM)
	}
	if high == 0 {
		f.Chemistries = []string{waterID}
		return f
	}
	f.Glycol = oneGlycol(ends)
	// Of what is not known the middle of the usual strengths counts.
	shares := map[string]float64{}
	whole := 0.0
	for _, c := range ends {
		for id, v := range c.of {
			shares[id] += v
			whole += v
		}
	}
	for id, v := range shares {
		if v > 0 {
			f.Mixed = append(f.Mixed, Share{cmp.Or(id, unknownID), units.Percents(100 * v / whole)})
		}
	}
	slices.SortFunc(f.Mixed, func(a, b Share) int {
		return cmp.Or(b.Percent.Compare(a.Percent), cmp.Compare(a.Chemistry, b.Chemistry))
	})
	return f
}

// replayInto reads the log with every strength that is not known at the low (0) or
// the high (1) end of the usual.
func (t *Tables) replayInto(start Fluid, full float64, log []Poured, end int) charged {
	c := charged{of: map[string]float64{}, glyc: map[string]float64{}}
	usual := func(s catalog.Stated[units.Percent], low, high float64) float64 {
		if s.Known {
			return s.Value.Percents()
		}
		return [2]float64{low, high}[end]
	}
	id := ""
	if len(start.Chemistries) == 1 {
		id = start.Chemistries[0]
	}
	if id == waterID {
		c.add("", "", full, 0)
	} else {
		c.add(id, start.Glycol, full, usual(start.Strength, t.lim.fillLow, t.lim.fillHigh))
	}
	for _, p := range log {
		poured := p.Volume.Litres()
		left := min(c.all, max(0, full-poured))
		if p.Drained.Known {
			left = max(0, c.all-p.Drained.Value.Litres())
		}
		if c.all > 0 {
			c.scale(left / c.all)
		}
		strength := 0.0
		if p.Chemistry != waterID {
			strength = usual(p.Strength, t.lim.premix, t.lim.concentrate)
		}
		c.add(p.Chemistry, p.Glycol, poured, strength)
		if c.all > full {
			c.scale(full / c.all) // what is over runs off mixed
		}
	}
	delete(c.of, waterID)
	return c
}

// oneGlycol returns the glycol where it is all of one stated kind.
func oneGlycol(ends [2]charged) string {
	kind := ""
	for _, c := range ends {
		for k, v := range c.glyc {
			switch {
			case v <= 0:
			case k == "" || kind != "" && k != kind:
				return ""
			default:
				kind = k
			}
		}
	}
	return kind
}

// logFinding says what is in there by the log.
func (s *situation) logFinding() {
	f := s.fill.fluid
	if len(f.Origins) == 0 || len(f.Mixed) == 0 {
		return
	}
	var parts []string
	for _, sh := range f.Mixed {
		name := "not known"
		if sh.Chemistry != unknownID {
			name = s.t.Name(sh.Chemistry)
		}
		parts = append(parts, fmt.Sprintf("%.0f %% %s", sh.Percent.Percents(), name))
	}
	text := "By its log the coolant in there is " + strings.Join(parts, ", ")
	if f.Strength.Known {
		text += fmt.Sprintf("; strength about %.0f %%", f.Strength.Value.Percents())
	}
	found := compat.Finding{Check: checkLog, Outcome: compat.Yes, Grade: compat.Listed, Says: text + "."}
	for _, o := range f.Origins {
		found.Origin = append(found.Origin, cite(o)...)
	}
	s.note(found)
}
