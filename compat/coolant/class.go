package coolant

import (
	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// class says what a pair of chemistries of that class does at a share of
// foreign concentrate.
type class struct {
	name    string
	ignored float64 // per cent below which the share does not count
	bands   []band  // by rising share
}

// band is one range of shares of a class.
type band struct {
	upTo    float64 // per cent
	outcome compat.Outcome
	says    string
	row     catalog.RefRow
}

func (t *Tables) loadClasses(rows []catalog.RefRow) error {
	t.classes = map[string]*class{}
	for _, r := range rows {
		var b band
		var err error
		if b.upTo, err = r.Float("up_to_pct"); err != nil {
			return err
		}
		ignored, err := r.Float("ignored_up_to_pct")
		if err != nil {
			return err
		}
		if err := b.outcome.UnmarshalText([]byte(r.Get("outcome"))); err != nil {
			return unreadable(r, "outcome", "is not an outcome")
		}
		b.says, b.row = r.Get("says"), r
		c := t.classes[r.Get("class")]
		if c == nil {
			c = &class{name: r.Get("class"), ignored: ignored}
			t.classes[c.name] = c
		}
		if n := len(c.bands); n > 0 && (b.upTo <= c.bands[n-1].upTo || c.bands[n-1].outcome.Worse(b.outcome)) {
			return unreadable(r, "up_to_pct", "does not follow the band before: shares rise and the outcome may only get worse")
		}
		c.bands = append(c.bands, b)
	}
	for _, c := range t.classes {
		last := c.bands[len(c.bands)-1]
		if last.upTo < 100 {
			return unreadable(last.row, "up_to_pct", "must reach 100 in the last band of a class")
		}
	}
	return nil
}

// band returns the index of the band for a share in per cent, -1 where the
// share is too small to count.
func (c *class) band(pct float64, trace bool) int {
	const rounding = 1e-9 // shares that meet a limit come out of divisions
	if pct <= 0 || pct <= c.ignored+rounding && !trace {
		return -1
	}
	for i, b := range c.bands {
		if pct <= b.upTo+rounding {
			return i
		}
	}
	return len(c.bands) - 1
}

// CleanShare returns the largest share of foreign concentrate that the pair of chemistries still takes with a yes. It is what a flush has
// to reach, so that a fill flushed to plan is judged clean. Not on file: 0.
func (t *Tables) CleanShare(a, b string) units.Percent {
	i, okA := t.byID[a]
	j, okB := t.byID[b]
	if !okA || !okB {
		return units.Percent{}
	}
	p := t.pairs[i][j]
	clean := 0.0
	if !p.trace {
		clean = p.class.ignored
	}
	for _, band := range p.class.bands {
		if band.outcome == compat.Yes {
			clean = max(clean, band.upTo)
		}
	}
	return units.Percents(clean)
}
