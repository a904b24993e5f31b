package importers

import (
	"hash/maphash"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
)

// valueShape is what the values of a column look like, whatever its heading
// says.
type valueShape struct {
	filled      int
	code        int // of filled: one short word with a digit in it, no plain amount
	prose       int // of filled: words
	known, keys int // of those looked up: part numbers that are on file
	step        int
	texts       []string // every step-th value, to be looked at closely
	first       map[uint64]struct{}
	firstSeen   int
}

const (
	shapeSample = 256
	firstValues = 4096
)

// add counts one filled cell. A column that its heading has placed only keeps a
// sample.
func (s *valueShape) add(p *proposal, c *candidate, cell string) {
	s.filled++
	if s.step == 0 {
		s.step = max(1, p.sheet.records.n/shapeSample)
	}
	if s.filled%s.step == 0 && len(s.texts) < 2*shapeSample {
		s.texts = append(s.texts, strings.Clone(cell))
	}
	number := c.Field == "number"
	if c.mapped && !number {
		return
	}
	if p.opt.Known != nil && len(cell) <= maxWord && hasDigit(cell) {
		if s.keys++; p.opt.Known(catalog.Key(cell)) {
			s.known++
		}
	}
	if number {
		return
	}
	s.count(cell)
	if s.firstSeen < firstValues {
		if s.first == nil {
			s.first = map[uint64]struct{}{}
		}
		s.firstSeen++
		s.first[maphash.String(hashSeed, cell)] = struct{}{}
	}
}

func (s *valueShape) count(cell string) {
	var digits, letters, blanks, others int
	for i := range len(cell) {
		switch b := cell[i]; {
		case b >= '0' && b <= '9':
			digits++
		case b == ' ':
			blanks++
		case b >= 'A' && b <= 'Z', b >= 'a' && b <= 'z', b >= 0x80:
			letters++
		default:
			others++
		}
	}
	switch {
	case letters == 0 && others == 1 && strings.ContainsAny(cell, ".,"):
	case digits > 0 && blanks <= 2 && len(cell) <= maxWord:
		s.code++
	case letters > 0:
		s.prose++
	}
}

// distinct is the share of different values among the first ones.
func (s *valueShape) distinct() float64 { return share(len(s.first), s.firstSeen) }

func share(n, of int) float64 {
	if of == 0 {
		return 0
	}
	return float64(n) / float64(of)
}

var gtinLike = pattern.New(`^(\d{8}|\d{12,14})$`)

// checkDigit tests the last digit of a GTIN: the digits before it count three
// and one in turn from the right, and make up a multiple of ten with it (GS1
// General Specifications, check digit calculation; from memory).
func checkDigit(gtin string) bool {
	sum := 0
	for i := range len(gtin) {
		weight := 1
		if (len(gtin)-1-i)%2 == 1 {
			weight = 3
		}
		sum += weight * int(gtin[i]-'0')
	}
	return sum%10 == 0
}
