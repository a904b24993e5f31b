package web

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"net/http"
	"sync"
	"time"

	"fitfill/cmd/internal/app"
)

// How long a browser stays let in: not used for so long, and at all.
const (
	unusedTime   = 12 * time.Hour
	sessionTime  = 7 * 24 * time.Hour
	mostSessions = 500
	cookieName   = "fitfill"
)

// sessions are the browsers that were let in. They are known by the digest of
// what their cookies hold, and end when the program does.
type sessions struct {
	mu  sync.Mutex
	now func() time.Time
	in  map[[sha256.Size]byte]*session
}

type session struct {
	under     *app.Passphrase // that was set when it began
	born, was time.Time
}

func newSessions(now func() time.Time) *sessions {
	return &sessions{now: now, in: map[[sha256.Size]byte]*session{}}
}

// begin lets a browser in.
func (s *sessions) begin(w http.ResponseWriter, under *app.Passphrase) {
	secret := make([]byte, sha256.Size)
	rand.Read(secret) // it never fails: it ends the program instead
	value := base64.RawURLEncoding.EncodeToString(secret)
	s.mu.Lock()
	defer s.mu.Unlock()
	now := s.now()
	if len(s.in) >= mostSessions { // the one that was used longest ago makes room
		var oldest [sha256.Size]byte
		was := now.Add(time.Second)
		for key, one := range s.in {
			if one.was.Before(was) {
				oldest, was = key, one.was
			}
		}
		delete(s.in, oldest)
	}
	s.in[sha256.Sum256([]byte(value))] = &session{under: under, born: now, was: now}
	setCookie(w, value, int(sessionTime.Seconds()))
}

// knows reports whether a request comes from a browser that was let in under the
// passphrase that holds now.
func (s *sessions) knows(r *http.Request, now *app.Passphrase) bool {
	key, ok := cookieOf(r)
	if !ok {
		return false
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	one := s.in[key]
	if one == nil {
		return false
	}
	t := s.now()
	if !one.under.Same(now) || t.Sub(one.was) > unusedTime || t.Sub(one.born) > sessionTime {
		delete(s.in, key)
		return false
	}
	one.was = t
	return true
}

// end lets the browser of a request in no more.
func (s *sessions) end(w http.ResponseWriter, r *http.Request) {
	if key, ok := cookieOf(r); ok {
		s.mu.Lock()
		delete(s.in, key)
		s.mu.Unlock()
	}
	setCookie(w, "", -1)
}

// cookieOf returns the digest of what the cookie holds. Looking up a digest tells
// nothing of the secrets by the time that it takes.
func cookieOf(r *http.Request) (key [sha256.Size]byte, ok bool) {
	c, err := r.Cookie(cookieName)
	if err != nil {
		return key, false
	}
	return sha256.Sum256([]byte(c.Value)), true
}

// setCookie sets the cookie of a session. It is not marked for TLS alone, because
// the page itself speaks none.
func setCookie(w http.ResponseWriter, value string, age int) {
	http.SetCookie(w, &http.Cookie{Name: cookieName, Value: value, Path: "/", MaxAge: age, HttpOnly: true, SameSite: http.SameSiteStrictMode})
}
