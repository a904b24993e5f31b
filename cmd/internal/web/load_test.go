package web

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"sync"
	"testing"
	"time"

	"fitfill/cmd/internal/app"
	"fitfill/cmd/internal/heap"
)

// The load of a counter: so many clients, so many keys a second each, for so
// long, out of a fixed list of sentences.
const (
	loadClients   = 50
	keysPerSecond = 3
	loadTime      = 10 * time.Second
	sentences     = 500
	loadSuppliers = 8
	rowsPerPart   = 2
	newListRows   = 200_000
)

// loadParts is how many parts the catalogue has; FITFILL_LOAD_PARTS says
// otherwise.
func loadParts(b *testing.B) int {
	n := 100_000
	if text := os.Getenv("FITFILL_LOAD_PARTS"); text != "" {
		var err error
		if n, err = strconv.Atoi(text); err != nil {
			b.Fatal(err)
		}
	}
	return n
}

var (
	loadTypes = []string{"thermostat", "seal", "hose", "clamp", "cap", "pump"}
	loadMakes = []string{"Tarvok", "Ondessa", "Vestrane", "Hasmer", "Jovand", "Plenn"}
)

// loadEngines is how many engine families the invented trade has.
const loadEngines = 400

// loadSheet writes an invented list: parts of all types, each for some engines,
// and every engine of one make.
func loadSheet(r *rand.Rand, supplier, rows int) []byte {
	var sheet bytes.Buffer
	sheet.WriteString("number,type,description,price,currency,stock,make,model,engine,years\n")
	for i := range rows {
		part, engine := i/rowsPerPart, r.IntN(loadEngines)
		kind := loadTypes[part%len(loadTypes)]
		fmt.Fprintf(&sheet, "%c%02d-%06d,%s,%s %d,%d.%02d,EUR,%d,%s,%c %d,%c%c%04d,%d-%d\n", 'A'+supplier, part%90, part, kind, kind, 60+part%60, 1+part%90, part%100, part%9,
			loadMakes[engine%len(loadMakes)], 'A'+engine%26, engine*10, 'A'+engine%20, 'K'+engine%10, engine, 1990+engine%15, 2006+engine%15)
	}
	return sheet.Bytes()
}

// loadSentences are what 500 people say at a counter: numbers, halves of
// numbers, words, words with a make.
func loadSentences(r *rand.Rand, parts int) []string {
	var list []string
	for range sentences {
		part := r.IntN(parts / loadSuppliers)
		number := fmt.Sprintf("%c%02d-%06d", 'A'+r.IntN(loadSuppliers), part%90, part)
		kind := loadTypes[part%len(loadTypes)]
		switch r.IntN(5) {
		case 0, 1:
			list = append(list, number)
		case 2:
			list = append(list, number[:7])
		case 3:
			list = append(list, fmt.Sprintf("%s %d", kind, 60+part%60))
		default:
			list = append(list, kind+" "+loadMakes[r.IntN(len(loadMakes))])
		}
	}
	return list
}

// loadShop opens a shop of its own with so many parts. The folder
// FITFILL_LOAD_HOME keeps them from run to run: it is filled when it is missing,
// and copied, as the new list changes the shop.
func loadShop(b *testing.B, r *rand.Rand, parts int) (*app.Shop, string) {
	kept := cmp.Or(os.Getenv("FITFILL_LOAD_HOME"), filepath.Join(b.TempDir(), "kept"))
	_, err := os.Stat(kept)
	fill := err != nil
	filling, err := app.Open(kept, nil)
	if err != nil {
		b.Fatal(err)
	}
	for s := range loadSuppliers {
		sheet := loadSheet(r, s, parts/loadSuppliers*rowsPerPart) // drawn in any case: the sentences come after it
		if !fill {
			continue
		}
		if _, err := filling.Import(b.Context(), app.ImportQuestion{Name: fmt.Sprintf("list-%d.csv", s), Raw: sheet, Supplier: fmt.Sprintf("Trade House %d", s+1)}); err != nil {
			b.Fatal(err)
		}
	}
	if _, err := filling.Find(b.Context(), app.FindQuestion{Words: "thermostat", Limit: 1}); err != nil { // indexes of an older build are built anew here, not under the load
		b.Fatal(err)
	}
	home := filepath.Join(b.TempDir(), "home")
	if err := errors.Join(filling.Close(), os.CopyFS(home, os.DirFS(kept))); err != nil {
		b.Fatal(err)
	}
	shop, err := app.Open(home, nil)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { shop.Close() })
	return shop, home
}

// BenchmarkCounterUnderLoad measures the answers of a counter as the server
// takes for them: without the ways to narrow, as while somebody types, and with
// them, as when he stops; both also while another process reads in a list of
// 200,000 rows. cpu-ms is the processor time of this process for an answer, the
// client's share in it.
func BenchmarkCounterUnderLoad(b *testing.B) {
	parts, r := loadParts(b), rand.New(rand.NewPCG(1, 2))
	shop, home := loadShop(b, r, parts)
	said := loadSentences(r, parts)
	for _, way := range []struct {
		name, path string
		importing  bool
	}{
		{"typing", "/counter/typing", false}, {"stopped", "/counter/hits", false},
		{"typing-while-importing", "/counter/typing", true}, {"stopped-while-importing", "/counter/hits", true},
	} {
		b.Run(way.name, func(b *testing.B) {
			for b.Loop() {
				before := processorTime(b)
				taken, failed := loadOnce(b, shop, home, way.path, said, way.importing)
				spent := processorTime(b) - before
				slices.Sort(taken)
				at := func(share float64) float64 {
					return float64(taken[int(share*float64(len(taken)-1))]) / float64(time.Millisecond)
				}
				b.ReportMetric(at(0.5), "p50-ms")
				b.ReportMetric(at(0.99), "p99-ms")
				b.ReportMetric(float64(len(taken)), "answers")
				b.ReportMetric(float64(spent)/float64(time.Millisecond)/float64(len(taken)), "cpu-ms/answer")
				if failed > 0 {
					b.Errorf("%d of %d answers failed", failed, len(taken))
				}
			}
		})
	}
}

// BenchmarkCounterAnswer asks for one sentence after the other, without a
// network: what an answer costs, for profiles.
func BenchmarkCounterAnswer(b *testing.B) {
	parts, r := loadParts(b), rand.New(rand.NewPCG(1, 2))
	shop, _ := loadShop(b, r, parts)
	page, err := New(shop, []string{"counter"})
	if err != nil {
		b.Fatal(err)
	}
	said := loadSentences(r, parts)
	for _, path := range []string{"/counter/typing", "/counter/hits"} {
		b.Run(path[len("/counter/"):], func(b *testing.B) {
			b.ReportAllocs()
			before := processorTime(b)
			n := 0
			for b.Loop() {
				r := httptest.NewRequest(http.MethodGet, path+"?q="+url.QueryEscape(said[n%len(said)]), nil)
				r.Host = "counter"
				r.Header.Set("Accept-Encoding", "gzip")
				w := httptest.NewRecorder()
				page.ServeHTTP(w, r)
				if w.Code != http.StatusOK {
					b.Fatal(said[n%len(said)], w.Code)
				}
				n++
			}
			b.ReportMetric(float64(processorTime(b)-before)/float64(time.Millisecond)/float64(n), "cpu-ms/op")
		})
	}
}

// importHome names the folder of the catalogue that the importing process reads
// its list into.
const importHome = "FITFILL_LOAD_IMPORT"

// TestLoadImport is the importing process of BenchmarkCounterUnderLoad.
func TestLoadImport(t *testing.T) {
	home := os.Getenv(importHome)
	if home == "" {
		t.Skip("no benchmark has started this")
	}
	shop, err := app.Open(home, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	if os.Getenv("FITFILL_LOAD_PUSHY") == "" {
		if err := app.GiveWay(); err != nil { // as the command does
			t.Fatal(err)
		}
	}
	for n := 0; ; n++ { // until the benchmark ends it: an import is never over before the load is
		raw := loadSheet(rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 3)), loadSuppliers, newListRows)
		a, err := shop.Import(t.Context(), app.ImportQuestion{Name: "new.csv", Raw: raw, Supplier: "Newcomer", Accept: []string{"fewer-rows", "missing-parts", "prices", "fit"}})
		if err != nil || a.Status != app.Imported {
			t.Fatal(a.Status, a.Open, err)
		}
	}
}

// loadOnce runs the clients once and returns how long each answer took.
func loadOnce(b *testing.B, shop *app.Shop, home, path string, said []string, importing bool) (taken []time.Duration, failed int) {
	b.Helper()
	var mu sync.Mutex
	heap.Answering() // as Serve does
	server := httptest.NewUnstartedServer(nil)
	page, err := New(shop, []string{server.Listener.Addr().String()})
	if err != nil {
		b.Fatal(err)
	}
	server.Config.Handler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		start := time.Now()
		page.ServeHTTP(w, r)
		mu.Lock()
		defer mu.Unlock()
		taken = append(taken, time.Since(start))
	})
	server.Start()
	defer server.Close()
	if importing {
		other := exec.CommandContext(b.Context(), os.Args[0], "-test.run", "^TestLoadImport$")
		other.Env = append(os.Environ(), importHome+"="+home)
		var says bytes.Buffer
		other.Stdout = &says
		if err := other.Start(); err != nil {
			b.Fatal(err)
		}
		defer func() {
			if other.ProcessState == nil && other.Process.Kill() == nil {
				_ = other.Wait()
			}
			if other.ProcessState.Exited() {
				b.Errorf("the import ended by itself: %s", says.String())
			}
		}()
	}
	var all sync.WaitGroup
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: loadClients}}
	for i := range loadClients {
		all.Go(func() {
			r := rand.New(rand.NewPCG(uint64(i), 4))
			for end := time.Now().Add(loadTime); time.Now().Before(end); {
				time.Sleep(time.Duration((0.5 + r.Float64()) * float64(time.Second) / keysPerSecond))
				res, err := client.Get(server.URL + path + "?q=" + url.QueryEscape(said[r.IntN(len(said))]))
				ok := err == nil && res.StatusCode == http.StatusOK
				if err == nil {
					_, _ = io.Copy(io.Discard, res.Body)
					res.Body.Close()
				}
				mu.Lock()
				if !ok {
					failed++
				}
				mu.Unlock()
			}
		})
	}
	all.Wait()
	return taken, failed
}
