package vin

import (
	"fmt"
	"strings"
	"unicode"
)

// Length is how many characters a VIN has (ISO 3779).
const Length = 17

// enginePlace is where makers of North America put the letter of the engine,
// by custom of the trade; the rule asks only that positions 4 to 8 tell it.
const enginePlace = 8

// Reading is what a VIN says by itself.
type Reading struct {
	Text     string    // as it was given
	VIN      string    // capitals, without spaces and dashes
	Problems []Problem // why it is no VIN; empty if it is one

	CheckDigit byte // the digit that belongs at position 9
	CheckRight bool
	CheckBound bool // whether the rule asks this maker for a check digit at all

	Years     []int // model years that position 10 can mean
	YearBound bool  // whether position 10 must be the model year

	Maker     string // positions 1 to 3
	LowVolume bool   // position 3 is 9: the maker is told by positions 12 to 14 too
	Region    string
	Engine    string // position 8
	Serial    string // positions 10 to 17
}

// Problem is one thing that keeps a text from being a VIN.
type Problem struct {
	Position int // counted from 1; 0 where no single place is meant
	Says     string
}

// Valid reports whether the text has the form of a VIN and, where the rule
// asks for one, the right check digit.
func (r Reading) Valid() bool { return len(r.Problems) == 0 }

// Clean takes out what people put between the characters of a VIN, and makes
// capitals of the letters.
func Clean(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.IsControl(r) || strings.ContainsRune("-‐‑‒–—−._*\u200b\u00ad\ufeff", r) {
			return -1
		}
		return unicode.ToUpper(r)
	}, text)
}

// Read takes a VIN apart. heavy says that it is a truck above 4536 kg, a bus,
// a trailer or a motorcycle, whose position 7 does not tell the model year.
// A text that is no VIN is returned with its Problems, each with its position.
//
// Sources: ISO 3779 (form), 49 CFR part 565 (check digit, model year); the
// regions are those of ISO 3780, from memory.
func Read(text string, heavy bool) Reading {
	r := Reading{Text: text, VIN: Clean(text)}
	at := 0
	for _, c := range r.VIN {
		at++
		if c > unicode.MaxASCII || !allowed(byte(c)) {
			r.Problems = append(r.Problems, Problem{at, notAllowed(at, c)})
		}
	}
	if at != Length {
		r.Problems = append(r.Problems, Problem{0, fmt.Sprintf("it has %d characters, a VIN has %d", at, Length)})
	}
	if !r.Valid() {
		return r
	}
	r.Maker, r.Engine, r.Serial = r.VIN[:3], r.VIN[enginePlace-1:enginePlace], r.VIN[yearPlace-1:]
	r.LowVolume = r.VIN[2] == '9'
	r.Region = region(r.VIN[0])
	r.CheckBound = r.VIN[0] >= '1' && r.VIN[0] <= '5'
	r.YearBound = r.CheckBound
	r.CheckDigit = checkDigit(r.VIN)
	r.CheckRight = r.VIN[checkPlace-1] == r.CheckDigit
	r.Years = modelYears(r.VIN, heavy)
	if r.CheckBound && !r.CheckRight {
		r.Problems = append(r.Problems, Problem{checkPlace, fmt.Sprintf("the check digit at position %d is %c, the other characters ask for %c: one of them is misread",
			checkPlace, r.VIN[checkPlace-1], r.CheckDigit)})
	}
	return r
}

func notAllowed(at int, c rune) string {
	if strings.ContainsRune("IOQ", c) {
		return fmt.Sprintf("position %d is the letter %c, which no VIN holds", at, c)
	}
	return fmt.Sprintf("position %d is %q, which no VIN holds", at, c)
}

// region names where the maker sits by the first character.
func region(c byte) string {
	switch {
	case c >= 'A' && c <= 'H':
		return "Africa"
	case c >= 'J' && c <= 'R':
		return "Asia"
	case c >= 'S' && c <= 'Z':
		return "Europe"
	case c >= '1' && c <= '5':
		return "North America"
	case c == '6' || c == '7':
		return "Oceania"
	}
	return "South America"
}
