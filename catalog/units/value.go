package units

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"fitfill/catalog/pattern"
)

// value is one printed number with the unit printed behind it, "" if none.
type value struct {
	numeral
	unit Unit
}

var (
	diameterMark = pattern.New(`^(?i:Ø|dia\.?|diam\.?)\s*`).Needing("ØødD")
	exponent     = pattern.New(`^[eE][-+]?\d`).Needing("eE")
)

// scan reads one value at the start of s and returns what follows it.
func (d *dimension) scan(s string) (value, string, *ParseError) {
	if d == lengths {
		s = s[len(diameterMark.FindString(s)):]
	}
	n, rest, perr := scanNumeral(s, d.fractions, false)
	if perr != nil {
		return value{}, rest, perr
	}
	if exponent.MatchString(rest) {
		return value{}, rest, unreadable("is written with an exponent", "write the number out in full")
	}
	u, rest := matchName(rest, d.names())
	return value{n, u}, strings.TrimLeft(rest, " "), nil
}

// longestName bounds the search for a unit, in bytes.
const longestName = 24

// matchName takes the longest known name from the start of s; a name may hang
// on a hyphen ("3.8-litre") and may end in an abbreviation dot.
func matchName(s string, names map[string]Unit) (Unit, string) {
	t := strings.TrimLeft(s, " ")
	if len(t) > 1 && t[0] == '-' && unicode.IsLetter(rune(t[1])) {
		t = t[1:]
	}
	best, found := 0, Unit("")
	for i, r := range t {
		end := i + utf8.RuneLen(r)
		if r == utf8.RuneError || end > longestName {
			break
		}
		if strings.ContainsRune(" -.·^(", r) || r == ')' && !strings.Contains(t[:i], "(") {
			continue
		}
		next, _ := utf8.DecodeRuneInString(t[end:])
		if (unicode.IsLetter(next) || unicode.IsDigit(next)) && r != '"' && r != '%' {
			continue
		}
		if u, ok := names[key(t[:end])]; ok && t[0] != '(' {
			best, found = end, u
		}
	}
	if best == 0 {
		return "", s
	}
	rest := t[best:]
	if strings.HasPrefix(rest, ".") && !strings.HasPrefix(rest, "..") {
		rest = rest[1:]
	}
	return found, rest
}

// resolve turns a printed value into base units. A bare number takes dflt.
func (d *dimension) resolve(v value, dflt Unit) (int64, *ParseError) {
	u, perr := d.unitOf(v, dflt)
	if perr != nil {
		return 0, perr
	}
	if v.fraction && (u == UnitMillimetre || u == UnitCentimetre || u == UnitMetre) {
		return 0, ambiguous("is a fraction, which could be inches or two values in "+string(u), `write inches as 7/8" and two values apart`)
	}
	b, ok := d.base(v.val, u)
	return b, d.check(b, ok)
}

func (d *dimension) unitOf(v value, dflt Unit) (Unit, *ParseError) {
	u := v.unit
	if u == "" || u == unscaledDegree {
		if dflt == "" {
			return d.guess(v)
		}
		u = dflt
	}
	if side, two := sides[u]; two {
		switch {
		case strings.HasPrefix(string(dflt), "US "):
			u = side.us
		case strings.HasPrefix(string(dflt), "imp "):
			u = side.imp
		default:
			return "", sideless(u)
		}
	}
	if _, ok := d.scales[u]; !ok {
		return "", unreadable("was to be read in "+string(u)+", which is not a unit of "+d.quantity, "state another unit for the column or setting")
	}
	return u, nil
}

// The trade writes ratings of thermostats bare: from 150 up they are °F, from
// 60 to 120 °C (common practice); between the two nobody can tell.
const (
	leastBareFahrenheit = 150
	leastBareCelsius    = 60
	mostBareCelsius     = 120
)

func (d *dimension) guess(v value) (Unit, *ParseError) {
	if d == temperatures {
		switch f, _ := v.val.Float64(); {
		case f >= leastBareFahrenheit:
			return UnitFahrenheit, nil
		case f >= leastBareCelsius && f <= mostBareCelsius:
			return UnitCelsius, nil
		}
	}
	return "", ambiguous(d.readings(plainNumber(v.val)), "write the unit")
}
