package web

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"fitfill/cmd/internal/app"
)

// demo opens the demo garage once for all tests that only ask.
var demo = sync.OnceValues(func() (*app.Shop, error) {
	home, err := os.MkdirTemp("", "fitfill-web")
	if err != nil {
		return nil, err
	}
	return openDemo(home)
})

func openDemo(home string) (*app.Shop, error) {
	shop, err := app.Open(home, map[string]string{"house_coolant": "PR-SI50-20", "labour_rate": "60 EUR"})
	if err != nil {
		return nil, err
	}
	ctx, cancel := contextForDemo()
	defer cancel()
	return shop, shop.LoadDemo(ctx, func(app.ImportAnswer) {})
}

func TestMain(m *testing.M) {
	code := m.Run()
	stopBrowser()
	left, _ := filepath.Glob(filepath.Join(os.TempDir(), "fitfill-web*"))
	for _, dir := range left {
		os.RemoveAll(dir)
	}
	os.Exit(code)
}

// serveDemo serves the demo garage on loopback.
func serveDemo(t testing.TB) *httptest.Server {
	t.Helper()
	shop, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	return serveShop(t, shop)
}

func serveShop(t testing.TB, shop *app.Shop) *httptest.Server {
	t.Helper()
	server := httptest.NewUnstartedServer(nil)
	handler, err := New(shop, []string{server.Listener.Addr().String()})
	if err != nil {
		t.Fatal(err)
	}
	server.Config.Handler = handler
	server.Start()
	t.Cleanup(server.Close)
	return server
}

// got is what came back for a request.
type got struct {
	status int
	header http.Header
	body   string
}

func get(t testing.TB, server *httptest.Server, path string, header ...string) got {
	t.Helper()
	r, err := http.NewRequest(http.MethodGet, server.URL+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i+1 < len(header); i += 2 {
		if header[i] == "Host" {
			r.Host = header[i+1]
		}
		r.Header.Set(header[i], header[i+1])
	}
	return do(t, r)
}

func do(t testing.TB, r *http.Request) got {
	t.Helper()
	c := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }, Transport: &http.Transport{DisableCompression: true, DisableKeepAlives: true}}
	res, err := c.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return got{res.StatusCode, res.Header, string(body)}
}

func TestPageLetsNothingForeignIn(t *testing.T) {
	server := serveDemo(t)
	for _, c := range []struct {
		name, host string
		status     int
	}{{"the name it listens on", server.Listener.Addr().String(), 200}, {"a name that somebody points here", "evil.example", 421}, {"no port", "127.0.0.1", 421}} {
		if g := get(t, server, "/", "Host", c.host); g.status != c.status {
			t.Errorf("%s: status %d, want %d", c.name, g.status, c.status)
		}
	}
	g := get(t, server, "/")
	csp := g.header.Get("Content-Security-Policy")
	for _, want := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "frame-ancestors 'none'"} {
		if !strings.Contains(csp, want) {
			t.Errorf("Content-Security-Policy %q lacks %s", csp, want)
		}
	}
	if strings.Contains(csp, "unsafe") || strings.Contains(g.body, "<style") || strings.Contains(g.body, " style=") || strings.Contains(g.body, " onclick") {
		t.Error("the page has style or script of its own in its text")
	}
	if strings.Contains(strings.ReplaceAll(g.body, server.URL, ""), "://") {
		t.Error("the page names an address elsewhere")
	}
}

func TestTheSameBodyIsNotSentTwice(t *testing.T) {
	server := serveDemo(t)
	const path = "/counter?q=thermostat&engine=TKV38"
	first := get(t, server, path, "Accept-Encoding", "gzip")
	if first.header.Get("Content-Encoding") != "gzip" || first.header.Get("ETag") == "" {
		t.Fatalf("headers %v: no gzip or no ETag", first.header)
	}
	again := get(t, server, path, "If-None-Match", first.header.Get("ETag"))
	if again.status != http.StatusNotModified || again.body != "" {
		t.Errorf("asked again: status %d with %d bytes", again.status, len(again.body))
	}
	if g := get(t, server, path, "Accept-Encoding", "gzip;q=0"); g.header.Get("Content-Encoding") != "" {
		t.Error("packed for a browser that does not take it")
	}
	css := between(first.body, `href="/static/`, `"`)
	if css == "" {
		css = between(get(t, server, path).body, `href="/static/`, `"`)
	}
	g := get(t, server, "/static/"+css)
	if g.status != 200 || !strings.Contains(g.header.Get("Cache-Control"), "immutable") || !strings.HasPrefix(g.header.Get("Content-Type"), "text/css") {
		t.Errorf("style %s: status %d, %v", css, g.status, g.header)
	}
}

func between(text, from, to string) string {
	_, rest, ok := strings.Cut(text, from)
	if !ok {
		return ""
	}
	found, _, _ := strings.Cut(rest, to)
	return found
}

func TestTwinIsTheAnswerItself(t *testing.T) {
	server := serveDemo(t)
	shop, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := contextForDemo()
	defer cancel()
	counter, err := shop.Counter(ctx, app.CounterQuestion{Find: app.FindQuestion{Words: "QM-1038", Limit: hitsShown}, Bench: app.FitQuestion{Engine: "TKV38"}})
	if err != nil {
		t.Fatal(err)
	}
	fit, err := shop.Fit(ctx, app.FitQuestion{Engine: "TKV30", Type: "thermostat", Year: "1998", Without: []string{"A/C"}, Measured: []string{"flange 53.9 mm"}})
	if err != nil {
		t.Fatal(err)
	}
	vehicle, err := shop.Fit(ctx, app.FitQuestion{Vehicle: "D 02", Type: "thermostat"})
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]any{
		"/fit.json?vehicle=D+02&type=thermostat": vehicle,
		"/counter.json?q=QM-1038&engine=TKV38":   counter,
		"/fit.json?engine=TKV30&type=thermostat&year=1998&without=A%2FC&m.flange=" + url.QueryEscape("53.9 mm"): fit,
	} {
		g := get(t, server, path)
		var have, expect any
		wanted, err := json.Marshal(want)
		if err != nil {
			t.Fatal(err)
		}
		if json.Unmarshal([]byte(g.body), &have) != nil || json.Unmarshal(wanted, &expect) != nil {
			t.Fatalf("%s: %s", path, g.body)
		}
		if fmt.Sprint(have) != fmt.Sprint(expect) {
			t.Errorf("%s\n got %v\nwant %v", path, have, expect)
		}
	}
}

func TestErrorsAreASentenceAndAWayOn(t *testing.T) {
	server := serveDemo(t)
	for path, want := range map[string]struct {
		status int
		says   string
	}{
		"/nowhere":                                   {404, "There is no such page."},
		"/counter?q=seal&engine=TKV83":               {404, `No sheet and no list knows the engine`},
		"/counter?q=seal&type=sael":                  {400, "No part is of the type sael."},
		"/fit?engine=TKV38&year=95":                  {400, "The model year 95 is no model year."},
		"/fit?engine=TKV38&m.flange=big":             {400, "A size:"},
		"/fit?engine=TKV38&part=ZZ-9":                {404, `No sheet has the number`},
		"/sheet/0000000000000000/line/3":             {404, "not in use any more"},
		"/sheet/1/line/0":                            {404, "There is no such page."},
		"/counter.json?q=seal&engine=TKV83":          {404, "error"},
		"/counter/hits?q=seal&type=sael":             {400, "No part is of the type"},
		"/static/fitfill.css":                        {404, "There is no such page."},
		"/counter?q=" + strings.Repeat("x", 300):     {200, "Nothing found"},
		"/bay/flush?fill=green&to=PR-SIC-5":          {400, "How much the system holds is not known"},
		"/bay/vehicle?vehicle=ZZ+1234":               {404, "Vehicles come on file at the Office"},
		"/office?type=thermostat&a=Ostrel&b=Ostrel":  {400, "Ostrel and Ostrel are one supplier."},
		"/office?a=Ostrel&b=Quillmar&labour=-60+EUR": {400, "it is below zero"},
	} {
		g := get(t, server, path)
		if g.status != want.status || !strings.Contains(unescape(g.body), want.says) {
			t.Errorf("%s: status %d, want %d with %q: ... %s", path, g.status, want.status, want.says, between(g.body, `<main id="main">`, "</main>"))
		}
	}
}

// Who reads that something went wrong finds the way on below it, and it leads
// somewhere.
func TestErrorsLeadOn(t *testing.T) {
	server := serveDemo(t)
	for path, want := range map[string][]string{
		"/counter?q=seal&engine=TKV83":                    {"/counter?engine=TKV38&q=seal", "/counter?q=seal"},
		"/counter/hits?q=seal&engine=TKV83":               {"/counter?engine=TKV38&q=seal", "/counter?q=seal"},
		"/counter?q=seal&supplier=Zorkel":                 {"/counter?q=seal"},
		"/fit?engine=TKV38&part=ZZ-9":                     {"/fit?engine=TKV38"},
		"/fit?engine=AAAA99":                              {"/counter"},
		"/bay?fill=blurple&add=oat":                       {"/bay?add=oat&fill=purple", "/bay?add=oat"},
		"/bay?vehicle=D+0l&fill=green":                    {"/bay?fill=green"},
		"/bay/vehicle?vehicle=ZZ+1234":                    {"/bay"},
		"/sheet/99/line/1":                                {"/office/sheets"},
		"/office/sheets/77":                               {"/office/sheets"},
		"/office?type=zork":                               {"/office"},
		"/bay?fill=iat&add=oat&amount=lots":               {"/bay?add=oat&fill=iat"},
		"/bay/flush?fill=green&to=PR-SIC-5&volume=plenty": {"/bay?add=PR-SIC-5&fill=green"},
	} {
		g := get(t, server, path)
		if g.status < 400 || g.status >= 500 {
			t.Errorf("%s: status %d", path, g.status)
		}
		for _, to := range want {
			if !strings.Contains(unescape(g.body), `href="`+to+`"`) {
				t.Errorf("%s does not lead to %s: %.900s", path, to, between(g.body, `<main id="main">`, "</main>"))
			} else if on := get(t, server, to); on.status != 200 {
				t.Errorf("%s leads to %s, which answers %d", path, to, on.status)
			}
		}
	}
}

func post(t testing.TB, server *httptest.Server, path string, form url.Values) got {
	t.Helper()
	r, err := http.NewRequest(http.MethodPost, server.URL+path, strings.NewReader(form.Encode()))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return do(t, r)
}
