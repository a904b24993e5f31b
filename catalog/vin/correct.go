package vin

import (
	"fmt"
	"slices"
)

// Correction is a VIN that a text may have been meant to be.
type Correction struct {
	VIN     string
	Changed string // what was changed, in words
	Proved  bool   // with the change its check digit is right
}

// A look-alike may be read for another character. The pairs are those of
// handwriting and worn plates: common practice.
var lookAlike = map[byte]string{
	'0': "D", 'D': "0", '1': "7LT", '7': "1T", 'L': "1", 'T': "7", '2': "Z", 'Z': "2", '5': "S6", 'S': "5", '8': "B3", 'B': "8",
	'6': "G5", 'G': "6C", 'C': "G", '3': "8", '4': "A9", 'A': "4", '9': "4", 'U': "V", 'V': "UY", 'Y': "V", 'M': "N", 'N': "M",
	'K': "X", 'X': "K", 'E': "F", 'F': "EP", 'P': "FR", 'R': "P",
}

// never holds what stands for the letters that no VIN has.
var never = map[byte]byte{'I': '1', 'O': '0', 'Q': '0'}

// Corrections returns what a text may have been meant to be, the likeliest
// first: I, O and Q read as digits, two neighbours exchanged, one character
// taken for its look-alike, a wrong check digit. Only texts of the right length
// whose check digit comes out right are returned; a letter that no VIN holds
// is offered as its digit all the same, not proved, where the first character
// is of a region that need not use check digits. A sound VIN has none.
func Corrections(text string) []Correction {
	v := Clean(text)
	if len(v) != Length || sound(v) {
		return nil
	}
	fixed, changed := withoutNever(v)
	if changed != "" {
		for i := range len(fixed) {
			if !allowed(fixed[i]) {
				return nil
			}
		}
		if ok := sound(fixed); ok || !(fixed[0] >= '1' && fixed[0] <= '5') {
			return []Correction{{fixed, changed, ok}}
		}
		return nil
	}
	var list []Correction
	add := func(b []byte, words string) {
		c := Correction{string(b), words, true}
		same := func(o Correction) bool { return o.VIN == c.VIN }
		if sound(c.VIN) && c.VIN != v && !slices.ContainsFunc(list, same) {
			list = append(list, c)
		}
	}
	for i := range Length - 1 {
		b := []byte(v)
		b[i], b[i+1] = b[i+1], b[i]
		add(b, fmt.Sprintf("%c and %c exchanged at positions %d and %d", v[i], v[i+1], i+1, i+2))
	}
	for i := range Length {
		for _, c := range []byte(lookAlike[v[i]]) {
			b := []byte(v)
			b[i] = c
			add(b, fmt.Sprintf("%c in place of %c at position %d", c, v[i], i+1))
		}
	}
	b := []byte(v)
	b[checkPlace-1] = checkDigit(v)
	add(b, fmt.Sprintf("%c in place of %c at position %d, the check digit itself", b[checkPlace-1], v[checkPlace-1], checkPlace))
	return list
}

// withoutNever puts digits for I, O and Q, and says where.
func withoutNever(v string) (fixed, changed string) {
	b := []byte(v)
	for i, c := range b {
		d, ok := never[c]
		if !ok {
			continue
		}
		b[i] = d
		if changed != "" {
			changed += ", "
		}
		changed += fmt.Sprintf("%c in place of %c at position %d", d, c, i+1)
	}
	return string(b), changed
}
