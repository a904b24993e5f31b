package fit

import (
	"strings"

	"fitfill/catalog"
)

// NoteKind says what a note of a list comes to before anybody asks about a
// vehicle.
type NoteKind string

// The kinds of notes.
const (
	NoteHarmless NoteKind = "harmless"       // every word is on the list of harmless ones
	NoteRead     NoteKind = "read"           // conditions its rows, in words that are understood
	NoteUnread   NoteKind = "not understood" // has a limiting word: its rows are asked about until it is answered
	NotePasses   NoteKind = "passes"         // not known, and without a limiting word: conditions nothing
)

// NoteKind reads a note without a vehicle; on is what its rows hang on, empty
// where they hang on nothing.
func (t *Tables) NoteKind(text string) (kind NoteKind, on string) {
	tr := trial{Tables: t, q: &Question{}, field: &field{notes: map[string]reading{}}}
	kind = NoteHarmless
	for _, clause := range clauseBreak.Split(text, -1) {
		tokens := t.words.strip(strings.Fields(catalog.Fold(clause)), "harmless")
		_, _, excludes := t.words.find("exclusion", tokens)
		switch {
		case len(tokens) == 0:
			continue
		case !excludes && !tr.conditions(tokens):
			if kind == NoteHarmless {
				kind = NotePasses
			}
			continue
		}
		if kind != NoteUnread {
			kind = NoteRead
		}
		cases := tr.casesOf(clause)
		for _, c := range cases {
			if !t.understood(c) {
				kind = NoteUnread
			}
		}
		if len(cases) == 0 {
			kind = NoteUnread
		}
	}
	return kind, tr.readNote(text).on
}

// understood reports whether a case of a note names something that the
// vehicle's papers or a look at it tell.
func (t *Tables) understood(c noteCase) bool {
	return c.kind != byWords || len(t.words.strip(c.tokens, "qualifier", "fuel")) == 0
}

// answered reads a note by what the garage answered about it.
func (t trial) answered(a *catalog.NoteAnswer) reading {
	if a.Means == catalog.NoteHarmless {
		return reading{}
	}
	cases := t.answeredCases(a)
	if len(cases) == 0 {
		return reading{state: open, on: oneLine(a.Note), ask: "What does the note \"" + oneLine(a.Note) + "\" mean?"}
	}
	if a.Means == catalog.NoteExcept {
		return t.excepting(cases, a.Note)
	}
	return t.onlyFor(cases, a.Note)
}

func (t trial) answeredCases(a *catalog.NoteAnswer) (out []noteCase) {
	for _, clause := range clauseBreak.Split(a.Words, -1) {
		out = append(out, t.cases(clause, strings.Fields(catalog.Fold(clause)))...)
	}
	return out
}

// condition reads what narrows a listing: the garage's answer about its note,
// else the note itself.
func (t trial) condition(f *catalog.Fitment) reading {
	if f.Answered != nil {
		return t.answered(f.Answered)
	}
	return t.note(f.Condition)
}

// conditionCases returns the cases that the condition of a listing names.
func (t trial) conditionCases(f *catalog.Fitment) []noteCase {
	if f.Answered != nil {
		return t.answeredCases(f.Answered)
	}
	return t.casesOf(f.Condition)
}
