package web

import (
	"net/http"
	"strconv"
	"strings"

	"fitfill/cmd/internal/app"
)

// heldPage is the rows that are held back, each with the way to put it right.
type heldPage struct {
	frame
	Rooms  []doorway
	Sheets []heldSheet
	Done   string
}

func (*heldPage) template() string { return "held" }

// heldSheet is the held rows of one sheet.
type heldSheet struct {
	ID   int64
	Name string
	Rows []heldView
	CSV  string
}

// heldView is one held row. Column is empty where the whole row is meant.
type heldView struct {
	Line                 int
	Column, Text, Reason string
	Raw                  string
}

func askHeld(s *site, r *http.Request) (reply, error) {
	list, err := s.shop.Held(r.Context(), 0)
	if err != nil {
		return reply{}, err
	}
	p := &heldPage{frame: frame{Title: "Held rows", Door: "office"}, Rooms: roomsAt("/office/held"), Done: map[string]string{"taken": "The row is right now and in use.", "waived": "The row stays out, and why is on record."}[r.URL.Query().Get("done")]}
	for _, h := range list {
		if n := len(p.Sheets); n == 0 || p.Sheets[n-1].ID != h.ID {
			p.Sheets = append(p.Sheets, heldSheet{ID: h.ID, Name: h.Sheet, CSV: address("/office/held.csv", with(nil, "sheet", strconv.FormatInt(h.ID, 10)))})
		}
		last := &p.Sheets[len(p.Sheets)-1]
		last.Rows = append(last.Rows, heldView{h.Line, h.Column, h.Text, h.Reason, h.Raw})
	}
	return reply{list, p, ""}, nil
}

func writeHeld(s *site, r *http.Request) (reply, error) {
	f := r.PostForm
	id, err := sheetID(f.Get("sheet"))
	if err != nil {
		return reply{}, err
	}
	line, err := strconv.Atoi(f.Get("line"))
	if err != nil {
		return reply{}, errNotHere
	}
	if f.Get("do") == "waive" {
		_, err := s.shop.WaiveHeld(r.Context(), id, line, "", f.Get("reason"))
		return reply{see: "/office/held?done=waived"}, err
	}
	a, err := s.shop.FixHeld(r.Context(), id, line, map[string]string{f.Get("column"): strings.TrimSpace(f.Get("value"))}, nil)
	switch {
	case err != nil:
		return reply{}, err
	case a.Status == app.Staged:
		return reply{a, importPageOf(a), ""}, nil
	case a.RowsHeld > 0:
		return reply{}, &app.UsageError{Problem: "the row is still held back: " + heldReason(a, line), Hint: "correct it on the page of held rows"}
	}
	return reply{see: "/office/held?done=taken"}, nil
}

func heldReason(a app.ImportAnswer, line int) string {
	for _, h := range a.Held {
		if h.Line == line || len(a.Held) == 1 {
			return h.Reason
		}
	}
	return "see the page of held rows"
}

// notesPage is the notes of the lists, one answer for each text.
type notesPage struct {
	frame
	Rooms []doorway
	app.NotesAnswer
	Open, Known []app.NoteGroup
}

func (*notesPage) template() string { return "notes" }

func askNotes(s *site, r *http.Request) (reply, error) {
	a, err := s.shop.Notes(r.Context(), r.URL.Query().Get("supplier"))
	if err != nil {
		return reply{}, err
	}
	p := &notesPage{frame: frame{Title: "Notes in lists", Door: "office"}, Rooms: roomsAt("/office/notes"), NotesAnswer: a}
	for _, n := range a.Notes {
		if n.Open {
			p.Open = append(p.Open, n)
		} else {
			p.Known = append(p.Known, n)
		}
	}
	return reply{a, p, ""}, nil
}

func writeNote(s *site, r *http.Request) (reply, error) {
	f := r.PostForm
	said := app.NoteSaid{Supplier: f.Get("supplier"), Text: f.Get("note")}
	switch f.Get("means") {
	case "harmless":
		said.Harmless = true
	case "only":
		said.Only = f.Get("words")
	case "except":
		said.Except = f.Get("words")
	case "forget":
		said.Forget = true
	}
	_, err := s.shop.AnswerNote(r.Context(), said)
	return reply{see: "/office/notes"}, err
}
