package web

import (
	"strings"

	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

// figure is a number in the user's unit, with the other one to be set small.
type figure struct{ Text, Other string }

// both shows a number in the unit of the user and, beside it, in the other one.
func both[T any](u units.System, format func(units.System, T) string, v T) figure {
	f := figure{Text: format(u, v)}
	for _, o := range []units.System{units.US, units.Metric} {
		if s := format(o, v); s != f.Text {
			f.Other = s
			break
		}
	}
	return f
}

func temperature(u units.System, t units.Temperature) figure {
	return both(u, units.System.FormatTemperature, t)
}

func volume(u units.System, v units.Volume) figure { return both(u, units.System.FormatVolume, v) }

// scale is the drawing of what a fill stands: cold on the left, hot on the
// right, on one line.
type scale struct {
	From, To float64 // of the band that stays liquid, in the drawing's units
	Open     bool    // the band has no upper end that was worked out
	Marks    []scaleMark
	Says     string // the same in words
}

// scaleMark is one temperature on the line.
type scaleMark struct {
	X, TextX float64
	TextY    float64
	From, To float64 // its uncertainty
	Text     string
	Anchor   string
	Class    string // fluid or outside
	Tick     float64
}

// The drawing in its own units.
const (
	scaleLeft, scaleRight = 12.0, 348.0
	scaleLine             = 74.0
	scaleRow              = 17.0
	scaleSpare            = 12.0 // kelvins beyond the outermost mark
)

// scaleOf draws freezing, boiling, the coldest day and where the thermostat
// opens; nil where nothing could be worked out.
func scaleOf(u units.System, r coolant.Result, coldest, running *units.Temperature) *scale {
	type at struct {
		name  string
		t     *units.Temperature
		pm    float64
		class string
		row   int
	}
	var list []at
	add := func(name string, f *coolant.Figure[units.Temperature, units.TempDelta], row int) {
		if f != nil {
			list = append(list, at{name, &f.Value, f.PM.Kelvins(), "fluid", row})
		}
	}
	add("freezes", r.Freeze, 1)
	add("boils open", r.BoilOpen, 1)
	add("boils under the cap", r.BoilCapped, 2)
	if len(list) == 0 {
		return nil
	}
	if coldest != nil {
		list = append(list, at{"coldest day", coldest, 0, "outside", -1})
	}
	if running != nil {
		list = append(list, at{"thermostat opens", running, 0, "outside", -1})
	}
	low, high := list[0].t.Celsius(), list[0].t.Celsius()
	for _, a := range list {
		low, high = min(low, a.t.Celsius()-a.pm), max(high, a.t.Celsius()+a.pm)
	}
	low, high = low-scaleSpare, high+scaleSpare
	x := func(c float64) float64 {
		return float64(int((scaleLeft+(c-low)/(high-low)*(scaleRight-scaleLeft))*10)) / 10
	}
	s := &scale{From: scaleLeft, To: scaleRight, Open: true}
	var says []string
	for _, a := range list {
		c := a.t.Celsius()
		m := scaleMark{X: x(c), From: x(c - a.pm), To: x(c + a.pm), Text: a.name + " " + u.FormatTemperature(*a.t), Class: a.class, Anchor: "middle"}
		m.TextX = m.X
		switch {
		case m.X < scaleLeft+90:
			m.Anchor, m.TextX = "start", max(scaleLeft, m.X-30)
		case m.X > scaleRight-90:
			m.Anchor, m.TextX = "end", min(scaleRight, m.X+40)
		}
		m.TextY = scaleLine - 14 - scaleRow*float64(a.row)
		m.Tick = scaleLine - 10 - scaleRow*float64(a.row) + 2
		if a.row == 1 && m.X > scaleRight/2 { // out of the way of the tick to its right
			m.Anchor, m.TextX = "end", m.X+3
		}
		if a.row < 0 {
			m.TextY, m.Tick = scaleLine+34, scaleLine+22
		}
		s.Marks = append(s.Marks, m)
		says = append(says, m.Text)
		switch {
		case a.name == "freezes":
			s.From = m.X
		case a.name == "boils under the cap", a.name == "boils open" && r.BoilCapped == nil:
			s.To, s.Open = m.X, false
		}
	}
	s.Says = strings.Join(says, "; ")
	return s
}

// plusMinus is an uncertainty in words, "" where there is none.
func plusMinus(u units.System, f *coolant.Figure[units.Temperature, units.TempDelta]) string {
	return "±" + strings.TrimPrefix(u.FormatTempDelta(f.PM), "+")
}

// Width is the length of the band that stays liquid.
func (s scale) Width() float64 { return max(0, s.To-s.From) }

// Spread is the length of a mark's uncertainty.
func (m scaleMark) Spread() float64 { return max(0, m.To-m.From) }
