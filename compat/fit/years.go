package fit

import (
	"fmt"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// years compares the years of a listing with the year asked for. Without one
// the row stands where the part's rows together cover the engine's own years
// (the ends may differ by the setting year_edge): one car was built with the
// engine later than another, and what is asked about is the engine. Where those
// years are not on file it stands where no other part's list takes over in
// years that this one leaves out. A build month is never compared with a model year.
func (t trial) years(f *catalog.Fitment) reading {
	ask := reading{open, "the year", "Which model year?", FlagYear}
	switch {
	case !f.Years.Stated() && strings.TrimSpace(f.YearsText) != "":
		return reading{state: open, on: "\"" + oneLine(f.YearsText) + "\"", ask: "Which years does \"" + oneLine(f.YearsText) + "\" mean?"}
	case !f.Years.Stated():
		return reading{}
	case len(f.Years.Ranges) == 0:
		return t.builtIn(f.Years.Built)
	case t.q.Year != 0:
		return t.inYear(f.Years)
	case t.q.Engine.Years.Known && len(t.q.Engine.Years.Value.Ranges) > 0:
		if !t.covers(f.Years, t.settled(), t.q.Engine.Years.Value) {
			return ask
		}
	case t.field.splitAt(t.c.Part, f.Years):
		return ask
	}
	return reading{}
}

// inYear compares model years with the year asked for, and with its half where
// the list splits that year.
func (t trial) inYear(y units.ModelYears) reading {
	whole, part := y.Covers(t.q.Year)
	switch {
	case whole:
		return reading{}
	case part && t.q.Half == 0:
		return reading{open, "the half of " + strconv.Itoa(t.q.Year), fmt.Sprintf("Is it of the first half of model year %d, or of the second?", t.q.Year), fmt.Sprintf("%s %d.0 (first) or %d.5 (second)", FlagYear, t.q.Year, t.q.Year)}
	case part && meet(y.Ranges, []units.YearRange{t.q.Half.of(t.q.Year)}):
		return reading{}
	}
	return reading{state: other, on: strconv.Itoa(t.q.Year)}
}

// builtIn compares months of build with the month the vehicle was built in.
func (t trial) builtIn(m units.MonthRange) reading {
	switch at := int32(t.q.Built); {
	case at == 0:
		return reading{open, "the build month", "In which month was it built?", FlagBuilt}
	case (m.From == 0 || m.From <= at) && (m.To == 0 || at < m.To):
		return reading{}
	}
	return reading{state: other, on: t.q.Built.String()}
}

// settled returns the years of those of the part's rows whose notes leave nothing
// open.
func (t trial) settled() units.ModelYears {
	all, ok := t.field.settled[t.c]
	if ok || len(t.c.Listings) == 0 {
		return all
	}
	for i := range t.c.Listings {
		if l := &t.c.Listings[i]; t.condition(l).state == met {
			all.Ranges = append(all.Ranges, l.Years.Ranges...)
		}
	}
	t.field.settled[t.c] = all
	return all
}

// covers reports whether a listing and the others of its part hold every whole
// model year of the engine, or one next to it.
func (t trial) covers(list, others, engine units.ModelYears) bool {
	edge := int(t.limits.of(yearEdge))
	for _, r := range engine.Ranges {
		first, last := int(r.From)/2, int(r.To-1)/2
		if r.From == 0 {
			first = last
		}
		if r.To == 0 {
			last = first
		}
		for y := first; y <= last; y++ {
			held := false
			for d := -edge; d <= edge; d++ {
				whole, _ := list.Covers(y + d)
				too, _ := others.Covers(y + d)
				held = held || whole || too
			}
			if !held {
				return false
			}
		}
	}
	return true
}

// vin compares the VIN character that a listing asks for.
func (t trial) vin(f *catalog.Fitment) reading {
	want := catalog.Key(f.VIN8)
	mine := t.vin8()
	switch {
	case want == "":
		return reading{}
	case mine == "":
		return reading{open, "the 8th VIN character", "What is the 8th character of the VIN?", FlagVIN8}
	case strings.Contains(want, mine):
		return reading{}
	}
	return reading{state: other, on: "VIN " + mine}
}
