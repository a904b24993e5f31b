package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/data"
	"fitfill/importers"
)

// make writes a small world and returns its files by name.
func makeWorld(t *testing.T, args ...string) map[string][]byte {
	t.Helper()
	dir := t.TempDir()
	all := append([]string{"world", "--out", dir, "--families", "40", "--parts", "203", "--fitments", "1611", "--suppliers", "5",
		"--vehicles", "30", "--purchases", "700", "--errors", "4"}, args...)
	if err := run(all, io.Discard); err != nil {
		t.Fatal(err)
	}
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, f := range list {
		if files[f.Name()], err = os.ReadFile(filepath.Join(dir, f.Name())); err != nil {
			t.Fatal(err)
		}
	}
	return files
}

func tableOf(t *testing.T, text []byte) []row {
	t.Helper()
	records, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, r := range records[1:] {
		cells := row{}
		for i, h := range records[0] {
			cells[h] = r[i]
		}
		rows = append(rows, cells)
	}
	return rows
}

func truthOf(t *testing.T, files map[string][]byte) truth {
	t.Helper()
	var w truth
	if err := json.Unmarshal(files["truth.json"], &w); err != nil {
		t.Fatal(err)
	}
	return w
}

func TestTheSameSeedGivesTheSameBytes(t *testing.T) {
	a, b, c := makeWorld(t, "--seed", "5"), makeWorld(t, "--seed", "5"), makeWorld(t, "--seed", "6")
	for name := range a {
		if !bytes.Equal(a[name], b[name]) {
			t.Errorf("%s differs between two runs of one seed", name)
		}
		if bytes.Equal(a[name], c[name]) {
			t.Errorf("%s is the same for two seeds", name)
		}
	}
	if len(a) != len(b) {
		t.Errorf("%d and %d files", len(a), len(b))
	}
}

func TestTheSizesAskedForAreMade(t *testing.T) {
	files := makeWorld(t)
	w := truthOf(t, files)
	parts, lines, numbers := 0, 0, map[string]bool{}
	for _, s := range w.Suppliers {
		parts += s.Parts
		lines += s.Rows
		if n := bytes.Count(files[s.File], []byte("\n")); n != s.Rows+1 {
			t.Errorf("%s has %d lines, want %d rows and a heading", s.File, n, s.Rows)
		}
	}
	for _, r := range tableOf(t, files["classes.csv"]) {
		if r["of"] == "part" {
			numbers[r["name"]] = true
		}
	}
	if parts != 203 || len(numbers) != 203 || lines != 1611 || len(w.Suppliers) != 5 {
		t.Errorf("%d parts (%d numbers), %d rows, %d suppliers", parts, len(numbers), lines, len(w.Suppliers))
	}
	for name, want := range map[string]int{"engines.csv": 40, "vehicles.csv": 30, "purchases.csv": 700, "errors.csv": w.Errors} {
		if n := len(tableOf(t, files[name])); n != want {
			t.Errorf("%s has %d rows, want %d", name, n, want)
		}
	}
	if want := 1611 * 4 / 100; w.Errors < want/2 || w.Errors > want*2 {
		t.Errorf("%d planted errors, about %d asked for", w.Errors, want)
	}
}

func TestEveryPlantedErrorStandsOnItsLine(t *testing.T) {
	files := makeWorld(t)
	lines := map[string][]string{}
	for name, text := range files {
		lines[name] = strings.Split(string(text), "\n")
	}
	kinds := map[string]int{}
	for _, e := range tableOf(t, files["errors.csv"]) {
		kinds[e["kind"]]++
		n, err := strconv.Atoi(e["line"])
		if err != nil || n < 2 || n > len(lines[e["sheet"]]) {
			t.Fatalf("%v: no such line", e)
		}
		line := lines[e["sheet"]][n-1]
		if !strings.Contains(line, e["family"]) || strings.Contains(line, e["number"]) == (e["detail"] == "a spreadsheet's number") {
			t.Errorf("%v is not what stands there: %s", e, line)
		}
	}
	for _, k := range []string{"wrong-bore", "wrong-rating", "wrong-application", "years", "mangled"} {
		if kinds[k] == 0 {
			t.Errorf("no error of kind %s: %v", k, kinds)
		}
	}
}

func TestATruthOfYesMeansTheSameClass(t *testing.T) {
	files := makeWorld(t)
	class, kind := map[string]string{}, map[string]string{}
	for _, r := range tableOf(t, files["classes.csv"]) {
		class[r["name"]+"/"+r["type"]] = r["class"]
		if r["of"] == "part" {
			kind[r["name"]] = r["type"]
		}
	}
	said := map[string]bool{}
	for _, r := range tableOf(t, files["truth.csv"]) {
		k := kind[r["number"]]
		if k == "" {
			t.Fatalf("%v: the part has no class", r)
		}
		if same := class[r["number"]+"/"+k] == class[r["family"]+"/"+k]; same != (r["fits"] == "yes") {
			t.Errorf("%v: same class %v", r, same)
		}
		said[r["number"]] = true
	}
	if len(said) != len(kind) {
		t.Errorf("truth about %d parts of %d", len(said), len(kind))
	}
}

func TestSheetsImportWithoutAQuestionAndHoldTheMangledRows(t *testing.T) {
	files := makeWorld(t)
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	mangled := map[string][]int{}
	for _, e := range tableOf(t, files["errors.csv"]) {
		if e["kind"] == "mangled" {
			n, _ := strconv.Atoi(e["line"])
			mangled[e["sheet"]] = append(mangled[e["sheet"]], n)
		}
	}
	kinds := map[string]catalog.SheetKind{
		"engines.csv": catalog.EnginesSheet, "vehicles.csv": catalog.VehiclesSheet, "purchases.csv": catalog.PurchasesSheet, "returns.csv": catalog.ReturnsSheet,
	}
	for _, s := range truthOf(t, files).Suppliers {
		kinds[s.File] = catalog.SupplierSheet
	}
	for name, kind := range kinds {
		opt := importers.Options{Settings: importers.Settings{}}
		if kind == catalog.PurchasesSheet {
			opt.Settings["currency"] = "EUR"
		}
		sheet, err := importers.Open(ref, name, files[name], opt.Settings)
		if err != nil {
			t.Fatal(err)
		}
		mapping, questions := importers.Propose(ref, kind, sheet, opt)
		for _, q := range questions {
			t.Errorf("%s asks: %s", name, q.Question)
		}
		rep, err := importers.Read(ref, sheet, mapping, func(catalog.SheetRow) error { return nil })
		if err != nil {
			t.Fatal(err)
		}
		var held []int
		for _, h := range rep.Held {
			held = append(held, h.Line)
		}
		if !slices.Equal(held, mangled[name]) {
			t.Errorf("%s holds lines %v, want %v: %+v", name, held, mangled[name], rep.Held)
		}
	}
}

func TestSizesThatCannotBeAreRefused(t *testing.T) {
	for _, args := range [][]string{
		{"world"}, {"world", "--out", "x", "--parts", "3", "--suppliers", "4"}, {"world", "--out", "x", "--fitments", "10", "--parts", "20"},
		{"world", "--out", "x", "--errors", "101"}, {"history"}, {"other"}, {},
	} {
		if err := run(args, io.Discard); err == nil {
			t.Errorf("worldgen %v is not refused", args)
		}
	}
}

// The first numbers of seed 42, stream 54 of the reference implementation's
// demonstration program for PCG-XSH-RR 64/32 (from memory).
func TestTheGeneratorIsThePublishedOne(t *testing.T) {
	r := newPCG(42, 54)
	for i, want := range []uint32{0xa15c02b7, 0x7b47f409, 0xba1d3330, 0x83d2f293, 0xbfa4784b, 0xcbed606e} {
		if got := r.next(); got != want {
			t.Errorf("number %d is %#x, want %#x", i+1, got, want)
		}
	}
}
