package units

import (
	"strings"

	"fitfill/catalog/pattern"
)

var between = pattern.New(`^ ?(-|to\b|thru\b|through\b|\.\.+|/|=) ?`).Needing("-t./=")

// read takes a whole text as one value, a value stated in two units, or a pair.
// Brackets are followed one level deep only.
func (d *dimension) read(s string, dflt Unit, brackets bool) (span, *ParseError) {
	a, rest, perr := d.scan(s)
	if perr != nil {
		return span{}, perr
	}
	sp, mark := span{first: a, second: a}, ""
	if m := between.FindStringSubmatch(rest); m != nil {
		if sp.second, rest, perr = d.scan(rest[len(m[0]):]); perr != nil {
			return span{}, perr
		}
		sp.pair, sp.slash, mark = true, m[1] == "/", m[1]
	}
	if rest != "" && (rest[0] != '(' || !brackets) {
		return span{}, d.leftOver(rest)
	}
	if sp.pair {
		if sp, perr = d.settlePair(sp, mark, dflt); perr != nil {
			return span{}, perr
		}
	}
	if sp.low, perr = d.resolve(sp.first, dflt); perr != nil {
		return span{}, perr
	}
	if sp.high, perr = d.resolve(sp.second, dflt); perr != nil {
		return span{}, perr
	}
	if !sp.pair {
		sp.high = sp.low
	}
	if rest == "" {
		return sp, nil
	}
	return sp, d.restated(sp, rest, dflt)
}

// settlePair gives a bare half of a pair the unit of the other half, and finds
// out whether "88/190" is one rating in two units.
func (d *dimension) settlePair(sp span, mark string, dflt Unit) (span, *ParseError) {
	bare := func(v value) bool { return v.unit == "" || v.unit == unscaledDegree }
	a, b := &sp.first, &sp.second
	if mark == "/" || mark == "=" {
		in := dflt
		if d == temperatures {
			in = ""
		}
		if d.agree(*a, *b, in) {
			a.unit, _ = d.unitOf(*a, in)
			*b, sp.pair = *a, false
			return sp, nil
		}
	}
	switch {
	case mark == "=":
		return sp, unreadable("states two values that do not agree", "keep the one that is right")
	case bare(*a) && !bare(*b):
		a.unit = b.unit
	case bare(*b) && !bare(*a):
		b.unit = a.unit
	case bare(*a) && dflt == "":
		ua, perr := d.unitOf(*a, "")
		if perr != nil {
			return sp, perr
		}
		if ub, perr := d.unitOf(*b, ""); perr != nil {
			return sp, perr
		} else if ua != ub {
			return sp, ambiguous("could be "+string(ua)+" and "+string(ub)+" or one unit for both", "write the unit behind each")
		}
	}
	return sp, nil
}

func (d *dimension) leftOver(rest string) *ParseError {
	for _, other := range []*dimension{temperatures, lengths, volumes, torques, pressures, percents} {
		u, tail := matchName(rest, other.names())
		if u != "" && strings.Trim(tail, " ") == "" && !strings.HasPrefix(rest, "lb") {
			return unreadable("is in "+string(u)+", which is not a unit of "+d.quantity, "check the column")
		}
	}
	return unreadable(`has "`+rest+`" behind the number`, "write one value and its unit")
}

// one reads a text that must state a single value.
func (d *dimension) one(text string, dflt Unit) (int64, error) {
	sp, perr := d.whole(text, dflt)
	if perr == nil && sp.pair {
		perr = unreadable("states two values where one is expected", "write one value, or use the columns for low and high")
	}
	if perr != nil {
		return 0, perr.of(d.quantity, text)
	}
	return sp.low, nil
}

// two reads a text that may state a range; one value counts as both its ends.
func (d *dimension) two(text string, dflt Unit) (low, high int64, err error) {
	sp, perr := d.whole(text, dflt)
	switch {
	case perr != nil:
	case sp.slash && sp.pair && d != temperatures:
		perr = unreadable("states two values that are not a range", `write a range as "15-22" with its unit`)
	case sp.low > sp.high:
		perr = unreadable("runs backwards", "write the lower value first")
	}
	if perr != nil {
		return 0, 0, perr.of(d.quantity, text)
	}
	return sp.low, sp.high, nil
}

func (d *dimension) whole(text string, dflt Unit) (span, *ParseError) {
	s := clean(text)
	switch {
	case s == "":
		return span{}, unreadable("is empty", "write a number and its unit")
	case len(s) > maxText:
		return span{}, unreadable("is too long for one "+d.quantity, "write only the number and its unit")
	}
	return d.read(s, dflt, true)
}
