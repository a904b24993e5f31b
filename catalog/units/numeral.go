package units

import (
	"math/big"
	"strings"
)

// numeral is a number as it was printed.
type numeral struct {
	val      *big.Rat
	places   int  // digits after the decimal mark
	fraction bool // printed as 1/8 or 2-1/8
}

func digit(s string, i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }

// scanNumeral reads one number at the start of s and returns what follows it.
// A lone dot is a decimal mark; with strictDot (money) a lone dot before exactly
// three digits is as ambiguous as a comma.
func scanNumeral(s string, fractions, strictDot bool) (numeral, string, *ParseError) {
	neg := false
	if s != "" && (s[0] == '-' || s[0] == '+') {
		neg = s[0] == '-'
		s = strings.TrimLeft(s[1:], " ")
	}
	end := numeralEnd(s)
	if end == 0 {
		return numeral{}, s, unreadable("has no number where one is expected", "write a number and its unit")
	}
	chunk, rest := s[:end], s[end:]
	plain, perr := readMarks(chunk, strictDot)
	if perr != nil {
		return numeral{}, rest, perr
	}
	val, ok := new(big.Rat).SetString(plain)
	if !ok {
		return numeral{}, rest, unreadable("holds "+chunk+", which is not a number", "write one number with one decimal mark")
	}
	n := numeral{val: val}
	if i := strings.IndexByte(plain, '.'); i >= 0 {
		n.places = len(plain) - i - 1
	} else if fractions && plain == chunk {
		n, rest = addFraction(n, rest)
	}
	if neg {
		n.val.Neg(n.val)
	}
	return n, rest, nil
}

// numeralEnd returns the length of the digits and marks at the start of s. A
// space counts as a mark only in front of a group of exactly three digits.
func numeralEnd(s string) int {
	i := 0
	for i < len(s) {
		switch {
		case digit(s, i):
		case (s[i] == '.' || s[i] == ',') && digit(s, i+1):
		case s[i] == '\'' && digit(s, i-1) && digit(s, i+1):
		case s[i] == ' ' && digit(s, i-1) && digit(s, i+1) && digit(s, i+2) && digit(s, i+3) &&
			!digit(s, i+4) && !strings.HasPrefix(s[i+4:], "/"):
		default:
			return i
		}
		i++
	}
	return i
}

// readMarks decides which mark is the decimal one and returns the number with
// a dot or none. Both marks present: the right one is decimal. A repeated mark
// groups thousands. One comma with exactly three digits behind it could be
// either, unless the digits before it rule thousands out.
func readMarks(chunk string, strictDot bool) (string, *ParseError) {
	whole, frac, point := chunk, "", false
	dots, commas := strings.Count(chunk, "."), strings.Count(chunk, ",")
	spaced := strings.ContainsAny(chunk, " '")
	lastMark := strings.LastIndexAny(chunk, ".,")
	switch {
	case dots > 0 && commas > 0, dots+commas == 1:
		if strings.Count(chunk, chunk[lastMark:lastMark+1]) > 1 {
			return "", badMarks(chunk)
		}
		whole, frac, point = chunk[:lastMark], chunk[lastMark+1:], true
	}
	if dots+commas == 1 && !spaced && len(frac) == 3 && (commas == 1 || strictDot) &&
		whole != "" && len(whole) <= 3 && whole[0] != '0' {
		return "", ambiguous("could be "+whole+"."+frac+" or "+whole+frac, "write the decimal mark unmistakably")
	}
	if spaced && !point && !strictDot && strings.Contains(chunk, " ") {
		return "", ambiguous("could be "+strings.ReplaceAll(chunk, " ", "")+" or several numbers", "write one number without spaces")
	}
	digits, ok := ungroup(whole)
	if !ok {
		return "", badMarks(chunk)
	}
	if digits == "" {
		digits = "0"
	}
	if point {
		return digits + "." + frac, nil
	}
	return digits, nil
}

func badMarks(chunk string) *ParseError {
	return unreadable("holds "+chunk+", whose marks do not make one number", "write one number with one decimal mark")
}

// ungroup takes the thousands marks out of a whole number: one kind of mark,
// groups of three from the right (the Indian 1,00,000 has pairs in front).
func ungroup(whole string) (string, bool) {
	i := strings.IndexAny(whole, "., '")
	if i < 0 {
		return whole, true
	}
	groups := strings.Split(whole, whole[i:i+1])
	for k, g := range groups {
		last, pair := k == len(groups)-1, whole[i] == ',' && len(g) == 2
		switch {
		case strings.ContainsAny(g, "., '"), g == "":
			return "", false
		case k == 0 && len(g) <= 3:
		case k > 0 && len(g) == 3:
		case k > 0 && !last && pair:
		default:
			return "", false
		}
	}
	return strings.Join(groups, ""), true
}
