package fit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
)

// noteCase is one case that a note names: "HD", "VIN K", "1999-2001", "3.8".
type noteCase struct {
	clause  string   // as the note has it
	tokens  []string // without connecting words
	joining []string // the connecting words
	kind    caseKind
	through bool // two years with a stretch between them
}

type caseKind uint8

const (
	byWords caseKind = iota
	byYear
	byVIN
	bySize
	byFuel
)

var (
	yearText    = pattern.New(`^(?:19|20)\d\d$`)
	stretchText = pattern.New(`(?i)(?:19|20)\d\d\s*(?:[-–—]|to|thru|through|until|till)\s*(?:19|20)\d\d`)
	litreText   = pattern.New(`^\d \d(?: ?l)?$`)
)

func yearTokens(tokens []string) []string {
	return slices.DeleteFunc(slices.Clone(tokens), func(s string) bool { return !yearText.MatchString(s) })
}

// cases splits the tokens of a clause at "and" and "or" and says of each what
// it hangs on.
func (t trial) cases(clause string, tokens []string) []noteCase {
	_, _, vin := t.words.find("limiting", slices.DeleteFunc(slices.Clone(tokens), func(s string) bool { return s != "vin" }))
	vin = vin || strings.Contains(catalog.Fold(clause), "8th digit")
	var out []noteCase
	for len(tokens) > 0 {
		end := slices.IndexFunc(tokens, func(s string) bool { return s == "and" || s == "or" })
		part := tokens
		if end >= 0 {
			part, tokens = tokens[:end], tokens[end+1:]
		} else {
			tokens = nil
		}
		c := noteCase{clause: clause, tokens: t.words.strip(part, "limiting", "filler"), through: stretchText.MatchString(clause)}
		for _, w := range part {
			if !slices.Contains(c.tokens, w) {
				c.joining = append(c.joining, w)
			}
		}
		if len(c.tokens) == 0 {
			continue
		}
		_, _, fuel := t.words.find("fuel", c.tokens)
		switch {
		case len(yearTokens(c.tokens)) == len(c.tokens):
			c.kind = byYear
		case vin && !slices.ContainsFunc(c.tokens, func(s string) bool { return len(s) > 1 }):
			c.kind = byVIN
		case litreText.MatchString(strings.Join(c.tokens, " ")):
			c.kind = bySize
		case fuel && len(c.tokens) == 1:
			c.kind = byFuel
		}
		out = append(out, c)
	}
	return out
}

// on names the case for a person.
func (c noteCase) on() string {
	switch c.kind {
	case byYear:
		return strings.Join(slices.Concat(c.joining, c.tokens), " ")
	case byVIN:
		return "VIN " + strings.ToUpper(strings.Join(c.tokens, ""))
	case bySize:
		return c.tokens[0] + "." + strings.TrimSuffix(c.tokens[1], "l") + " L"
	}
	if len(yearTokens(c.tokens)) > 0 { // a year and something else: the words between them matter
		return strings.TrimSpace(c.clause)
	}
	text := strings.Join(c.tokens, " ")
	if len(text) <= 3 {
		text = strings.ToUpper(strings.ReplaceAll(text, " ", "/"))
	}
	return text
}

// open is the reading of a case that the vehicle does not settle, with what to
// ask.
func (c noteCase) open(note string) reading {
	r := reading{state: open, on: c.on()}
	switch c.kind {
	case byYear:
		r.on, r.ask, r.flag = "the year ("+r.on+")", "Which model year?", FlagYear
	case byVIN:
		r.ask, r.flag = "What is the 8th character of the VIN?", FlagVIN8
	case bySize:
		r.ask, r.flag = "Which displacement?", FlagDisplacement
	default:
		r.ask = fmt.Sprintf("Is it %s? The list says: %s", c.on(), oneLine(note))
		r.flag = fmt.Sprintf("%s %q", FlagWith, c.on())
	}
	return r
}

// applies reports whether the vehicle in question is this case, and whether
// that is known.
func (t trial) applies(c noteCase) (yes, known bool) {
	names := t.names()
	switch c.kind {
	case byYear:
		return t.inYears(c)
	case byVIN:
		mine := t.vin8()
		return slices.ContainsFunc(c.tokens, func(s string) bool { return strings.EqualFold(s, mine) }), mine != ""
	case bySize:
		if mine, known := t.size(); known {
			return mine+" L" == c.on(), true
		}
	case byFuel:
		if mine := catalog.Fold(t.q.Engine.Fuel.Value); t.q.Engine.Fuel.Known {
			_, _, known := t.words.find("fuel", []string{mine})
			return mine == c.tokens[0] || mine != "diesel" && c.tokens[0] != "diesel", known
		}
	}
	for _, w := range c.tokens {
		if !slices.Contains(names, w) {
			return t.told(c.tokens)
		}
	}
	return true, true
}

// inYears compares a stretch of model years with the year asked for. A year
// that stands beside "before" or "after" is a boundary that only the build
// date settles.
func (t trial) inYears(c noteCase) (yes, known bool) {
	var years []int
	for _, y := range c.tokens {
		n, _ := strconv.Atoi(y) // yearText lets only digits through
		years = append(years, n)
	}
	joined := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(c.joining, w) })
	}
	first, last := slices.Min(years), slices.Max(years)
	if t.q.Built != 0 && len(years) == 1 && joined("before", "after") {
		return t.besideYear(first, joined("before"))
	}
	switch {
	case t.q.Year == 0:
		return false, false
	case len(years) == 2 && c.through:
		return first <= t.q.Year && t.q.Year <= last, true
	case len(years) > 1:
		return slices.Contains(years, t.q.Year), true
	case joined("before", "after"):
		return joined("before") == (t.q.Year < first), t.q.Year != first
	case joined("from", "since", "on"):
		return t.q.Year >= first, true
	case joined("to", "until", "till", "thru", "through"):
		return t.q.Year <= first, true
	}
	return t.q.Year == first, true
}

// besideYear tells whether a vehicle whose build month is known lies before or
// after a year. A list may mean the date of build or the model year, and a model
// year begins in the calendar year before it: only where both readings agree is
// it settled.
func (t trial) besideYear(first int, before bool) (yes, known bool) {
	built, year := t.q.Built.year(), t.q.Year
	yes, known = built > first, built != first
	if before {
		yes, known = built < first, year != 0 || built != first-1
	}
	if year != 0 {
		known = known && year != first && yes == (before == (year < first))
	}
	return yes, known
}

// vin8 returns the one character that the VIN has at its 8th place, empty
// where nobody said or the engine has several.
func (t trial) vin8() string {
	v := t.q.VIN8
	if v == "" && t.q.Engine.VIN8.Known {
		v = t.q.Engine.VIN8.Value
	}
	if v = catalog.Key(v); len(v) == 1 {
		return v
	}
	return ""
}

// names returns every word that names the engine.
func (t trial) names() []string {
	e := &t.q.Engine
	return strings.Fields(catalog.Fold(strings.Join([]string{e.Family, e.AlsoKnownAs.Value, e.Make.Value, e.Model.Value}, " ; ")))
}
