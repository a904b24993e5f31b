package app

import (
	"context"
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat/fit"
)

// NoteGroup is one text of one supplier's notes with what it comes to.
type NoteGroup struct {
	Supplier string       `json:"supplier"`
	Note     string       `json:"note"`
	Rows     int          `json:"rows"`
	Parts    int          `json:"parts"`
	Kind     fit.NoteKind `json:"kind"`
	HangsOn  string       `json:"hangs_on,omitempty"`
	Means    string       `json:"means,omitempty"` // what was answered
	Answered string       `json:"answered,omitempty"`
	Open     bool         `json:"open"` // an answer would settle something
}

// NotesAnswer is the notes of the lists, grouped by supplier and text.
type NotesAnswer struct {
	Notes     []NoteGroup `json:"notes"`
	Texts     int         `json:"texts"`
	Rows      int         `json:"rows"`
	OpenTexts int         `json:"open_texts"`
	OpenRows  int         `json:"open_rows"`
}

// Notes groups the notes of the lists by supplier and text, those with the most
// rows first. Those that hold rows back come before those that let them pass.
func (s *Shop) Notes(ctx context.Context, supplier string) (NotesAnswer, error) {
	a := NotesAnswer{Notes: []NoteGroup{}}
	err := s.store.View(ctx, func(v *sqlite.View) error {
		suppliers, err := v.Suppliers(ctx)
		if err != nil {
			return err
		}
		if supplier, err = supplierName(supplier, suppliers); err != nil {
			return err
		}
		a, err = s.notes(ctx, v, supplier)
		return err
	})
	return a, err
}

func (s *Shop) notes(ctx context.Context, v *sqlite.View, supplier string) (NotesAnswer, error) {
	a := NotesAnswer{Notes: []NoteGroup{}}
	answers, err := v.NoteAnswers(ctx)
	if err != nil {
		return a, err
	}
	counts, err := v.NoteCounts(ctx, supplier)
	if err != nil {
		return a, err
	}
	byKind := map[fit.NoteKind][]NoteGroup{}
	for _, c := range counts {
		g := NoteGroup{Supplier: c.Supplier, Note: c.Text, Rows: c.Rows, Parts: c.Parts}
		g.Kind, g.HangsOn = s.fit().NoteKind(c.Text)
		g.Open = g.Kind == fit.NoteUnread || g.Kind == fit.NotePasses
		for _, n := range answers {
			if n.Supplier == c.Supplier && catalog.Fold(n.Note) == catalog.Fold(c.Text) {
				g.Means, g.Answered, g.Open = fit.NoteMeaning(n), n.Day, false
			}
		}
		a.Texts, a.Rows = a.Texts+1, a.Rows+c.Rows
		if g.Open {
			a.OpenTexts, a.OpenRows = a.OpenTexts+1, a.OpenRows+c.Rows
		}
		byKind[g.Kind] = append(byKind[g.Kind], g)
	}
	for _, k := range []fit.NoteKind{fit.NoteUnread, fit.NotePasses, fit.NoteRead, fit.NoteHarmless} {
		a.Notes = append(a.Notes, byKind[k]...)
	}
	return a, nil
}

// NoteSaid is an answer about a note: which one, and what it means.
type NoteSaid struct {
	Supplier string
	Text     string // the note, or a part of it that no other note of the supplier has
	Harmless bool
	Only     string
	Except   string
	Forget   bool
}

// meaning returns what was said; exactly one thing must be.
func (n NoteSaid) meaning() (means catalog.NoteMeans, words string, err error) {
	said := 0
	for _, m := range []struct {
		on    bool
		means catalog.NoteMeans
		words string
	}{{n.Harmless, catalog.NoteHarmless, ""}, {n.Only != "", catalog.NoteOnly, n.Only}, {n.Except != "", catalog.NoteExcept, n.Except}, {n.Forget, "", ""}} {
		if m.on {
			means, words, said = m.means, strings.Join(strings.Fields(m.words), " "), said+1
		}
	}
	if said != 1 {
		return "", "", &UsageError{Problem: "a note means one thing", Hint: `give one of --harmless, --only "A/C", --not-for "turbo", --forget`}
	}
	if words == "" && (means == catalog.NoteOnly || means == catalog.NoteExcept) || words != "" && catalog.Fold(words) == "" {
		return "", "", &UsageError{Problem: fmt.Sprintf("%q names nothing that a vehicle could have", words), Hint: `write it such as --only "A/C" or --not-for "turbo"`}
	}
	return means, words, nil
}

// AnswerNote keeps what a note of a supplier means, for all its rows and for
// the supplier's later lists, or forgets it. It returns the note as it stands
// after that.
func (s *Shop) AnswerNote(ctx context.Context, said NoteSaid) (NoteGroup, error) {
	means, words, err := said.meaning()
	if err != nil {
		return NoteGroup{}, err
	}
	list, err := s.Notes(ctx, said.Supplier)
	if err != nil {
		return NoteGroup{}, err
	}
	g, err := theNote(list.Notes, said)
	if err != nil {
		return g, err
	}
	if said.Forget {
		if g.Means == "" {
			return g, &UsageError{Problem: fmt.Sprintf("nothing was answered about %q of %s", g.Note, g.Supplier), Hint: "the notes with their answers: fitfill sheets notes --all"}
		}
		err = s.store.ForgetNote(ctx, g.Supplier, g.Note)
	} else {
		err = s.store.AnswerNote(ctx, catalog.NoteAnswer{Supplier: g.Supplier, Note: g.Note, Means: means, Words: words, Day: s.timestamp()[:len("2006-01-02")]})
	}
	if err != nil {
		return g, err
	}
	list, err = s.Notes(ctx, g.Supplier)
	for _, after := range list.Notes {
		if after.Note == g.Note {
			g = after
		}
	}
	return g, err
}

// theNote finds the one note that was meant: by its whole text, else by a part
// of it.
func theNote(list []NoteGroup, said NoteSaid) (NoteGroup, error) {
	want := catalog.Fold(said.Text)
	var part []NoteGroup
	for _, g := range list {
		switch text := catalog.Fold(g.Note); {
		case text == want:
			return g, nil
		case want != "" && strings.Contains(text, want):
			part = append(part, g)
		}
	}
	switch len(part) {
	case 0:
		return NoteGroup{}, &UsageError{Problem: fmt.Sprintf("no list of %s in use has a note with %q", said.Supplier, said.Text), Hint: fmt.Sprintf("its notes: fitfill sheets notes %q --all", said.Supplier)}
	case 1:
		return part[0], nil
	}
	var texts []string
	for _, g := range part {
		texts = append(texts, fmt.Sprintf("%q", g.Note))
	}
	return NoteGroup{}, &UsageError{Problem: fmt.Sprintf("%d notes of %s have %q", len(part), part[0].Supplier, said.Text), Hint: "give more of the one that is meant: " + strings.Join(texts, ", ")}
}
