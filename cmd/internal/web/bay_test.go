package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"fitfill/cmd/internal/app"
	"fitfill/data"
)

// bayQuestions are questions of the bay: a known pair, a colour, a factory fill,
// water, a hybrid with three circuits, a record, a plan.
var bayQuestions = []string{
	"/bay", "/bay?fill=green", "/bay?vehicle=D+01", "/bay?engine=VSR18&fill=green&add=PR-SI50-20", "/bay?engine=VSR18&fill=green&add=PR-SI50-20&amount=0.5+L&coldest=-12+C",
	"/bay?engine=TKV38&fill=oat&add=PR-OAC-5&strength=45&amount=1+L", "/bay?vehicle=D+03&fill=factory&add=PR-SI50-20", "/bay?vehicle=D+04&fill=factory&add=PR-SI50-20",
	"/bay?fill=iat&add=noat", "/bay?fill=iat&add=water", "/bay?fill=unknown&add=PR-SI50-20", "/bay?vehicle=D+01&fill=record&add=PR-SI50-20",
	"/bay?engine=TKV30&fill=green&look=gel&add=oat", "/bay?engine=TKV30&fill=green&freeze=-18+C&add=iat&ph=7",
	"/bay/flush?engine=VSR18&fill=green&to=PR-SIC-5", "/bay/flush?engine=TKV38&fill=unknown&to=PR-OAC-5&coldest=-25+C", "/bay/flush?vehicle=D+01&fill=record", "/bay/vehicle?vehicle=D+01",
}

// Words of the laboratory and of programs stay off the pages of people who
// stand; data/page_words.csv lists them.
func TestCounterAndBayKeepToPlainWords(t *testing.T) {
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	rows, err := ref.Table("page_words")
	if err != nil {
		t.Fatal(err)
	}
	server := serveDemo(t)
	pages := append([]string{
		"/", "/counter?q=thermostat&engine=TKV38", "/counter?q=thermostat", "/counter?q=zzzz", "/counter?q=QM-1062&engine=JVD42", "/counter?engine=TKV30",
		"/fit?engine=TKV30&type=thermostat", "/fit?engine=ODL16&type=seal", "/job?engine=TKV38&job=thermostat", "/job?engine=TKV38",
	}, bayQuestions...)
	for _, path := range pages {
		shown := strings.ToLower(text(get(t, server, path).body))
		for _, row := range rows {
			word := regexp.MustCompile(`\b` + regexp.QuoteMeta(row.Get("word")) + `\b`)
			if at := word.FindStringIndex(shown); at != nil {
				t.Errorf("%s says %q: ... %s (better: %s)", path, row.Get("word"), shown[max(0, at[0]-50):min(len(shown), at[1]+50)], row.Get("instead"))
			}
		}
	}
}

func TestBayAnswersAsTheCommandLineDoes(t *testing.T) {
	server := serveDemo(t)
	shop, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	tonight, err := shop.Tonight("-12 C")
	if err != nil {
		t.Fatal(err)
	}
	want, err := tonight.Mix(t.Context(), app.MixQuestion{Engine: "VSR18", Fill: app.FluidSaid{What: "green"}, Add: app.FluidSaid{What: "PR-SI50-20", Volume: "0.5 L"}})
	if err != nil {
		t.Fatal(err)
	}
	const asked = "engine=VSR18&fill=green&add=PR-SI50-20&amount=0.5+L&coldest=-12+C"
	var have, expect any
	wanted, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	twin := get(t, server, "/bay.json?"+asked).body
	if json.Unmarshal([]byte(twin), &have) != nil || json.Unmarshal(wanted, &expect) != nil || fmt.Sprint(have) != fmt.Sprint(expect) {
		t.Errorf("the twin says\n%s\nwant\n%s", twin, wanted)
	}
	page := text(get(t, server, "/bay?"+asked).body)
	if !strings.Contains(page, want.First) {
		t.Errorf("the page lacks %q: %s", want.First, page)
	}
	if has := strings.Contains(page, "To find out"); has != (len(want.Settle) > 0) {
		t.Errorf("ways to find out on the page: %v, in the answer: %d", has, len(want.Settle))
	}
}

func TestBaySaysHowToMakeAWeakMixRight(t *testing.T) {
	page := text(get(t, serveDemo(t), "/bay?engine=VSR18&fill=si-oat&strength=33+%25&add=PR-SI50-20&amount=0.5+L&coldest=-20+C").body)
	if !strings.Contains(page, "To make it right") || !strings.Contains(page, "fill up with concentrate") {
		t.Errorf("too weak, and nobody is told what to do: %s", page)
	}
}

// A filling is logged in one step, stands in the record, and can be taken back.
func TestFillingIsLoggedAndTakenBack(t *testing.T) {
	shop, err := openDemo(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { shop.Close() })
	server := serveShop(t, shop)
	before, err := shop.Fills(t.Context(), "D 01")
	if err != nil {
		t.Fatal(err)
	}
	g := post(t, server, "/bay/fill", url.Values{"vehicle": {"D 01"}, "what": {"PR-SI50-20"}, "volume": {"0.5 L"}})
	if g.status != http.StatusSeeOther {
		t.Fatalf("status %d: %s", g.status, text(g.body))
	}
	see := g.header.Get("Location")
	page := get(t, server, see)
	if !strings.Contains(text(page.body), "0.5 L of PR-SI50-20") {
		t.Errorf("%s does not show the filling: %s", see, text(page.body))
	}
	entry := between(page.body, `name="entry" value="`, `"`)
	if g := post(t, server, "/bay/takeback", url.Values{"entry": {entry}, "vehicle": {"D 01"}}); g.status != http.StatusSeeOther {
		t.Fatalf("take back: status %d: %s", g.status, text(g.body))
	}
	after, err := shop.Fills(t.Context(), "D 01")
	if err != nil || len(after.Fills) != len(before.Fills) {
		t.Errorf("%d fillings, want %d (%v)", len(after.Fills), len(before.Fills), err)
	}
	if g := post(t, server, "/bay/fill", url.Values{"vehicle": {"D 01"}, "what": {"PR-SI50-20"}}); g.status != http.StatusBadRequest || !strings.Contains(text(g.body), "Not said how much went in") {
		t.Errorf("without an amount: status %d, %s", g.status, text(g.body))
	}
}

// Another site's form is refused before anything is written.
func TestAnotherSiteCannotWrite(t *testing.T) {
	server := serveDemo(t)
	r, err := http.NewRequest(http.MethodPost, server.URL+"/bay/fill", strings.NewReader("vehicle=D+01&what=water&volume=5+L"))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", "http://evil.example")
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	if g := do(t, r); g.status != http.StatusForbidden || !strings.Contains(text(g.body), "Another site") {
		t.Errorf("status %d: %s", g.status, text(g.body))
	}
}

// From door to door the car goes along, whatever it was called.
func TestTheCarGoesAlongFromDoorToDoor(t *testing.T) {
	server := serveDemo(t)
	for path, want := range map[string][2]string{
		"/counter?engine=TKV38":      {"/bay?car=TKV38", "/bay?engine=TKV38"},
		"/counter?engine=D+02":       {"/bay?car=D+02", "/bay?vehicle=D+02"},
		"/counter?engine=Hask&q=cap": {"/bay?car=Hask", "/bay?engine=TKV38"},
	} {
		body := get(t, server, path).body
		if !strings.Contains(unescape(body), `href="`+want[0]+`"`) {
			t.Errorf("%s has no way to %s", path, want[0])
		}
		if g := get(t, server, want[0]); g.header.Get("Location") != want[1] {
			t.Errorf("%s leads to %q, want %q: %s", want[0], g.header.Get("Location"), want[1], text(g.body))
		}
	}
	if body := unescape(get(t, server, "/bay?vehicle=D+02").body); !strings.Contains(body, `href="/counter?engine=D+02"`) {
		t.Error("the way from the Bay to the Counter loses the car")
	}
	car := "/bay/vehicle?vehicle=D+02"
	_, taps, _ := strings.Cut(unescape(get(t, server, car).body), `class="taps"`)
	counter := between(taps, `href="/counter?`, `"`)
	if counter != "engine=TKV38&vehicle=D+02" {
		t.Errorf("the record leads to the Counter by %q", counter)
	}
	page := get(t, server, "/fit?type=thermostat&"+counter)
	hasAll(t, "the parts for a car", text(page.body), "Thermostat for TKV38, D 02", "vehicle D 02")
	hasAll(t, "the record of it", text(get(t, server, car).body), "What we told him")
	if g := get(t, server, "/fit?vehicle=nobody&type=thermostat"); g.status < 400 || !strings.Contains(text(g.body), "nobody") {
		t.Errorf("a car that nobody knows: status %d, %s", g.status, text(g.body))
	}
	if g := get(t, server, "/counter?engine=D+02&q=thermostat"); !strings.Contains(text(g.body), "7 parts for TKV38") {
		t.Errorf("the Counter does not know the car: %s", text(g.body))
	}
}
