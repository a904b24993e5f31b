package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"fitfill/catalog"
	"fitfill/compat/returns"
	"fitfill/data"
	"fitfill/data/demo"
)

// judge scores a history with the shipped reasons and settings.
func judge(t *testing.T, h *history) map[string]returns.Supplier {
	t.Helper()
	ref, err := data.Load(os.DirFS("../../data"))
	if err != nil {
		t.Fatal(err)
	}
	reasons, err := returns.NewReasons(ref["returns_reasons"])
	if err != nil {
		t.Fatal(err)
	}
	set, err := returns.SettingsFrom(func(name string) (float64, bool) {
		for _, r := range ref["returns_settings"] {
			if r.Get("setting") == name {
				v, err := strconv.ParseFloat(r.Get("value"), 64)
				return v, err == nil
			}
		}
		return 0, false
	})
	if err != nil {
		t.Fatal(err)
	}
	also := map[string]string{}
	for _, a := range demo.Aliases {
		also[a.Also] = a.Supplier
	}
	name := func(s string) string {
		if main := also[s]; main != "" {
			return main
		}
		return s
	}
	count := func(s string) catalog.Count {
		n, err := strconv.Atoi(s)
		if err != nil {
			t.Fatal(err)
		}
		return catalog.CountOf(int64(n) * 1000)
	}
	var b returns.Books
	for i, e := range h.purchases {
		c := e.cells
		b.Sales = append(b.Sales, returns.Sale{Ref: i, Supplier: name(c[1]), Part: c[2], PartType: c[3], Day: catalog.Date(e.day), Quantity: count(c[4]), Document: c[6]})
	}
	for i, e := range h.returns {
		c := e.cells
		class, _, _ := reasons.Class(c[4])
		r := returns.Return{Ref: i, Supplier: name(c[1]), Part: c[2], Day: catalog.Date(e.day), Quantity: count(c[3]), Class: class, Document: c[6]}
		b.Returns = append(b.Returns, r)
	}
	b.AsOf, _ = returns.AsOf(b.Sales, b.Returns)
	rep, err := returns.Judge(returns.Match(b, set), set)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]returns.Supplier{}
	for _, s := range rep.Suppliers {
		all[s.Name] = s
	}
	return all
}

// demoSeed is the seed of the demo garage's purchases.csv and returns.csv.
const demoSeed = 11

func TestTheDemoHistoryIsWhatTheGeneratorWrites(t *testing.T) {
	dir := t.TempDir()
	if err := run([]string{"history", "--seed", strconv.Itoa(demoSeed), "--out", dir}, io.Discard); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"purchases.csv", "returns.csv"} {
		got, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		kept, err := demo.FS.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, kept) {
			t.Errorf("%s differs from what worldgen history --seed %d writes: write it again", name, demoSeed)
		}
	}
}

// The truth is stated in hazards.csv: Ostrel's parts fail four times as often,
// Quillmar's and Grauvelt's alike, Tessimor's 1.6 times.
func TestTheScoreFindsTheStatedHazardsAgain(t *testing.T) {
	h, err := demoHistory(demo.FS, demoSeed)
	if err != nil {
		t.Fatal(err)
	}
	got := judge(t, h)
	rate := func(name string) float64 { return float64(got[name].Tally.Faulty) / float64(got[name].Tally.Sold) }
	if w := got["Ostrel"].Standing.Word; w != returns.Worse {
		t.Errorf("Ostrel really fails early and is called %q", w)
	}
	for _, name := range []string{"Ferrowick", "Grauvelt", "Tessimor", "Quillmar"} {
		if w := got[name].Standing.Word; w == returns.Worse || w == returns.LeaningWorse {
			t.Errorf("%s is called %q", name, w)
		}
	}
	if s := got["Ferrowick"].Tally; s.Sold != 3 || s.Faulty != 1 {
		t.Errorf("the new supplier sold %d and %d failed, want 3 and 1", s.Sold, s.Faulty)
	}
	if rate("Grauvelt") <= rate("Quillmar") {
		t.Errorf("Grauvelt's plain share %.3f should look worse than Quillmar's %.3f: its part mix is the case", rate("Grauvelt"), rate("Quillmar"))
	}
	if w := got["Tessimor"].Standing.Word; w == returns.Better || rate("Tessimor") >= rate("Quillmar") {
		t.Errorf("Tessimor is called %q with a share of %.3f: only its recent sales make it look good", w, rate("Tessimor"))
	}
}

func TestEveryStatedLineIsInTheHistory(t *testing.T) {
	h, err := demoHistory(demo.FS, 3)
	if err != nil {
		t.Fatal(err)
	}
	plans, err := readTable(demo.FS, "hazards.csv")
	if err != nil {
		t.Fatal(err)
	}
	planted, err := readTable(demo.FS, "planted.csv")
	if err != nil {
		t.Fatal(err)
	}
	want := 0
	for _, p := range plans {
		n, _ := strconv.Atoi(p["lines"])
		want += n
	}
	for _, p := range planted {
		if p["kind"] == "purchase" {
			want++
		}
	}
	if len(h.purchases) != want {
		t.Errorf("%d purchases, want %d", len(h.purchases), want)
	}
	for _, e := range h.returns {
		if e.cells[5] > e.cells[0] {
			t.Errorf("%v came back before it was bought", e.cells)
		}
	}
}
