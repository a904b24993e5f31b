package web

import (
	"context"
	"errors"
	"net/http"
	"strings"

	"fitfill/cmd/internal/app"
)

// failPage says what went wrong and what to do.
type failPage struct {
	frame
	problemView
}

func (*failPage) template() string { return "fail" }

// problemView is what went wrong, what to do, and where to go on.
type problemView struct {
	Problem, Hint string
	Ways          []choice
}

// described turns an error into a status, what went wrong and what to do. The
// flags and commands that an answer of the program names are put into the
// words of the page.
func described(err error) (status int, problem, hint string) {
	var usage *app.UsageError
	var large *http.MaxBytesError
	var vehicle *app.UnknownVehicle
	var sheet *app.UnknownSheet
	hint, unknown := app.IsUnknown(err)
	switch {
	case errors.As(err, &usage):
		return http.StatusBadRequest, sentence(inPageWords(usage.Problem)), nonEmpty(sentence(inPageWords(usage.Hint)), goBack)
	case errors.As(err, &vehicle) && !nearest.MatchString(vehicle.Hint):
		return http.StatusNotFound, sentence(err.Error()), "Vehicles come on file at the Office, from a sheet of vehicles; without one, say the engine."
	case errors.As(err, &sheet):
		return http.StatusNotFound, sentence(err.Error()), "The sheets in use stand at the Office."
	case unknown:
		return http.StatusNotFound, sentence(inPageWords(err.Error())), nonEmpty(sentence(inPageWords(hint)), "Look for it at the Counter, with fewer letters.")
	case errors.Is(err, errNotHere):
		return http.StatusNotFound, sentence(err.Error()), "Go back, or begin at one of the three doors above."
	case errors.Is(err, app.ErrBusy):
		return http.StatusServiceUnavailable, sentence(app.Capital(err.Error())), "A list is being read in. Try again in a minute; looking things up works meanwhile."
	case errors.As(err, &large):
		return http.StatusRequestEntityTooLarge, "The sheet is too large for the page.", "Split it, or import it at the machine itself with: fitfill import FILE"
	case errors.Is(err, context.Canceled):
		return statusGone, "The question was taken back.", ""
	}
	return http.StatusInternalServerError, sentence(err.Error()), "Nothing was changed. If it comes again, look the catalogue over at the machine itself with: fitfill doctor"
}

// refused makes a page the answer to a question that failed, for the page to
// show what went wrong beside the form to ask again.
func (f *frame) refused(err error) *problemView {
	status, problem, hint := described(err)
	f.Status = status
	if hint == goBack {
		hint = ""
	}
	return &problemView{Problem: problem, Hint: hint}
}

// goBack is what is left to do where nothing better is known.
const goBack = "Go back and put it otherwise."

// statusGone is what servers write down for a browser that went away.
const statusGone = 499

var errNotHere = errors.New("there is no such page")

func (s *site) fail(w http.ResponseWriter, r *http.Request, err error) {
	status, problem, hint := described(err)
	s.refuse(w, r, status, problem, hint)
}

func (s *site) unknown(w http.ResponseWriter, r *http.Request) { s.fail(w, r, errNotHere) }

// refuse shows a sentence and a way on, as page or as JSON.
func (s *site) refuse(w http.ResponseWriter, r *http.Request, status int, problem, hint string) {
	if isTwin(r) {
		s.sendJSON(w, r, status, map[string]string{"error": problem, "hint": hint})
		return
	}
	p := &failPage{frame: frame{Title: problem, Door: doorOf(r)}, problemView: problemView{problem, hint, waysOn(r, problem, hint)}}
	if r.URL.Path != wholePage(r) {
		p.Only = "problem"
	}
	s.show(w, r, status, p)
}

// doorOf tells by the address at which door a question was asked.
func doorOf(r *http.Request) string { return doorAt(r.URL.Path) }

func doorAt(path string) string {
	for _, d := range doors[1:] {
		if strings.HasPrefix(path, d.path) {
			return d.id
		}
	}
	return doors[0].id
}
