package app

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

// TestsSaid is what tests of the fill showed, as the user says it. Empty means
// not tested.
type TestsSaid struct {
	PH        string
	Nitrite   string // mg/kg, or none, or shows; so do the next three
	Phosphate string
	Silicate  string
	Molybdate string
	Reserve   string // per cent of new, or high, or low

	FreezeReads string // freezing point on a refractometer
	Scale       string // ethylene or propylene
	Age         string // since it was filled, such as 14 months
}

// readings reads what the tests showed into the question.
func (said TestsSaid) readings(q *coolant.Question) error {
	for _, r := range []struct{ of, flag, text string }{
		{"ph", "--ph", said.PH}, {"reserve", "--reserve-alkalinity", said.Reserve},
		{"nitrite", "--nitrite", said.Nitrite}, {"phosphate", "--phosphate", said.Phosphate},
		{"silicate", "--silicate", said.Silicate}, {"molybdate", "--molybdate", said.Molybdate},
	} {
		if r.text == "" {
			continue
		}
		reading, err := reading(r.of, r.flag, r.text)
		if err != nil {
			return err
		}
		q.Fill.Readings = append(q.Fill.Readings, reading)
	}
	if said.FreezeReads != "" {
		t, err := units.ParseTemperature(said.FreezeReads, "")
		if err != nil {
			return &UsageError{Problem: fmt.Sprintf("--freeze-reads: %v", err), Hint: `write it like --freeze-reads "-18 C"`}
		}
		q.FreezeReads = catalog.Say(t, said.FreezeReads, catalog.Origin{})
	}
	switch scale := strings.ToLower(said.Scale); {
	case scale != "" && said.FreezeReads == "":
		return &UsageError{Problem: "--scale says nothing without a reading", Hint: `add --freeze-reads "-18 C"`}
	case scale == "", scale == "ethylene", scale == "propylene":
		q.Scale = scale
	default:
		return &UsageError{Problem: fmt.Sprintf("--scale %q is no scale of a refractometer", said.Scale), Hint: "it is ethylene or propylene; leave it out if you do not know"}
	}
	if said.Age != "" {
		months, err := ageMonths(said.Age)
		if err != nil {
			return err
		}
		q.Fill.AgeMonths = catalog.Say(months, said.Age, catalog.Origin{})
	}
	return nil
}

// What people call a strip that shows something, and one that shows nothing.
var (
	showsWords = []string{"shows", "yes", "some", "high", "positive"}
	noneWords  = []string{"none", "no", "low", "negative"}
)

// reading reads one test: a figure, or whether it shows.
func reading(of, flag, text string) (coolant.Reading, error) {
	r := coolant.Reading{Of: of}
	word := catalog.Fold(text)
	if of != "ph" {
		switch {
		case slices.Contains(showsWords, word):
			r.Shows = coolant.Seen
			return r, nil
		case slices.Contains(noneWords, word):
			r.Shows = coolant.None
			return r, nil
		}
	}
	number := strings.TrimSpace(text)
	for _, unit := range []string{"mg/kg", "mg/L", "mg/l", "ppm", "%"} { // of a coolant these differ by less than a strip can tell
		number = strings.TrimSpace(strings.TrimSuffix(number, unit))
	}
	v, err := strconv.ParseFloat(number, 64)
	hint := "write the figure in mg/kg, or none, or shows, like " + flag + " 300"
	most := math.Inf(1)
	switch of {
	case "ph":
		hint, most = "write the figure, like --ph 8.2", 14
	case "reserve":
		hint = "write what is left of it in per cent of new coolant, or high, or low, like --reserve-alkalinity 60%"
		if err == nil && v > 0 && !strings.Contains(text, "%") {
			return r, &UsageError{Problem: fmt.Sprintf("--reserve-alkalinity %q: a figure in mL means nothing without that of new coolant", text), Hint: hint}
		}
	}
	if err != nil || math.IsNaN(v) || v < 0 || v > most || math.IsInf(v, 0) {
		return r, &UsageError{Problem: fmt.Sprintf("%s %q is not what such a test reads", flag, text), Hint: hint}
	}
	r.Level = catalog.Say(v, text, catalog.Origin{})
	return r, nil
}

// Days and months of a year, for ages.
const (
	daysAYear   = 365.25
	monthsAYear = 12
)

// ageMonths reads an age such as "14 months", "2 years" or "90 days".
func ageMonths(text string) (float64, error) {
	trimmed := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(text)), ",", ".")
	cut := strings.IndexFunc(trimmed, func(r rune) bool { return (r < '0' || r > '9') && r != '.' })
	wrong := &UsageError{Problem: fmt.Sprintf("--age %q is not an age", text), Hint: "write it like --age 14months, or 2years, or 90days"}
	if cut <= 0 {
		return 0, wrong
	}
	n, err := strconv.ParseFloat(trimmed[:cut], 64)
	if err != nil {
		return 0, wrong
	}
	switch unit := strings.TrimSpace(trimmed[cut:]); unit {
	case "month", "months", "mo", "m":
		return n, nil
	case "year", "years", "y", "a":
		return n * monthsAYear, nil
	case "day", "days", "d":
		return n * monthsAYear / daysAYear, nil
	case "week", "weeks", "w":
		return n * 7 * monthsAYear / daysAYear, nil
	}
	return 0, wrong
}
