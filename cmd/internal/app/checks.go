package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat/codes"
)

// ChecksQuestion asks what to look at for trouble codes before a part is sold.
type ChecksQuestion struct {
	Codes  []string
	Engine string
	Stamp  string // what is stamped on the thermostat that is in it
}

// ChecksAnswer is the advice on each code, the code to settle first in front.
type ChecksAnswer struct {
	Codes  []CodeAdvice `json:"codes"`
	Engine string       `json:"engine,omitempty"`
	Parts  []string     `json:"parts"` // commands that show the parts that may follow
	Own    *OwnNote     `json:"own_tables,omitempty"`
}

// CodeAdvice is the advice on one code.
type CodeAdvice struct {
	codes.Advice
	ThresholdC *float64 `json:"threshold_c,omitempty"`
	Threshold  string   `json:"threshold,omitempty"` // in the units of the answer, with the rating it comes from
	Says       string   `json:"says"`
}

// Known reports whether any of the codes is one of cooling.
func (a ChecksAnswer) Known() bool {
	return slices.ContainsFunc(a.Codes, func(c CodeAdvice) bool { return c.Known })
}

// Checks says what to look at for trouble codes. A text that has not the shape
// of a code is a UsageError; a code that is not one of cooling is an answer
// that says so.
func (s *Shop) Checks(ctx context.Context, q ChecksQuestion) (a ChecksAnswer, err error) {
	err = s.store.View(ctx, func(v *sqlite.View) error {
		a, err = s.checksIn(ctx, v, q)
		return err
	})
	a.Own = s.ownNote("code_")
	return a, err
}

func (s *Shop) checksIn(ctx context.Context, v *sqlite.View, q ChecksQuestion) (ChecksAnswer, error) {
	a := ChecksAnswer{Codes: []CodeAdvice{}, Parts: []string{}}
	tab, err := codes.NewTables(s.ref)
	if err != nil {
		return a, err
	}
	var stamp catalog.Stated[units.Temperature]
	if q.Stamp != "" {
		t, err := units.ParseTemperature(q.Stamp, "")
		if err != nil {
			return a, &UsageError{Problem: "--stamp: " + err.Error(), Hint: `write it as it is stamped, with its unit: --stamp "82 C" or --stamp "180 F"`}
		}
		stamp = catalog.Say(t, q.Stamp, toldNow(q.Stamp))
	}
	var family catalog.EngineFamily
	if q.Engine != "" {
		e, _, err := s.oneEngine(ctx, v, q.Engine)
		if err != nil {
			return a, err
		}
		family, a.Engine = *e.facts(), e.Engine
	}
	var list []codes.Advice
	for _, text := range q.Codes {
		c, err := codes.Parse(text)
		if err != nil {
			return a, &UsageError{Problem: err.Error(), Hint: "fitfill checks CODE, such as: fitfill checks P0128"}
		}
		list = append(list, tab.For(c, family.OpeningTemp, stamp))
	}
	codes.First(list)
	for _, d := range list {
		one := CodeAdvice{Advice: d, Says: codeSays(d)}
		if d.Threshold.Known {
			c := d.Threshold.Value.Celsius()
			one.ThresholdC = &c
			one.Threshold = fmt.Sprintf("the warm-up monitor waits for %s; this engine's thermostat opens at %s",
				s.Settings.Units.FormatTemperature(d.Threshold.Value), s.Settings.Units.FormatTemperature(family.OpeningTemp.Value))
		}
		a.Codes = append(a.Codes, one)
		if !d.NoPartYet {
			a.partCommands(d.Parts, s.sortsOfPart())
		}
	}
	return a, nil
}

// partCommands adds the commands that show parts of the types, as far as parts
// of such a type are sold at all.
func (a *ChecksAnswer) partCommands(types, sold []string) {
	for _, t := range types {
		c := "fitfill find " + t
		if a.Engine != "" {
			c = "fitfill fit " + a.Engine + " --type " + t
		}
		if slices.Contains(sold, t) && !slices.Contains(a.Parts, c) {
			a.Parts = append(a.Parts, c)
		}
	}
}

// sortsOfPart returns the part types that the words of sheets are read as.
func (s *Shop) sortsOfPart() []string {
	var types []string
	for _, r := range sound(s.ref.Table("import_words")) {
		if r.Get("field") == "type" && r.Get("word") != "*" {
			types = append(types, r.Get("value"))
		}
	}
	return types
}

// codeSays is the first line of what a code means for the counter.
func codeSays(a codes.Advice) string {
	switch {
	case a.Known && a.NoPartYet:
		return fmt.Sprintf("no part yet: a circuit, about %s to find out", Plural(int(a.Minutes), "minute", "minutes"))
	case a.Known:
		return fmt.Sprintf("%s, about %s, before any part", Plural(len(a.Checks), "check", "checks"), Plural(int(a.Minutes), "minute", "minutes"))
	case a.Scope == codes.ByMaker:
		return "the maker's own code: only his list says what it means"
	case a.Scope == codes.Elsewhere:
		return "not a code of the cooling system"
	}
	return "a standard code, and none of the cooling system"
}

// PartWords names part types as a person would: "thermostat, sensor or relay".
func PartWords(types []string) string {
	if len(types) < 2 {
		return strings.Join(types, "")
	}
	return strings.Join(types[:len(types)-1], ", ") + " or " + types[len(types)-1]
}
