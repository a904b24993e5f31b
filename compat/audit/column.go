package audit

import (
	"fmt"
	"math"
	"slices"

	"fitfill/catalog"
	"fitfill/compat"
)

var _ = register(func() any { return &columns{} })

// columns finds a whole column of temperatures that lies as far above everybody
// else's as a thermostat's full-open temperature lies above its rating (limits
// full_open_low and full_open_high): it holds the one where the other is meant.
type columns struct{ by map[string]*column }

// column is what one sheet says of opening temperatures.
type column struct {
	sheet   catalog.Origin
	parts   map[string]bool
	above   []float64 // K above the rating of the engine, or of all other lists
	lines   []compat.Evidence
	against []compat.Evidence
	bought  int
	engines map[string]bool
}

func (c *columns) engine(s *settings, e *Engine) []Finding {
	for i := range e.Parts {
		l := &e.Parts[i]
		if !l.Opens.Known || len(l.Fitments) == 0 {
			continue
		}
		usual, from, ok := usualRating(e, l)
		if !ok {
			continue
		}
		if c.by == nil {
			c.by = map[string]*column{}
		}
		at := l.Opens.Origin
		col := c.by[at.SHA256+at.Sheet]
		if col == nil {
			col = &column{sheet: at, parts: map[string]bool{}, engines: map[string]bool{}}
			c.by[at.SHA256+at.Sheet] = col
		}
		if col.parts[l.Part.Key] {
			continue
		}
		col.parts[l.Part.Key], col.engines[e.Family.Family] = true, true
		col.above = append(col.above, l.Opens.Value.Celsius()-usual)
		col.lines = append(col.lines, compat.From(at))
		col.against = append(col.against, from)
		col.bought += s.bought(&l.Part)
	}
	return nil
}

// usualRating returns the rating of the engine by the garage's own sheet, else
// the middle one of what the other suppliers' parts open at.
func usualRating(e *Engine, l *Listed) (float64, compat.Evidence, bool) {
	if own := e.Family.OpeningTemp; own.Known {
		return own.Value.Celsius(), compat.From(own.Origin), true
	}
	var list []float64
	var from compat.Evidence
	for i := range e.Parts {
		if o := &e.Parts[i]; o.Opens.Known && !e.oneList(o.Part.Supplier, l.Part.Supplier) && comparable(l, o) {
			list = append(list, o.Opens.Value.Celsius())
			from = compat.From(o.Opens.Origin)
		}
	}
	if len(list) == 0 {
		return 0, from, false
	}
	slices.Sort(list)
	return list[len(list)/2], from, true
}

func (c *columns) end(s *settings) []Finding {
	var out []Finding
	for _, col := range c.by {
		n, low, high := 0, math.Inf(1), math.Inf(-1)
		for _, k := range col.above {
			if k = math.Round(k); k >= s.fullOpenLow-s.columnSlack && k <= s.fullTop+s.columnSlack {
				n, low, high = n+1, min(low, k), max(high, k)
			}
		}
		if len(col.above) < s.columnLeast || 100*float64(n) < s.columnShare*float64(len(col.above)) {
			continue
		}
		out = append(out, Finding{
			Check: "column: full-open temperature", Supplier: col.sheet.Supplier, Grade: compat.Listed,
			Says: fmt.Sprintf("%d of %d opening temperatures lie %.0f to %.0f K above everybody else's: the column holds full-open temperatures. Import it with --map full_open_temp=... instead.",
				n, len(col.above), low, high),
			Lines: once(col.lines), Against: once(col.against), Cost: Cost{Bought: col.bought, Engines: len(col.engines), Parts: len(col.parts)},
		})
	}
	return out
}
