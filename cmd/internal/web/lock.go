package web

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"
	"unicode"

	"fitfill/cmd/internal/app"
)

// Where the passphrase is entered, and where a browser leaves.
const (
	enterPath = "/passphrase"
	leavePath = "/leave"
)

// lock lets nobody see a page before the passphrase was entered, where one is
// set.
type lock struct {
	needed   bool // others reach the page: without a passphrase nobody gets an answer
	sessions *sessions
	guesses  *guesses
	turn     chan struct{} // one passphrase is looked at at a time: it takes a processor
}

func newLock(needed bool, now func() time.Time) *lock {
	return &lock{needed: needed, sessions: newSessions(now), guesses: newGuesses(now), turn: make(chan struct{}, 1)}
}

// letIn marks a request of a browser that was let in by the passphrase.
type letIn struct{}

// locked asks for the passphrase before anything else. Style and script are free:
// they are the same for everybody.
func (s *site) locked(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasPrefix(r.URL.Path, staticPath) {
			next.ServeHTTP(w, r)
			return
		}
		p, err := s.shop.Passphrase()
		if err != nil {
			// Why is not for strangers to read.
			s.refuse(w, r, http.StatusServiceUnavailable, "The passphrase of this page cannot be read.", "Set it anew at the machine itself, with: fitfill passphrase")
			return
		}
		if p == nil && s.lock.needed {
			s.refuse(w, r, http.StatusServiceUnavailable, "No passphrase is set any more, and other machines reach this page.", "Set one at the machine itself, with: fitfill passphrase")
			return
		}
		if p == nil {
			next.ServeHTTP(w, r)
			return
		}
		w.Header().Set("Cache-Control", "no-store") // who left does not come back with the Back button
		in := s.lock.sessions.knows(r, p)
		if in {
			r = r.WithContext(context.WithValue(r.Context(), letIn{}, true))
		}
		post := r.Method == http.MethodPost
		switch {
		case r.URL.Path == enterPath && post:
			s.enter(w, r, p)
		case r.URL.Path == enterPath && in:
			http.Redirect(w, r, "/", http.StatusSeeOther)
		case r.URL.Path == enterPath:
			s.showEntry(w, r, http.StatusOK, r.URL.Query().Get("to"), "", "")
		case r.URL.Path == leavePath && post:
			s.lock.sessions.end(w, r)
			http.Redirect(w, r, enterPath, http.StatusSeeOther)
		case in:
			next.ServeHTTP(w, r)
		default:
			s.shut(w, r)
		}
	})
}

// shut answers whoever was not let in.
func (s *site) shut(w http.ResponseWriter, r *http.Request) {
	to := "/"
	if r.Method == http.MethodGet && !isTwin(r) {
		to = address(wholePage(r), r.URL.Query())
	}
	const problem, hint = "The passphrase is asked for first.", "Enter it at " + enterPath + "."
	switch {
	case isTwin(r):
		s.sendJSON(w, r, http.StatusUnauthorized, map[string]string{"error": problem, "hint": "POST it as passphrase to " + enterPath + twinEnding + " and send the cookie that comes back."})
	case r.URL.Path != wholePage(r): // a part that is put into a page
		p := &failPage{frame: frame{Title: problem, Door: doorOf(r), Only: "problem"}, problemView: problemView{problem, hint, []choice{{Text: "Enter it", Href: address(enterPath, url.Values{"to": {to}})}}}}
		s.show(w, r, http.StatusUnauthorized, p)
	default:
		s.showEntry(w, r, http.StatusUnauthorized, to, "", "")
	}
}

// largestEntry is how many bytes the form with a passphrase may have.
const largestEntry = 16 << 10

// enter looks at a passphrase that was entered.
func (s *site) enter(w http.ResponseWriter, r *http.Request, p *app.Passphrase) {
	r.Body = http.MaxBytesReader(w, r.Body, largestEntry)
	if err := r.ParseForm(); err != nil {
		s.showEntry(w, r, http.StatusBadRequest, "", "What was sent cannot be read.", "Enter the passphrase and send it again.")
		return
	}
	to, from := r.PostForm.Get("to"), addressOf(r)
	if wait := s.lock.guesses.try(from); wait > 0 {
		s.tooSoon(w, r, to, wait)
		return
	}
	select {
	case s.lock.turn <- struct{}{}:
	case <-r.Context().Done():
		return
	}
	right := p.Matches(r.PostForm.Get("passphrase"))
	<-s.lock.turn
	if !right {
		s.showEntry(w, r, http.StatusUnauthorized, to, "That is not the passphrase.", "Capitals and small letters are different ones.")
		return
	}
	s.lock.guesses.right(from)
	s.lock.sessions.begin(w, p)
	if isTwin(r) {
		s.sendJSON(w, r, http.StatusOK, map[string]bool{"let_in": true})
		return
	}
	http.Redirect(w, r, within(to), http.StatusSeeOther)
}

func (s *site) tooSoon(w http.ResponseWriter, r *http.Request, to string, wait time.Duration) {
	n := int(math.Ceil(wait.Seconds()))
	w.Header().Set("Retry-After", strconv.Itoa(n))
	left := app.Plural(n, "second", "seconds")
	if n > 90 {
		left = app.Plural((n+59)/60, "minute", "minutes")
	}
	s.showEntry(w, r, http.StatusTooManyRequests, to, "Too many tries.", fmt.Sprintf("Try again in %s.", left))
}

// entryPage asks for the passphrase.
type entryPage struct {
	frame
	To      string
	Problem *problemView
}

func (*entryPage) template() string { return "passphrase" }

func (s *site) showEntry(w http.ResponseWriter, r *http.Request, status int, to, problem, hint string) {
	if isTwin(r) {
		s.sendJSON(w, r, status, map[string]string{"error": nonEmpty(problem, "The passphrase is asked for first."), "hint": hint})
		return
	}
	to = within(to)
	p := &entryPage{frame: frame{Title: "Passphrase", Door: doorAt(to)}, To: to}
	if problem != "" {
		p.Problem = &problemView{Problem: problem, Hint: hint}
	}
	s.show(w, r, status, p)
}

// within returns an address of this page itself, for a browser to go on to; "/"
// for anything else.
func within(to string) string {
	u, err := url.Parse(to)
	switch {
	case err != nil, !strings.HasPrefix(to, "/"), u.Scheme != "", u.Host != "", u.User != nil,
		strings.HasPrefix(to, "//"), strings.ContainsRune(to, '\\'), strings.ContainsFunc(to, unicode.IsControl),
		strings.HasPrefix(u.Path, "//"), u.Path == enterPath, u.Path == leavePath:
		return "/"
	}
	return to
}
