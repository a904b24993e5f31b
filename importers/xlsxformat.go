package importers

import (
	"bytes"
	"math"
	"math/big"
	"strconv"
	"strings"
	"unicode"
)

// shape is how a workbook shows numbers of one style.
type shape struct {
	date, percent, fraction bool
	zeros                   int    // digits that are at least shown in front of the mark
	decimals                int    // digits that are at least shown behind it
	unit                    string // words or signs behind the number
	sign                    string // a currency's sign in front of it
	frame                   frame  // what the format adds to the digits, nil where it adds nothing
}

// appendShown adds the text of a number to dst. Most numbers are written as they
// are shown and need no arithmetic.
func (b *book) appendShown(dst, number []byte, style int) []byte {
	s := b.shapeOf(style)
	if decimals, ok := exactNumber(number); ok && !s.date && !s.fraction && !s.percent && s.frame == nil && s.zeros <= 1 && decimals >= s.decimals {
		return append(append(dst, number...), s.tail()...)
	}
	return append(dst, b.shown(string(number), style)...)
}

// exactNumber reports whether a number is written the way decimalText writes it,
// and with how many decimals: digits alone, none too many in front or behind and
// no more than a workbook vouches for.
func exactNumber(number []byte) (decimals int, ok bool) {
	digits := bytes.TrimPrefix(number, []byte("-"))
	point := -1
	for i, b := range digits {
		switch {
		case b == '.' && point < 0 && i > 0:
			point = i
		case b < '0' || b > '9':
			return 0, false
		}
	}
	whole := len(digits)
	if point >= 0 {
		whole, decimals = point, len(digits)-point-1
		if decimals == 0 || digits[len(digits)-1] == '0' {
			return 0, false
		}
	}
	if whole == 0 || digits[0] == '0' && (whole > 1 || point < 0 && len(number) > 1) {
		return 0, false
	}
	return decimals, whole+decimals <= significant
}

// shown returns the text of a number: with the zeros, the decimals, the unit or
// the day that its style shows, and never with fewer digits than it has.
func (b *book) shown(number string, style int) string {
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return number
	}
	s := b.shapeOf(style)
	switch {
	case s.date:
		return b.day(number, v)
	case s.fraction && v != math.Trunc(v):
		if text, ok := fraction(v); ok {
			return text + s.tail()
		}
	case s.percent:
		return decimalText(v*100, s.decimals) + "%"
	}
	text := decimalText(v, s.decimals)
	if s.frame != nil && math.Abs(v) < 1e15 {
		digits, negative := strings.CutPrefix(text, "-")
		if digits = s.frame.shown(digits); negative {
			digits = "-" + digits
		}
		return digits
	}
	if s.zeros > 1 && v >= 0 {
		whole, rest, _ := strings.Cut(text, ".")
		if text = strings.Repeat("0", max(0, s.zeros-len(whole))) + whole; rest != "" {
			text += "." + rest
		}
	}
	return text + s.tail()
}

// tail is the unit behind a number, or the currency in front of it.
func (s shape) tail() string {
	for _, t := range []string{s.unit, s.sign} {
		if t = strings.TrimSpace(t); strings.ContainsFunc(t, func(r rune) bool { return unicode.IsLetter(r) || unicode.Is(unicode.Sc, r) || r == '°' || r == '"' }) {
			return " " + t
		}
	}
	return ""
}

// significant is how many digits of a number a workbook vouches for.
const significant = 15

// decimalText writes a number without an exponent and with at least so many decimals.
// From 1e15 on digits are lost; then the exponent shows it.
func decimalText(v float64, decimals int) string {
	if math.Abs(v) >= 1e15 {
		return strconv.FormatFloat(v, 'E', -1, 64)
	}
	text := strconv.FormatFloat(v, 'g', significant, 64)
	if strings.Contains(text, "e") {
		f, _ := strconv.ParseFloat(text, 64)
		text = strconv.FormatFloat(f, 'f', -1, 64)
	}
	whole, rest, _ := strings.Cut(text, ".")
	if len(rest) < decimals {
		rest += strings.Repeat("0", decimals-len(rest))
	}
	if rest == "" {
		return whole
	}
	return whole + "." + rest
}

// finest is the finest part of an inch that sheets write.
const finest = 64

// fraction writes 2.125 as "2 1/8"; false where no part down to 1/64 gives the
// number itself.
func fraction(v float64) (string, bool) {
	if v < 0 || v > 1e6 {
		return "", false
	}
	n := v * finest
	if math.Abs(n-math.Round(n)) > 1e-6 {
		return "", false
	}
	r := big.NewRat(int64(math.Round(n)), finest)
	whole := new(big.Int).Quo(r.Num(), r.Denom())
	rest := r.Sub(r, new(big.Rat).SetInt(whole))
	if whole.Sign() == 0 {
		return rest.RatString(), true
	}
	return whole.String() + " " + rest.RatString(), true
}
