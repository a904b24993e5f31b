package fit

import (
	"regexp"
	"strings"

	"fitfill/catalog"
)

// state is what a condition comes to for the vehicle in question.
type state uint8

const (
	met state = iota
	open
	other    // the condition asks for another vehicle
	excepted // the note excludes this vehicle
)

// reading is a condition as read: what it comes to, what it hangs on ("HD"),
// and what to ask.
type reading struct {
	state state
	on    string
	ask   string
}

func (r reading) worse(o reading) reading {
	if o.state > r.state {
		return o
	}
	return r
}

// clauseBreak ends a clause; a comma between digits is a decimal.
var clauseBreak = regexp.MustCompile(`[;()\[\]]+|,\s+|,$`)

// note reads a condition as a list prints it. Harmless phrases go first; then a
// clause that begins with an exclusion names cases that the row is not for, a
// clause with a limiting word names the only cases it is for; anything else
// conditions nothing. Where the vehicle does not tell, the condition is open.
func (t trial) note(text string) reading {
	out := reading{}
	excluding := false
	for _, clause := range clauseBreak.Split(text, -1) {
		tokens := t.words.strip(strings.Fields(catalog.Fold(clause)), "harmless")
		if len(tokens) == 0 {
			continue
		}
		at, n, found := t.words.find("exclusion", tokens)
		switch {
		case found:
			excluding = true
			out = out.worse(t.requires(clause, tokens[:at], text)).worse(t.excludes(clause, tokens[at+n:], text))
		case excluding && !t.conditions(tokens):
			out = out.worse(t.excludes(clause, tokens, text))
		default:
			excluding = false
			out = out.worse(t.requires(clause, tokens, text))
		}
	}
	return out
}

// conditions reports whether a clause narrows its row at all.
func (t trial) conditions(tokens []string) bool {
	for _, kind := range []string{"limiting", "qualifier", "fuel"} {
		if _, _, ok := t.words.find(kind, tokens); ok {
			return true
		}
	}
	return len(yearTokens(tokens)) > 0
}

// excludes judges the cases that an exclusion names.
func (t trial) excludes(clause string, tokens []string, note string) reading {
	out := reading{}
	cases := t.cases(clause, tokens)
	if len(cases) == 0 {
		return reading{open, oneLine(note), "What does the note \"" + oneLine(note) + "\" exclude?"}
	}
	for _, c := range cases {
		switch fits, known := t.applies(c); {
		case !known:
			out = out.worse(reading{open, c.on(), c.question(note)})
		case fits:
			return reading{excepted, c.on(), ""}
		}
	}
	return out
}

// requires judges a clause that names the only cases a row is for.
func (t trial) requires(clause string, tokens []string, note string) reading {
	if !t.conditions(tokens) {
		return reading{}
	}
	out := reading{}
	for _, c := range t.cases(clause, tokens) {
		switch fits, known := t.applies(c); {
		case !known:
			out = reading{open, c.on(), c.question(note)}
		case fits:
			return reading{}
		case out.state == met:
			out = reading{other, c.on(), ""}
		}
	}
	return out
}
