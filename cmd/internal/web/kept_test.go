package web

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"runtime"
	"strings"
	"testing"
	"time"

	"fitfill/cmd/internal/app"
)

// keptOf returns the addresses that a site keeps answers of.
func keptOf(s *site) (list []string) {
	for address := range s.kept.pages {
		list = append(list, address)
	}
	return list
}

// keepingSite serves a shop and shows what it keeps.
func keepingSite(t *testing.T, shop *app.Shop) (*site, func(path string) string) {
	t.Helper()
	files, err := loadFiles()
	if err != nil {
		t.Fatal(err)
	}
	looks, err := loadLooks()
	if err != nil {
		t.Fatal(err)
	}
	s := &site{shop, looks, files, make(chan struct{}, runtime.GOMAXPROCS(0)), &keptPages{}, newLock(false, time.Now)}
	mux := http.NewServeMux()
	for _, rt := range routes {
		mux.HandleFunc(rt.pattern, s.serve(rt))
	}
	return s, func(path string) string {
		w := httptest.NewRecorder()
		twins(mux).ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
		return w.Body.String()
	}
}

// Whatever is written, here or by another process, the next answer is of now;
// until then it is the same one.
func TestNoAnswerIsOlderThanTheCatalogue(t *testing.T) {
	home := t.TempDir()
	shop, err := app.Open(home, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { shop.Close() })
	another, err := app.Open(home, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { another.Close() })
	s, ask := keepingSite(t, shop)
	for n, by := range []*app.Shop{shop, another, shop, another, another} {
		sheet := fmt.Sprintf("number,type,description,price,currency\nX-1,thermostat,thermostat 82,%d.00,EUR\n", 10+n)
		a, err := by.Import(t.Context(), app.ImportQuestion{Name: "list.csv", Raw: []byte(sheet), Supplier: "Brackwell", Accept: []string{"prices", "missing-parts", "fewer-rows", "fit"}})
		if err != nil || a.Status != app.Imported {
			t.Fatal(a.Status, err)
		}
		for _, path := range []string{"/counter/typing?q=thermostat", "/counter/hits?q=thermostat", "/counter/hits?q=X-1"} {
			first := ask(path)
			if want := fmt.Sprintf("%d.00 EUR", 10+n); !strings.Contains(first, want) {
				t.Errorf("%s after import %d lacks %s", path, n, want)
			}
			if again := ask(path); again != first {
				t.Errorf("%s is answered in two ways", path)
			}
			if fresh := ask(path + "&"); fresh != first { // another address: it is made anew
				t.Errorf("%s: what was kept differs from what is made", path)
			}
		}
		if n := len(keptOf(s)); n != 6 {
			t.Errorf("%d answers are kept: %v", n, keptOf(s))
		}
	}
}

// What may be somebody's is not kept: a plate, a VIN, a name among the words.
func TestNothingPersonalIsKept(t *testing.T) {
	shop, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	s, ask := keepingSite(t, shop)
	for _, query := range []string{
		"q=D+02", "q=Z0XSD38T411000202", "q=thermostat+Millerson", "q=thermostat&engine=D+02", "q=thermostat&vehicle=D+02&engine=TKV38", "q=Millerson", "q=thermostatt", "q=",
	} {
		ask("/counter/hits?" + query)
		ask("/counter/typing?" + query)
	}
	if kept := keptOf(s); len(kept) != 0 {
		t.Errorf("kept: %v", kept)
	}
	ask("/counter/hits?q=thermostat")
	ask("/counter/hits.json?q=thermostat")
	ask("/counter?q=thermostat")
	if kept := keptOf(s); len(kept) != 1 {
		t.Errorf("kept: %v", kept)
	}
}

func TestAnswersAreKeptWithinBounds(t *testing.T) {
	var k keptPages
	for n := range 2 * mostPages {
		k.keep(1, fmt.Sprint(n), []byte("answer"))
	}
	if len(k.pages) != mostPages || k.bytes != mostPages*len("answer") {
		t.Errorf("%d answers of %d bytes", len(k.pages), k.bytes)
	}
	for n := range 20 {
		k.keep(1, url.QueryEscape(fmt.Sprint("large", n)), make([]byte, mostPageBytes/10))
	}
	if k.bytes > mostPageBytes {
		t.Errorf("%d bytes are kept", k.bytes)
	}
	k.keep(2, "new", []byte("answer"))
	if len(k.pages) != 1 || k.bytes != len("answer") || k.get(1, "new") != nil || k.get(2, "new") == nil {
		t.Errorf("another state: %d answers of %d bytes", len(k.pages), k.bytes)
	}
}
