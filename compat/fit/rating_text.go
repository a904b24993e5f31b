package fit

import (
	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// opened is the opening temperature that one sheet prints for the part.
type opened struct {
	at     units.Temperature
	origin catalog.Origin
	said   statement
}

var pairText = pattern.New(`^\D*(\d{2,3}(?:[.,]\d+)?)\s*(?:°\s*)?([CF]?)\s*/\s*(\d{2,3}(?:[.,]\d+)?)\s*(?:°\s*)?([CF]?)\D*$`).Needing("/")

// pair reads a cell that holds two temperatures, "82/95". When the second lies
// above the first by what full lift takes (11 to 15 K), it is the full-open
// temperature and the first the start-to-open one. The unit is the one that
// makes the stated value one of the two.
func (t *Tables) pair(s catalog.Stated[units.Temperature]) (start, full units.Temperature, ok bool) {
	m := pairText.FindStringSubmatch(s.Text)
	if m == nil {
		return start, full, false
	}
	for _, to := range []func(float64) units.Temperature{units.Celsius, units.Fahrenheit} {
		start, full = to(decimal(m[1])), to(decimal(m[3]))
		if s.Value != start && s.Value != full && s.Value != middle(start, full) {
			continue
		}
		if t.isFullOpenOf(full, start) {
			return start, full, true
		}
	}
	return start, full, false
}

func middle(a, b units.Temperature) units.Temperature {
	return units.TemperatureOf((a.MilliCelsius() + b.MilliCelsius()) / 2)
}

// isFullOpenOf reports whether one temperature is where a thermostat of that
// rating is fully open.
func (t *Tables) isFullOpenOf(full, rating units.Temperature) bool {
	above := full.Sub(rating).Kelvins()
	return above >= t.limits.of(fullOpenLow) && above <= t.limits.of(fullOpenHigh)
}

// opening returns the start-to-open temperature that a part's sheet prints.
func (t trial) opening(p *catalog.Part) (units.Temperature, bool) {
	if !p.OpeningTemp.Known {
		return units.Temperature{}, false
	}
	if start, _, ok := t.pair(p.OpeningTemp); ok {
		return start, true
	}
	return p.OpeningTemp.Value, true
}

// Opens returns where a part starts to open as its sheet prints it: of "82/95"
// the first.
func (t *Tables) Opens(p *catalog.Part) catalog.Stated[units.Temperature] {
	out := p.OpeningTemp
	if at, ok := (trial{Tables: t}).opening(p); ok {
		out.Value = at
	}
	return out
}

// openings returns what the sheets print for this part, its own first, copies
// left out. A stamp that the garage read off the part replaces what was printed.
func (t trial) openings() []opened {
	var out []opened
	for _, p := range t.sheets() {
		at, ok := t.opening(p)
		if !ok {
			continue
		}
		o := opened{at, p.OpeningTemp.Origin, t.said(p.OpeningTemp.Origin, p.Supplier)}
		if o.said.supplier == "" { // read off the part itself
			return []opened{o}
		}
		copied := false
		for _, have := range out {
			copied = copied || have.said.same(o.said) && have.at == at
		}
		if !copied {
			out = append(out, o)
		}
	}
	return out
}

// fullOpen notes a full-open temperature that stands, or may stand, where the
// opening temperature is asked for.
func (t trial) fullOpen() []result {
	p := t.c.Part
	f := compat.Finding{Check: "full-open temperature", Outcome: compat.Yes, Grade: compat.CommonPractice, Origin: cite(from(p.OpeningTemp.Origin), t.limits.cite(fullOpenLow, fullOpenHigh)...)}
	if start, full, ok := t.pair(p.OpeningTemp); p.OpeningTemp.Known && ok {
		f.Says = "\"" + oneLine(p.OpeningTemp.Text) + "\" is read as start-to-open " + t.show.temperature(start) + " and full-open " + t.show.temperature(full) + "."
		return []result{{Finding: f}}
	}
	if !p.OpeningTemp.Known && p.FullOpenTemp.Known {
		low := p.FullOpenTemp.Value.Add(units.Kelvins(-t.limits.of(fullOpenHigh)))
		high := p.FullOpenTemp.Value.Add(units.Kelvins(-t.limits.of(fullOpenLow)))
		f.Origin = cite(from(p.FullOpenTemp.Origin), t.limits.cite(fullOpenLow, fullOpenHigh)...)
		f.Says = "Fully open at " + t.show.temperature(p.FullOpenTemp.Value) + ", so it should start to open between " + t.show.temperature(low) + " and " + t.show.temperature(high) + "."
		return []result{{Finding: f}}
	}
	e := t.q.Engine.OpeningTemp
	if !p.OpeningTemp.Known || !e.Known || !t.isFullOpenOf(p.OpeningTemp.Value, e.Value) {
		return nil
	}
	f.Origin = cite(from(p.OpeningTemp.Origin, e.Origin), t.limits.cite(fullOpenLow, fullOpenHigh)...)
	f.Says = t.show.temperature(p.OpeningTemp.Value) + " is where a thermostat stamped " + t.show.temperature(e.Value) + " is fully open: the sheet may print that instead of the stamp. Read the stamp."
	return []result{{Finding: f, ask: "What is stamped on it? The printed value may be the full-open temperature."}}
}
