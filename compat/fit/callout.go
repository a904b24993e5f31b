package fit

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// ErrCallout is wrapped by the error of Callout for a text that is no line
// call-out of ASTM D2000.
var ErrCallout = errors.New("not a call-out of ASTM D2000")

// Callout is a rubber as ASTM D2000 / SAE J200 calls it out: "M2BG710 EO34".
type Callout struct {
	SI          bool              // an M stands in front: strength in MPa, else in psi
	Grade       int               // 0: not stated
	Ages        units.Temperature // heat ageing for 70 h changes it little (type letter)
	Swells      float64           // most swell in oil in per cent (class letter); -1: no limit
	Hardness    int               // Shore A, ±5
	StrengthMPa float64
	Suffixes    []string // EA14: distilled water, EO34: oil ...
	Polymers    []string // that usually meet type and class
	Origin      []compat.Evidence
}

var calloutText = pattern.New(`^(M?)(\d?)([A-HJK])([A-HJK])(\d)(\d{2})((?:\s*[A-HJKMNPRZ][A-Z]?\d{1,3})*)$`)

// rubberLetters are the tables of type and class letters.
type rubberLetters struct {
	types    map[string]units.Temperature
	swells   map[string]float64
	polymers map[string][]string
	origin   []compat.Evidence
}

func newRubberLetters(ref catalog.Tables) (l rubberLetters, err error) {
	rows, err := ref.Table("fit_d2000")
	if err != nil {
		return l, err
	}
	l = rubberLetters{map[string]units.Temperature{}, map[string]float64{}, map[string][]string{}, nil}
	for _, row := range rows {
		letters := row.Get("letters")
		l.origin = cite(l.origin, compat.Cite(row))
		if row.Get("kind") == "usual" {
			l.polymers[letters] = strings.Split(row.Get("polymers"), "|")
			continue
		}
		v := -1.0
		if row.Get("value") != "" {
			if v, err = row.Float("value"); err != nil {
				return l, err
			}
		}
		if row.Get("kind") == "type" {
			l.types[letters] = units.Celsius(v)
		} else {
			l.swells[letters] = v
		}
	}
	return l, nil
}

// psiPerHundred is what a strength digit stands for where no M is in front.
const psiPerHundred = 100

// Callout reads a line call-out: a letter M for SI units, the grade, the type
// (heat) and class (oil) letters, a digit of hardness, the strength, and
// suffixes. The error wraps ErrCallout.
func (t *Tables) Callout(text string) (Callout, error) {
	m := calloutText.FindStringSubmatch(strings.ToUpper(strings.TrimSpace(text)))
	if m == nil {
		return Callout{}, fmt.Errorf("%q: %w", text, ErrCallout)
	}
	c := Callout{SI: m[1] != "", Ages: t.letters.types[m[3]], Swells: t.letters.swells[m[4]], Polymers: t.letters.polymers[m[3]+m[4]], Origin: t.letters.origin}
	c.Grade, _ = strconv.Atoi(m[2])    // the pattern lets only digits through
	c.Hardness, _ = strconv.Atoi(m[5]) //
	c.Hardness *= 10
	c.StrengthMPa = decimal(m[6])
	if !c.SI {
		c.StrengthMPa = units.PSI(psiPerHundred*c.StrengthMPa).Kilopascals() / 1000
	}
	c.Suffixes = strings.Fields(m[7])
	return c, nil
}

// rubberOf returns the rubber of a material: by its name, else by a call-out as
// the polymer that usually meets it; of several the one that coolant treats
// worst.
func (t *Tables) rubberOf(material, chemistry string) (r rubber, said string, ok bool) {
	if r, ok = t.elastomers.find(material); ok {
		return r, r.name, true
	}
	c, err := t.Callout(material)
	if err != nil {
		return r, "", false
	}
	var worst compat.Outcome
	for _, p := range c.Polymers {
		one, known := t.elastomers.find(p)
		if !known {
			continue
		}
		if w, _ := t.elastomers.coolant(one, chemistry); !ok || w.outcome.Worse(worst) {
			r, worst, ok = one, w.outcome, true
		}
	}
	said = fmt.Sprintf("%s by its call-out (%d Shore A, %s MPa)", r.name, c.Hardness, trimmed(c.StrengthMPa))
	return r, said, ok
}
