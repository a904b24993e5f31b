package web

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"fitfill/cmd/internal/app"
)

const words = "four blue cans"

// lockedShop serves an empty shop with a passphrase.
func lockedShop(t testing.TB) (server *httptest.Server, home string, s *site) {
	t.Helper()
	home = t.TempDir()
	if err := app.SetPassphrase(home, words); err != nil {
		t.Fatal(err)
	}
	shop, err := app.Open(home, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { shop.Close() })
	server = httptest.NewUnstartedServer(nil)
	s, handler, err := assemble(shop, reach{hosts: []string{server.Listener.Addr().String()}, others: true})
	if err != nil {
		t.Fatal(err)
	}
	server.Config.Handler = handler
	server.Start()
	t.Cleanup(server.Close)
	return server, home, s
}

// enter sends the passphrase and returns the answer with the cookie.
func enter(t testing.TB, server *httptest.Server, path, text, to string, header ...string) (got, string) {
	t.Helper()
	r, err := http.NewRequest(http.MethodPost, server.URL+path, strings.NewReader(url.Values{"passphrase": {text}, "to": {to}}.Encode()))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	g := do(t, r)
	cookie, _, _ := strings.Cut(g.header.Get("Set-Cookie"), ";")
	return g, cookie
}

// Before the passphrase nothing is answered at any address, neither read nor
// written; after it everything is, until the browser leaves.
func TestNothingIsAnsweredBeforeThePassphrase(t *testing.T) {
	server, _, _ := lockedShop(t)
	for _, rt := range routes {
		method, path, _ := strings.Cut(rt.pattern, " ")
		path = strings.NewReplacer("{$}", "", "{sheet}", "1", "{line}", "2").Replace(path)
		for _, path := range []string{path, path + ".json"} {
			r, err := http.NewRequest(method, server.URL+path, nil)
			if err != nil {
				t.Fatal(err)
			}
			g := do(t, r)
			if g.status != http.StatusUnauthorized || g.header.Get("Cache-Control") != "no-store" {
				t.Errorf("%s %s: status %d, %s", method, path, g.status, g.header.Get("Cache-Control"))
			}
			var said map[string]string
			if strings.HasSuffix(path, ".json") && (json.Unmarshal([]byte(g.body), &said) != nil || said["error"] == "" || said["hint"] == "") {
				t.Errorf("%s: %s", path, g.body)
			}
		}
	}
	if g := get(t, server, "/counter?q=a&engine=b"); !strings.Contains(unescape(g.body), `name="to" value="/counter?engine=b&q=a"`) {
		t.Errorf("it does not lead back: %s", g.body)
	}
	if g := get(t, server, "/counter/hits?q=a"); !strings.HasPrefix(g.body, `<div class="problem"`) || !strings.Contains(g.body, `href="/passphrase?to=%2Fcounter%3Fq%3Da"`) {
		t.Errorf("a part of a page: %s", g.body)
	}
	css := between(get(t, server, "/").body, `href="/static/`, `"`)
	if g := get(t, server, "/static/"+css); g.status != 200 || !strings.Contains(g.header.Get("Cache-Control"), "immutable") {
		t.Errorf("style: %d %v", g.status, g.header)
	}

	g, cookie := enter(t, server, "/passphrase", words, "/office/sheets")
	if g.status != http.StatusSeeOther || g.header.Get("Location") != "/office/sheets" {
		t.Fatalf("%d %v %s", g.status, g.header, g.body)
	}
	set := g.header.Get("Set-Cookie")
	for _, want := range []string{"HttpOnly", "SameSite=Strict", "Path=/", "Max-Age=604800"} {
		if !strings.Contains(set, want) {
			t.Errorf("no %s in %s", want, set)
		}
	}
	_, value, _ := strings.Cut(cookie, "=")
	if len(value) != 43 { // 256 bits
		t.Errorf("the cookie holds %d signs", len(value))
	}
	if _, again := enter(t, server, "/passphrase", words, "/"); again == cookie {
		t.Error("two browsers get the same cookie")
	}
	in := get(t, server, "/office/sheets", "Cookie", cookie)
	if in.status != 200 || !strings.Contains(in.body, `action="/leave"`) || in.header.Get("Cache-Control") != "no-store" {
		t.Errorf("let in: %d %s", in.status, in.body)
	}
	if g := get(t, server, "/office/sheets.json", "Cookie", cookie); g.status != 200 {
		t.Errorf("twin: %d", g.status)
	}
	if g := get(t, server, "/passphrase", "Cookie", cookie); g.status != http.StatusSeeOther {
		t.Errorf("asked again: %d", g.status)
	}
	for _, forged := range []string{cookie + "x", cookie[:len(cookie)-1], "fitfill=", "other=" + value} {
		if g := get(t, server, "/office", "Cookie", forged); g.status != http.StatusUnauthorized {
			t.Errorf("%s: %d", forged, g.status)
		}
	}
	r, err := http.NewRequest(http.MethodPost, server.URL+"/leave", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Cookie", cookie)
	if g := do(t, r); g.status != http.StatusSeeOther || !strings.Contains(g.header.Get("Set-Cookie"), "Max-Age=0") {
		t.Errorf("leaving: %d %v", g.status, g.header)
	}
	if g := get(t, server, "/office", "Cookie", cookie); g.status != http.StatusUnauthorized {
		t.Errorf("after leaving: %d", g.status)
	}
}

func TestEnteringGoesOnOnlyWithinThePage(t *testing.T) {
	for to, want := range map[string]string{
		"/bay?vehicle=D+01": "/bay?vehicle=D+01", "/": "/", "": "/", "bay": "/",
		"//evil.example/": "/", "/\\evil.example": "/", "https://evil.example/": "/", "/\t/evil.example": "/", "/%2Fevil.example/": "/", "javascript:alert(1)": "/",
		"/passphrase": "/", "/leave": "/", "/counter?q=a//b": "/counter?q=a//b", "http:/x": "/", "/a\nSet-Cookie: x": "/",
	} {
		if got := within(to); got != want {
			t.Errorf("%q leads to %q, want %q", to, got, want)
		}
	}
	server, _, _ := lockedShop(t)
	if g, _ := enter(t, server, "/passphrase", words, "//evil.example/"); g.header.Get("Location") != "/" {
		t.Errorf("%v", g.header)
	}
	if g := get(t, server, "/passphrase?to=//evil.example/"); !strings.Contains(g.body, `name="to" value="/"`) {
		t.Errorf("%s", g.body)
	}
}

func TestWrongWordsAreRefusedAndSlowedDown(t *testing.T) {
	server, _, s := lockedShop(t)
	at := time.Date(2026, 6, 1, 8, 0, 0, 0, time.UTC)
	s.lock.guesses = newGuesses(func() time.Time { return at })
	for i := range freeTries {
		g, cookie := enter(t, server, "/passphrase", "four blue can", "/bay")
		if g.status != http.StatusUnauthorized || cookie != "" || !strings.Contains(g.body, "That is not the passphrase.") || !strings.Contains(g.body, `value="/bay"`) || strings.Contains(g.body, "four blue") {
			t.Fatalf("try %d: %d %s", i, g.status, g.body)
		}
	}
	g, _ := enter(t, server, "/passphrase", words, "/")
	if g.status != http.StatusTooManyRequests || g.header.Get("Retry-After") != "1" || !strings.Contains(g.body, "Try again in 1 second.") {
		t.Errorf("the next: %d %v %s", g.status, g.header, g.body)
	}
	if g, _ := enter(t, server, "/passphrase.json", words, "/"); g.status != http.StatusTooManyRequests || !strings.Contains(g.body, `"error": "Too many tries."`) {
		t.Errorf("as JSON: %d %s", g.status, g.body)
	}
	at = at.Add(2 * time.Second)
	if g, cookie := enter(t, server, "/passphrase.json", words, "/"); g.status != 200 || cookie == "" || !strings.Contains(g.body, `"let_in": true`) {
		t.Errorf("the right one after waiting: %d %s", g.status, g.body)
	}
	if g, _ := enter(t, server, "/passphrase", words, "/"); g.status != http.StatusSeeOther {
		t.Errorf("who was right starts anew: %d", g.status)
	}
	if g, _ := enter(t, server, "/passphrase", words, "/", "Origin", "http://evil.example"); g.status != http.StatusForbidden {
		t.Errorf("from another site: %d", g.status)
	}
	if g, _ := enter(t, server, "/passphrase", strings.Repeat("x", 20<<10), "/"); g.status != http.StatusBadRequest {
		t.Errorf("a huge one: %d", g.status)
	}
}

// Another passphrase ends what was begun under the one before; without any, a page
// that others reach answers nobody.
func TestThePassphraseThatHoldsNowCounts(t *testing.T) {
	server, home, _ := lockedShop(t)
	_, cookie := enter(t, server, "/passphrase", words, "/")
	if g := get(t, server, "/office", "Cookie", cookie); g.status != 200 {
		t.Fatal(g.status)
	}
	if err := app.SetPassphrase(home, "nine green jars"); err != nil {
		t.Fatal(err)
	}
	if g := get(t, server, "/office", "Cookie", cookie); g.status != http.StatusUnauthorized {
		t.Errorf("under the old one: %d", g.status)
	}
	if g, _ := enter(t, server, "/passphrase", words, "/"); g.status != http.StatusUnauthorized {
		t.Errorf("the old one: %d", g.status)
	}
	if _, err := app.RemovePassphrase(home); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/office", "/office.json", "/counter/hits?q=a", "/passphrase"} {
		if g := get(t, server, path, "Cookie", cookie); g.status != http.StatusServiceUnavailable || strings.Contains(g.body, home) {
			t.Errorf("%s without any: %d %s", path, g.status, g.body)
		}
	}
}

// On this machine alone, and without a passphrase, nothing is asked.
func TestWithoutAPassphraseThisMachineIsAskedNothing(t *testing.T) {
	server := serveDemo(t)
	if g := get(t, server, "/office"); g.status != 200 || strings.Contains(g.body, "/leave") || g.header.Get("Cache-Control") != "no-cache" {
		t.Errorf("%d %v", g.status, g.header)
	}
	for _, path := range []string{"/passphrase", "/leave"} {
		if g := get(t, server, path); g.status != http.StatusNotFound {
			t.Errorf("%s: %d", path, g.status)
		}
	}
}
