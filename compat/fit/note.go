package fit

import (
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
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
	flag  string // takes the answer
}

func (r reading) worse(o reading) reading {
	if o.state > r.state {
		return o
	}
	return r
}

// clauseBreak ends a clause; a comma between digits is a decimal.
var clauseBreak = pattern.New(`[;()\[\]]+|,\s+|,$`).Needing(";()[],")

// note reads a condition as a list prints it. Harmless phrases go first; then a
// clause that begins with an exclusion names cases that the row is not for, a
// clause with a limiting word names the only cases it is for; anything else
// conditions nothing. Where the vehicle does not tell, the condition is open.
func (t trial) note(text string) reading {
	if r, ok := t.field.notes[text]; ok {
		return r
	}
	r := t.readNote(text)
	t.field.notes[text] = r
	return r
}

func (t trial) readNote(text string) reading {
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

// casesOf returns every case that a note names.
func (t trial) casesOf(text string) (out []noteCase) {
	for _, clause := range clauseBreak.Split(text, -1) {
		tokens := t.words.strip(strings.Fields(catalog.Fold(clause)), "harmless")
		if at, n, found := t.words.find("exclusion", tokens); found {
			tokens = slices.Delete(tokens, at, at+n)
		}
		out = append(out, t.cases(clause, tokens)...)
	}
	return out
}

// vinOfNote returns the VIN characters that the note of a listing names.
func (t trial) vinOfNote(f *catalog.Fitment) (letters []string) {
	for _, c := range t.conditionCases(f) {
		if c.kind == byVIN {
			for _, l := range c.tokens {
				letters = append(letters, strings.ToUpper(l))
			}
		}
	}
	return letters
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
	cases := t.cases(clause, tokens)
	if len(cases) == 0 {
		return reading{state: open, on: oneLine(note), ask: "What does the note \"" + oneLine(note) + "\" exclude?"}
	}
	return t.excepting(cases, note)
}

// excepting judges a row that is not for the cases.
func (t trial) excepting(cases []noteCase, note string) reading {
	out := reading{}
	for _, c := range cases {
		switch fits, known := t.applies(c); {
		case !known:
			out = out.worse(c.open(note))
		case fits:
			return reading{state: excepted, on: c.on()}
		}
	}
	return out
}

// requires judges a clause that names the only cases a row is for.
func (t trial) requires(clause string, tokens []string, note string) reading {
	if !t.conditions(tokens) {
		return reading{}
	}
	return t.onlyFor(t.cases(clause, tokens), note)
}

// onlyFor judges a row that is for the cases only.
func (t trial) onlyFor(cases []noteCase, note string) reading {
	out := reading{}
	for _, c := range cases {
		switch fits, known := t.applies(c); {
		case !known:
			out = c.open(note)
		case fits:
			return reading{}
		case out.state == met:
			out = reading{state: other, on: c.on()}
		}
	}
	return out
}
