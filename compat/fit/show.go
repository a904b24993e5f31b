package fit

import (
	"math"
	"strconv"
	"strings"

	"fitfill/catalog/units"
)

// shower writes quantities for the person who asked, in the units they use.
type shower units.System

// showIn returns how to write for a person; sizes of seals and flanges are in
// inches or in millimetres and in nothing else.
func showIn(s units.System) shower {
	if s.Length != units.UnitInch {
		s.Length = units.UnitMillimetre
	}
	return shower(s)
}

func (s shower) inches() bool { return s.Length == units.UnitInch }

func (s shower) lengthUnit() string { return string(s.Length) }

// number writes a length without its unit.
func (s shower) number(l units.Length) string {
	return clean(strings.TrimSuffix(units.System(s).FormatLength(l), " "+s.lengthUnit()))
}

// clean drops the sign of a number that was rounded to nought.
func clean(n string) string {
	if strings.Trim(n, "-0.") == "" {
		return strings.TrimPrefix(n, "-")
	}
	return n
}

func (s shower) length(l units.Length) string { return s.number(l) + " " + s.lengthUnit() }

// mm writes a length that is held in millimetres.
func (s shower) mm(v float64) string { return s.length(units.Millimetres(v)) }

// fine writes a length for a computation: to 0.001 mm or 0.0001 in, a decimal
// more than a calliper shows.
func (s shower) fine(v float64) string {
	if s.inches() {
		return clean(strconv.FormatFloat(units.Millimetres(v).Inches(), 'f', 4, 64))
	}
	return clean(strconv.FormatFloat(v, 'f', 3, 64))
}

// between writes "0.15 to 0.35 mm", or one figure where both are the same.
func (s shower) between(v span) string {
	lo, hi := s.number(units.Millimetres(v.lo)), s.number(units.Millimetres(v.hi))
	if lo == hi {
		return lo + " " + s.lengthUnit()
	}
	return lo + " to " + hi + " " + s.lengthUnit()
}

func (s shower) temperature(t units.Temperature) string { return units.System(s).FormatTemperature(t) }

func (s shower) delta(d units.TempDelta) string { return units.System(s).FormatTempDelta(d) }

// trimmed writes a number with at most one decimal.
func trimmed(v float64) string {
	return clean(strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64))
}

func pct(v float64) string { return clean(strconv.FormatFloat(v, 'f', 1, 64)) }

func pctSpan(v span) string { return pct(v.lo) + " to " + pct(v.hi) + " %" }

var countWords = []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}

// counted writes "one list", "two lists", "11 lists".
func counted(n int, noun string) string {
	word := strconv.Itoa(n)
	if n >= 0 && n < len(countWords) {
		word = countWords[n]
	}
	if n != 1 {
		noun += "s"
	}
	return word + " " + noun
}

// verb takes the form that goes with a number.
func verb(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
