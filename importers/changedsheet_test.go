package importers

import (
	"os"
	"path/filepath"
	"testing"

	"fitfill/catalog"

	"github.com/google/go-cmp/cmp"
)

// The second sheet of a supplier has other headings in another order, prices
// that are a hundred times as high, and a chain of replacements with a loop,
// which is for the comparison with the first sheet to report.
func TestAChangedSheetAsksOnlyAboutWhatChanged(t *testing.T) {
	open := func(name string) *Sheet {
		raw, err := os.ReadFile(filepath.Join("..", "testdata", "sheets", "cells", name))
		if err != nil {
			t.Fatal(err)
		}
		s, err := Open(reference(t), name, raw, Settings{"separator": "semicolon"})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	first, questions := Propose(reference(t), catalog.SupplierSheet, open("60-first.csv"), Options{})
	if len(questions) > 0 || first.Version != 1 {
		t.Fatal(first.Version, questions)
	}
	opt := onFile("P-1", "P-2", "P-3", "P-4")
	opt.Saved = &first
	second := open("60-second.csv")
	_, questions = Propose(reference(t), catalog.SupplierSheet, second, opt)
	var asks []string
	for _, q := range questions {
		asks = append(asks, q.Code+" "+q.Command)
	}
	want := []string{
		`column --map price="Net price" or --ignore "Net price"`, `column --map description="Item text" or --ignore "Item text"`, `column --map number="Article" or --ignore "Article"`,
	}
	if d := cmp.Diff(want, asks); d != "" {
		t.Fatalf("questions (-want +got):\n%s", d)
	}
	opt.Maps = map[string]string{"price": "Net price", "number": "Article", "description": "Item text"}
	m, questions := Propose(reference(t), catalog.SupplierSheet, second, opt)
	if len(questions) > 0 || m.Version != 2 || column(m, "description").Heading != "Item text" || column(m, "replaced_by").Index != 3 {
		t.Fatalf("version %d, %+v, %v", m.Version, m.Columns, questions)
	}
	rows, report := readAll(t, second, m)
	if len(rows) != 4 || report.RowsHeld != 0 {
		t.Fatalf("%d rows, %+v", len(rows), report.Held)
	}
}

// Spreadsheets write an empty text that must stay text as ="".
func TestAnEmptyTextInAWrapperIsAnEmptyCell(t *testing.T) {
	for name, raw := range map[string]string{
		"unquoted": "number;description;price (EUR)\nA-1;=\"\";5,00\nA-2;=\"Cap\";6,00\n",
		"quoted":   "number,description,price (EUR)\nA-1,\"=\"\"\"\"\",\"5,00\"\nA-2,\"=\"\"Cap\"\"\",\"6,00\"\n",
	} {
		s, m, questions := propose(t, catalog.SupplierSheet, raw, Options{})
		if len(questions) > 0 {
			t.Fatalf("%s: %+v", name, questions)
		}
		rows, report := readAll(t, s, m)
		if len(rows) != 2 || say(rows[0]) != "part A-1: price=50000 EUR" || say(rows[1]) != "part A-2: description=Cap price=60000 EUR" {
			t.Errorf("%s: %v, %+v", name, rows, report.Held)
		}
	}
}
