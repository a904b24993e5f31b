package importers

import (
	"strconv"
	"strings"
)

// marks is what the marks of one number show.
type marks uint8

const (
	noMark marks = iota
	commaDecimal
	pointDecimal
	unclearMark
	lone    marks = 8  // the decimal mark stands alone: nothing shows thousands
	grouped marks = 16 // the other mark stands for thousands
)

func (m marks) vote() marks { return m & 7 }

func digitAt(s string, i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }

// nextNumber returns the first run of digits with marks between or before them,
// and what follows it.
func nextNumber(s string) (number, rest string) {
	start := 0
	for start < len(s) && !digitAt(s, start) && !((s[start] == '.' || s[start] == ',') && digitAt(s, start+1) && !digitAt(s, start-1)) {
		start++
	}
	end := numberEnd(s, start)
	return s[start:end], s[end:]
}

func numberEnd(s string, i int) int {
	for i < len(s) && (digitAt(s, i) || (s[i] == '.' || s[i] == ',') && digitAt(s, i+1)) {
		i++
	}
	return i
}

// marksOf says which decimal mark a number proves. Of two marks the right one
// is the decimal mark, a repeated mark stands for thousands, and a lone mark in
// front of other than three digits is a decimal mark. With strict set (money and
// counts, where thousands are common) a lone point before three digits is as
// unclear as a lone comma; elsewhere a lone point is a decimal point.
func marksOf(n string, strict bool) marks {
	last := strings.LastIndexAny(n, ".,")
	if last < 0 {
		return noMark
	}
	dots, commas := strings.Count(n, "."), strings.Count(n, ",")
	decimal := pointDecimal
	if n[last] == ',' {
		decimal = commaDecimal
	}
	switch {
	case dots > 0 && commas > 0:
		return decimal | grouped
	case dots > 1:
		return commaDecimal | grouped
	case commas > 1:
		return pointDecimal | grouped
	}
	whole, frac := n[:last], n[last+1:]
	switch {
	case len(frac) != 3 || len(whole) == 0 || len(whole) > 3 || whole[0] == '0':
		return decimal | lone
	case commas == 1 || strict:
		return unclearMark
	}
	return noMark
}

// plain rewrites every number of a cell with a point as its only mark, by the
// decimal mark of the column. It reports false where a number's marks do not
// fit that mark. With strict set, three decimals get a fourth, so that nobody
// downstream can take them for thousands. In a mixed column either mark may be
// the decimal mark, and what could be thousands too fits neither.
func plain(text, decimal string, strict, mixed bool) (string, bool) {
	if decimal == "" || strings.IndexByte(text, ',') < 0 && strings.IndexByte(text, '.') < 0 {
		return text, true
	}
	var b strings.Builder
	for rest := text; ; {
		number, after := nextNumber(rest)
		b.WriteString(rest[:len(rest)-len(after)-len(number)])
		if number == "" {
			return b.String(), true
		}
		mark := decimal
		if mixed {
			switch m := marksOf(number, true); {
			case m.vote() == unclearMark:
				return "", false
			case m == commaDecimal|lone:
				mark = Comma
			case m == pointDecimal|lone:
				mark = Point
			}
		}
		n, ok := plainNumber(number, mark, strict)
		if !ok {
			return "", false
		}
		b.WriteString(n)
		rest = after
	}
}

func plainNumber(n, decimal string, strict bool) (string, bool) {
	mark, group := ".", ","
	if decimal == Comma {
		mark, group = ",", "."
	}
	whole, frac, found := strings.Cut(n, mark)
	if strings.ContainsAny(frac, ".,") {
		return "", false
	}
	if strings.Contains(whole, group) {
		groups := strings.Split(whole, group)
		if !thousands(groups, group == ",") {
			return "", false
		}
		whole = strings.Join(groups, "")
	}
	if whole == "" {
		whole = "0"
	}
	if !found {
		return whole, true
	}
	if strict && len(frac) == 3 {
		frac += "0"
	}
	return whole + "." + frac, true
}

// thousands reports whether the digits between marks are groups of three from
// the right; with commas, pairs may stand in front of the last group, as in
// 1,00,000.
func thousands(groups []string, pairs bool) bool {
	last := len(groups) - 1
	size := 3
	if pairs && last > 1 && len(groups[1]) == 2 {
		size = 2
	}
	for i, g := range groups {
		switch {
		case i == 0:
			if len(g) == 0 || len(g) > size {
				return false
			}
		case i == last && len(g) != 3, i < last && len(g) != size:
			return false
		}
	}
	return true
}

// scaled reads a plain number as a whole number of 10^−places. It reports false
// for anything else than digits, one sign in front and one point, for more
// decimals than places that are not zero, and for numbers beyond 15 digits.
func scaled(s string, places int) (int64, bool) {
	whole, frac, _ := strings.Cut(s, ".")
	digits := strings.TrimPrefix(whole, "-")
	for len(frac) > places && frac[len(frac)-1] == '0' {
		frac = frac[:len(frac)-1]
	}
	if digits == "" || len(frac) > places || len(digits)+places > 15 {
		return 0, false
	}
	var n int64
	for _, part := range [...]string{digits, frac} {
		for i := range len(part) {
			if !digitAt(part, i) {
				return 0, false
			}
			n = n*10 + int64(part[i]-'0')
		}
	}
	for range places - len(frac) {
		n *= 10
	}
	if whole[0] == '-' {
		n = -n
	}
	return n, true
}

func decimals(n int64) string { return strconv.FormatInt(n, 10) }
