package words

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/units"
)

var (
	unitWord = map[string]string{
		"mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm", "mil": "mm", "cm": "cm",
		"in": "in", "inch": "in", "inches": "in", `"`: "in",
		"psi": "psi", "lb": "psi", "lbs": "psi", "pound": "psi", "pounds": "psi", "bar": "bar", "kpa": "kPa",
		"c": "C", "°c": "C", "celsius": "C", "f": "F", "°f": "F", "fahrenheit": "F", "degree": "°", "degrees": "°", "deg": "°", "°": "°",
		"l": "L", "litre": "L", "litres": "L", "liter": "L", "liters": "L", "ltr": "L", "cc": "cc", "ccm": "cc", "ci": "cu in", "cid": "cu in",
		"gal": "gal", "gallon": "gal", "gallons": "gal", "ml": "ml",
	}
	withUnit = pattern.New(`^[\x{2300}\x{d8}]?(\d+(?:[.,]\d+)?|\d+[- ]\d/\d+|\d+/\d+|[.,]\d+)(°?[a-zA-Z"]+|°)?$`)
	between  = pattern.New(`^(\d+(?:[.,]\d+)?)[xX×](\d+(?:[.,]\d+)?)(mm)?$`)
)

// bare is a figure of a sentence, with the unit that was said after it.
type bare struct {
	text, unit string
	used       int // tokens
}

func bareAt(list []token, i int) (bare, bool) {
	m := withUnit.FindStringSubmatch(list[i].text)
	if m == nil {
		return bare{}, false
	}
	b := bare{text: m[1], used: 1}
	if m[2] != "" {
		if b.unit = unitWord[strings.ToLower(m[2])]; b.unit == "" {
			return bare{}, false
		}
		return b, true
	}
	if i+1 < len(list) {
		if u := unitWord[strings.ToLower(list[i+1].text)]; u != "" && list[i+1].text != "in" {
			b.unit, b.used = u, 2
			if u == "°" && i+2 < len(list) {
				if scale := unitWord[strings.ToLower(list[i+2].text)]; scale == "C" || scale == "F" {
					b.unit, b.used = scale, 3
				}
			}
		}
	}
	return b, true
}

// sizes reads the figures of a sentence that have a unit, or that need none
// beside what is asked for: "82" beside a thermostat is its rating.
func (t *Table) sizes(list []token, r *Reading) {
	for i := 0; i < len(list); i++ {
		if list[i].used {
			continue
		}
		if n := t.pair(list, i, r); n > 0 {
			use(list, i, i+n)
			continue
		}
		b, ok := bareAt(list, i)
		if !ok || !free(list, i, i+b.used) {
			continue
		}
		if t.size(b, r) {
			text := joined(list, i, i+b.used)
			use(list, i, i+b.used)
			r.Spans = append(r.Spans, Span{text, meansOf(b, r)})
		}
	}
}

func meansOf(b bare, r *Reading) string {
	switch b.unit {
	case "cc", "cu in":
		return "engine size"
	case "L":
		if len(r.Sizes) == 0 || r.Sizes[len(r.Sizes)-1].Kind != SizeVolume {
			return "engine size"
		}
	}
	if n := len(r.Sizes); n > 0 {
		return string(r.Sizes[n-1].Kind)
	}
	return "engine size"
}

// pair reads "63.09 x 3.53" and "56.74 by 3.53": two lengths.
func (t *Table) pair(list []token, i int, r *Reading) int {
	add := func(a, b string, n int) int {
		for _, x := range []string{a, b} {
			if !t.length(bare{text: x, unit: "mm"}, r) {
				return 0
			}
		}
		r.Spans = append(r.Spans, Span{joined(list, i, i+n), "length"})
		return n
	}
	if m := between.FindStringSubmatch(list[i].text); m != nil {
		return add(m[1], m[2], 1)
	}
	if i+2 < len(list) && at(list, i+1, "x", "by", "×") {
		a, okA := bareAt(list[:i+1], i)
		b, okB := bareAt(list, i+2)
		if okA && okB && (b.unit == "" || b.unit == "mm") {
			return add(a.text, b.text, 2+b.used)
		}
	}
	return 0
}

// liquids are the part types whose litres are a pack, not an engine.
var liquids = []string{"coolant", "cleaner", "water", "additive"}

func (t *Table) size(b bare, r *Reading) bool {
	liquid := slices.ContainsFunc(r.Types, func(have string) bool { return slices.Contains(liquids, have) })
	switch b.unit {
	case "mm", "cm", "in":
		return t.length(b, r)
	case "psi", "bar", "kPa":
		p, err := units.ParsePressure(b.text+" "+b.unit, "")
		return t.keep(r, err, SizePressure, p.Millipascals(), t.limits.Pressure*1e6, b)
	case "C", "F":
		return t.temperature(b.text+" "+b.unit, r)
	case "gal", "ml":
		v, err := units.ParseVolume(b.text+" "+b.unit, units.UnitImpGallon)
		return t.keep(r, err, SizeVolume, v.Nanolitres(), float64(v.Nanolitres())*t.limits.Volume/100, b)
	case "L":
		if liquid {
			v, err := units.ParseVolume(b.text+" L", "")
			return t.keep(r, err, SizeVolume, v.Nanolitres(), float64(v.Nanolitres())*t.limits.Volume/100, b)
		}
		return displacement(b.text+" L", r)
	case "cc", "cu in":
		return displacement(b.text+" "+b.unit, r)
	case "°":
		return t.bareRating(b.text, r)
	}
	return t.unitless(b.text, r)
}

// unitless reads a figure without a unit by what is asked for.
func (t *Table) unitless(text string, r *Reading) bool {
	switch {
	case strings.Contains(text, "/"):
		return t.length(bare{text: text, unit: "in"}, r)
	case slices.Contains(r.Types, "thermostat") && allDigits(text):
		return t.bareRating(text, r)
	case oneDecimal.MatchString(text):
		return displacement(text, r)
	}
	return false
}

// oneDecimal is how engine sizes are said.
var oneDecimal = pattern.New(`^[0-9][.,][0-9]$`)

func (t *Table) bareRating(text string, r *Reading) bool {
	n, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return false
	}
	switch l := t.limits; {
	case n >= l.CelsiusLow && n <= l.CelsiusHigh:
		return t.temperature(text+" C", r)
	case n >= l.FahrenheitLow && n <= l.FahrenheitHigh:
		return t.temperature(text+" F", r)
	}
	return false
}

func (t *Table) temperature(text string, r *Reading) bool {
	v, err := units.ParseTemperature(text, "")
	return t.keep(r, err, SizeTemperature, v.MilliCelsius(), t.limits.Rating*1000, bare{text: text})
}

func (t *Table) length(b bare, r *Reading) bool {
	v, err := units.ParseLength(b.text+" "+b.unit, "")
	near := t.limits.LengthWhole
	switch {
	case b.unit == "in":
		near = t.limits.LengthInch
	case strings.ContainsAny(b.text, ".,"):
		near = t.limits.LengthExact
	}
	return t.keep(r, err, SizeLength, v.Nanometres(), near*1e6, b)
}

func (t *Table) keep(r *Reading, err error, kind SizeKind, at int64, near float64, b bare) bool {
	if err != nil || at <= 0 {
		return false
	}
	r.Sizes = append(r.Sizes, Size{kind, at, int64(math.Round(near)), strings.TrimSpace(b.text + " " + b.unit)})
	return true
}

func displacement(text string, r *Reading) bool {
	v, err := units.ParseDisplacement(text, "")
	if err != nil || r.Displacement.Known {
		return false
	}
	r.Displacement = catalog.Say(v, text, catalog.Origin{Sheet: "as told", Text: text})
	return true
}
