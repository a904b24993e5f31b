package web

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"fitfill/cmd/internal/app"
)

// clock is a time that passes when it is told to.
type clock struct{ at time.Time }

func (c *clock) now() time.Time       { return c.at }
func (c *clock) pass(d time.Duration) { c.at = c.at.Add(d) }
func newClock() *clock                { return &clock{time.Date(2026, 6, 1, 8, 0, 0, 0, time.UTC)} }
func under(t *testing.T) *app.Passphrase {
	t.Helper()
	home := t.TempDir()
	if err := app.SetPassphrase(home, words); err != nil {
		t.Fatal(err)
	}
	p, err := app.ReadPassphrase(home)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// In a day, one address has about a hundred tries, and all together hardly more
// than ten in a minute.
func TestGuessesInADay(t *testing.T) {
	c := newClock()
	g := newGuesses(c.now)
	tries := 0
	for end := c.at.Add(24 * time.Hour); c.at.Before(end); c.pass(500 * time.Millisecond) {
		if g.try("192.0.2.7") == 0 {
			tries++
		}
	}
	if tries < 50 || tries > 120 {
		t.Errorf("one address: %d", tries)
	}
	c, tries = newClock(), 0
	g = newGuesses(c.now)
	for i := range 24 * 60 * 60 * 2 {
		if g.try(fmt.Sprint("address ", i)) == 0 {
			tries++
		}
		c.pass(500 * time.Millisecond)
	}
	if most := triesAtOnce + 24*60*60/6; tries > most+1 || tries < most-1 {
		t.Errorf("all addresses: %d, want %d", tries, most)
	}
	if len(g.from) > mostGuesser {
		t.Errorf("%d addresses are remembered", len(g.from))
	}
}

// Many at once are counted one after the other.
func TestManyTriesAtOnceAreNoWayAround(t *testing.T) {
	g := newGuesses(newClock().now)
	free := 0
	for range 100 {
		if g.try("192.0.2.7") == 0 {
			free++
		}
	}
	if free != freeTries {
		t.Errorf("%d of 100 were looked at", free)
	}
	if g.try("192.0.2.8") != 0 {
		t.Error("another address waits for the first")
	}
}

func TestAddressesOfOneMachineAreOne(t *testing.T) {
	for from, want := range map[string]string{
		"192.0.2.7:5000": "192.0.2.7", "[::ffff:192.0.2.7]:80": "192.0.2.7", "[2001:db8:1:2:3::4]:80": "2001:db8:1:2::/64",
		"[2001:db8:1:2:ffff::9]:81": "2001:db8:1:2::/64", "[fe80::1%eth0]:80": "fe80::/64", "[::1]:9": "::1", "@": "@",
	} {
		if got := addressOf(&http.Request{RemoteAddr: from}); got != want {
			t.Errorf("%s: %s, want %s", from, got, want)
		}
	}
}

func TestSessionsEnd(t *testing.T) {
	p := under(t)
	begin := func(s *sessions) *http.Request {
		w := httptest.NewRecorder()
		s.begin(w, p)
		r := httptest.NewRequest(http.MethodGet, "/", nil)
		r.AddCookie(w.Result().Cookies()[0])
		return r
	}
	c := newClock()
	s := newSessions(c.now)
	r := begin(s)
	for d := time.Duration(0); d <= sessionTime; d += unusedTime {
		if !s.knows(r, p) {
			t.Fatalf("used all the time, it ends after %s", d)
		}
		c.pass(unusedTime)
	}
	if c.pass(time.Second); s.knows(r, p) {
		t.Error("it outlives its week")
	}
	r = begin(s)
	if c.pass(unusedTime + time.Second); s.knows(r, p) {
		t.Error("it outlives half a day without use")
	}
	first := begin(s)
	c.pass(time.Second)
	for range mostSessions {
		begin(s)
	}
	if s.knows(first, p) || len(s.in) > mostSessions {
		t.Errorf("%d sessions are kept", len(s.in))
	}
}
