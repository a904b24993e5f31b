package web

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"slices"
	"strconv"
	"sync"
	"testing"
	"time"

	"fitfill/cmd/internal/app"
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

// BenchmarkCounterUnderLoad measures the answers of a counter as the server
// takes for them, while a list of 200,000 rows is read in: without the ways to
// narrow, as while somebody types, and with them, as when he stops.
func BenchmarkCounterUnderLoad(b *testing.B) {
	shop, err := app.Open(b.TempDir(), nil)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { shop.Close() })
	parts, r := loadParts(b), rand.New(rand.NewPCG(1, 2))
	for s := range loadSuppliers {
		if _, err := shop.Import(b.Context(), app.ImportQuestion{Name: fmt.Sprintf("list-%d.csv", s), Raw: loadSheet(r, s, parts/loadSuppliers*rowsPerPart), Supplier: fmt.Sprintf("Trade House %d", s+1)}); err != nil {
			b.Fatal(err)
		}
	}
	said := loadSentences(r, parts)
	for _, way := range []struct {
		name, path string
		importing  bool
	}{{"typing", "/counter/typing", false}, {"typing-while-importing", "/counter/typing", true}, {"stopped-while-importing", "/counter/hits", true}} {
		b.Run(way.name, func(b *testing.B) {
			for b.Loop() {
				taken, failed := loadOnce(b, shop, way.path, said, way.importing)
				slices.Sort(taken)
				at := func(share float64) float64 {
					return float64(taken[int(share*float64(len(taken)-1))]) / float64(time.Millisecond)
				}
				b.ReportMetric(at(0.5), "p50-ms")
				b.ReportMetric(at(0.99), "p99-ms")
				b.ReportMetric(float64(len(taken)), "answers")
				if failed > 0 {
					b.Errorf("%d of %d answers failed", failed, len(taken))
				}
			}
		})
	}
}

// loadOnce runs the clients once and returns how long each answer took.
func loadOnce(b *testing.B, shop *app.Shop, path string, said []string, importing bool) (taken []time.Duration, failed int) {
	b.Helper()
	var mu sync.Mutex
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
	var all sync.WaitGroup
	if importing {
		raw := loadSheet(rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 3)), loadSuppliers, newListRows)
		all.Go(func() {
			if _, err := shop.Import(b.Context(), app.ImportQuestion{Name: "new.csv", Raw: raw, Supplier: "Newcomer", Accept: nil}); err != nil {
				b.Error(err)
			}
		})
	}
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
