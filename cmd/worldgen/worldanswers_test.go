package main

import (
	"context"
	"fmt"
	"testing"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

// pair is a part, by its number, and an engine family.
type pair struct{ number, family string }

// worldAnswers is a world as the program sees it.
type worldAnswers struct {
	verdict map[pair]compat.Outcome
	found   map[string]bool // "sheet:line" of what the audit found or the import held
}

// answersOf imports a world and asks which parts go into each of its engines, and
// what cannot be right in the sheets.
func answersOf(t *testing.T, files map[string][]byte, suppliers []supplierTruth, families []row) worldAnswers {
	t.Helper()
	ctx := context.Background()
	shop, err := app.Open(t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	w := worldAnswers{map[pair]compat.Outcome{}, map[string]bool{}}
	sheets := []app.ImportQuestion{{Name: "engines.csv", As: "engines"}}
	for _, s := range suppliers {
		sheets = append(sheets, app.ImportQuestion{Name: s.File, As: "supplier", Supplier: s.Name})
	}
	for _, q := range sheets {
		q.Raw = files[q.Name]
		a, err := shop.Import(ctx, q)
		if err != nil || a.Status != app.Imported {
			t.Fatalf("%s: %v, %s %v", q.Name, err, a.Status, a.Open)
		}
		for _, h := range a.Held {
			w.found[fmt.Sprint(q.Name, ":", h.Line)] = true
		}
	}
	for _, f := range families {
		a, err := shop.Fit(ctx, app.FitQuestion{Engine: f["family"]})
		if err != nil {
			t.Fatalf("%s: %v", f["family"], err)
		}
		for _, p := range a.Answers {
			w.verdict[pair{p.Number, f["family"]}] = p.Outcome
		}
	}
	a, err := shop.Audit(ctx, "", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range a.Findings {
		for _, l := range f.Lines {
			w.found[fmt.Sprint(l.Sheet, ":", l.Line)] = true
		}
	}
	return w
}
