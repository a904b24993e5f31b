package app

import (
	"context"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/importers"

	"github.com/google/go-cmp/cmp"
)

// The next list of a supplier has other headings in another order, one part
// more and one less, two parts that take each other's place, and prices that
// are a hundred times as high.
func TestASupplierThatChangesItsSheetIsAskedAboutAndReportedWhole(t *testing.T) {
	ctx := context.Background()
	s := garage(t)
	first := s.mustImport(t, ImportQuestion{Name: "first.csv", Raw: fixture(t, "cells/60-first.csv"), Supplier: "Ostrel", Settings: map[string]string{"currency": "EUR"}}, Imported)
	before := s.seen(t)

	q := ImportQuestion{Name: "second.csv", Raw: fixture(t, "cells/60-second.csv"), Supplier: "Ostrel", Settings: map[string]string{"currency": "EUR"}}
	a := s.mustImport(t, q, Staged)
	var asked []string
	for _, o := range a.Open {
		asked = append(asked, o.Command)
	}
	want := []string{
		`--map price="Net price" or --ignore "Net price"`, `--map description="Item text" or --ignore "Item text"`, `--map number="Article" or --ignore "Article"`,
	}
	if d := cmp.Diff(want, asked); d != "" {
		t.Errorf("only the columns that changed are asked about (-want +got):\n%s", d)
	}
	if strings.Contains(strings.Join(asked, " "), "Replaced by") {
		t.Error("a column that is the same is asked about again")
	}

	a, err := s.AcceptStaged(ctx, a.ID, ImportQuestion{Maps: map[string]string{"price": "Net price", "number": "Article", "description": "Item text"}})
	if err != nil || a.Status != Staged {
		t.Fatalf("%s, %v", a.Status, err)
	}
	var gates []string
	for _, o := range a.Open {
		gates = append(gates, o.Gate)
	}
	if d := cmp.Diff([]string{"missing-parts", "prices"}, gates); d != "" {
		t.Errorf("gates (-want +got):\n%s", d)
	}
	if d := cmp.Diff(sqlite.Changes{Added: 1, Changed: 3, Withdrawn: 1}, a.Changes); d != "" {
		t.Errorf("changes (-want +got):\n%s", d)
	}
	r := a.Report
	if d := cmp.Diff([]string{"P-4"}, r.Withdrawn); d != "" {
		t.Errorf("withdrawn (-want +got):\n%s", d)
	}
	if d := cmp.Diff([]string{"P-2 -> P-3 -> P-2"}, r.Loops); d != "" || len(r.Superseded) > 0 {
		t.Errorf("loops (-want +got), chains %v:\n%s", r.Superseded, d)
	}
	prices := &PriceReport{Parts: 3, Median: 100, Low: 100, High: 100, Down: []string{},
		Up: []string{"P-3: 2.75 to 275.00 (line 4)", "P-2: 2.50 to 250.00 (line 3)", "P-1: 12.50 to 1250.00 (line 2)"}}
	if d := cmp.Diff(prices, r.Prices); d != "" {
		t.Errorf("prices (-want +got):\n%s", d)
	}
	var changed []string
	for _, c := range r.Changes {
		changed = append(changed, c.Number+" "+c.Field+" "+c.Old+" "+c.New)
	}
	if d := cmp.Diff([]string{"P-1 price 12,50 1250,00", "P-2 price 2,50 250,00", "P-3 price 2,75 275,00", "P-3 replaced_by  P-2"}, changed); d != "" {
		t.Errorf("field by field (-want +got):\n%s", d)
	}
	if d := cmp.Diff(before, s.seen(t)); d != "" {
		t.Errorf("a sheet that waits changed the catalogue:\n%s", d)
	}

	if a, err = s.AcceptStaged(ctx, a.ID, ImportQuestion{}); err != nil || a.Status != Imported || !slices.Equal(a.Replaces, []string{"first.csv"}) {
		t.Fatalf("%s, replaces %v: %v", a.Status, a.Replaces, err)
	}
	s.mustBeSound(t)
	s.mustImport(t, q, Unchanged)
	if _, err := s.UndoSheet(ctx, a.ID); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(before, s.seen(t)); d != "" {
		t.Errorf("taken back, the catalogue is not that of sheet %d (-before +after):\n%s", first.ID, d)
	}
	s.mustBeSound(t)
}

// A sheet of a known list that holds little or nothing of it any more is never
// taken without a word.
func TestAListThatLostMostOfItsRowsIsAskedAbout(t *testing.T) {
	head := "number;type;price (EUR);engine\n"
	rows := strings.SplitAfter("A-1;thermostat;5,00;ZQ9\nA-2;cap;6,00;ZQ9\nA-3;hose;7,00;ZQ9\nA-4;seal;8,00;ZQ9\nA-5;seal;9,00;ZQ9\nA-6;cap;9,50;ZQ9\n", "\n")
	whole := head + strings.Join(rows, "")
	want := map[string]string{
		"the heading alone": "only 0 of its 6 parts", "every row is damaged": "only 0 of its 6 parts", "one row in six": "only 1 of its 6 parts",
		"two rows in six": "only 2 of its 6 parts", "four rows in six": "4 rows where the last one had 6",
		"four rows in six and blank lines": "4 rows where the last one had 6",
	}
	for name, raw := range map[string]string{
		"the heading alone":                head,
		"one row in six":                   head + rows[2],
		"two rows in six":                  head + rows[0] + rows[4],
		"four rows in six":                 head + rows[0] + rows[1] + rows[2] + rows[4],
		"four rows in six and blank lines": head + rows[0] + "\n\n" + rows[1] + "\n\n" + rows[2] + rows[4] + "Total;;;\n",
		"every row is damaged":             head + strings.ReplaceAll(strings.Join(rows, ""), "A-", "3-Oct;"),
	} {
		t.Run(name, func(t *testing.T) {
			s := garage(t)
			s.mustImport(t, ImportQuestion{Name: "whole.csv", Raw: []byte(whole), Supplier: "Ostrel"}, Imported)
			before := s.seen(t)
			a, err := s.Import(context.Background(), ImportQuestion{Name: "next.csv", Raw: []byte(raw), Supplier: "Ostrel"})
			if err != nil || a.Status != Staged {
				t.Errorf("%s, %v", a.Status, err)
			}
			if !slices.ContainsFunc(a.Open, func(o OpenQuestion) bool { return strings.Contains(o.Question, want[name]) }) {
				t.Errorf("asked %+v, want %q", a.Open, want[name])
			}
			if d := cmp.Diff(before, s.seen(t)); d != "" {
				t.Errorf("the catalogue changed:\n%s", d)
			}
		})
	}
}

// Blank lines and sections that are gone are no rows that are gone.
func TestAListWithoutItsSectionsIsWhole(t *testing.T) {
	s := garage(t)
	const rows = "A-1;thermostat;5,00;ZQ9\nA-2;cap;6,00;ZQ9\nA-3;hose;7,00;ZQ9\nA-4;seal;8,00;ZQ9\n"
	s.mustImport(t, ImportQuestion{Name: "one.csv", Raw: []byte("number;type;price (EUR);engine\n;Cooling;;\n\n" + strings.ReplaceAll(rows, "\n", "\n\n")), Supplier: "Ostrel"}, Imported)
	s.mustImport(t, ImportQuestion{Name: "two.csv", Raw: []byte("number;type;price (EUR);engine\n" + rows), Supplier: "Ostrel"}, Imported)
}

// A person who says that the shortened list takes the place of the whole one
// still learns what it loses; one who says that it stands beside keeps both.
func TestAShortenedListIsTakenOnlyWithEveryLossSaid(t *testing.T) {
	ctx := context.Background()
	s := garage(t)
	whole := partsList("A", 20, 82)
	s.mustImport(t, whole, Imported)
	short := partsList("A", 4, 82)
	short.Name = "short.csv"
	a := s.mustImport(t, short, Staged)
	a, err := s.AcceptStaged(ctx, a.ID, ImportQuestion{Accept: []string{acceptReplaces}})
	if err != nil || a.Status != Staged || len(a.Open) < 2 || a.Open[0].Gate != "fewer-rows" || a.Open[1].Gate != "missing-parts" {
		t.Fatalf("%s, %v: %+v", a.Status, err, a.Open)
	}
	if a.Changes.Withdrawn != 16 {
		t.Errorf("%+v", a.Changes)
	}
	if err := s.DropStaged(ctx, a.ID); err != nil {
		t.Fatal(err)
	}
	short.Accept = []string{acceptBeside}
	if a = s.mustImport(t, short, Imported); len(a.Replaces) > 0 {
		t.Errorf("beside took the place of %v", a.Replaces)
	}
	s.mustBeSound(t)
}

// What a spreadsheet did to part numbers is seen against the numbers on file.
func TestDamagedNumbersAreSeenAgainstTheSuppliersLastSheet(t *testing.T) {
	for name, tc := range map[string]struct{ onFile, want string }{
		"47-exponent.csv":  {"123457000001", "123457000001"},
		"48-date.csv":      {"3-10", "3-10"},
		"49-zeros.csv":     {"0004711", "0004711"},
		"52-lookalike.csv": {"A-12", "A-12"},
	} {
		t.Run(name, func(t *testing.T) {
			s := garage(t)
			s.mustImport(t, ImportQuestion{Name: "last.csv", Supplier: "Ostrel", Settings: map[string]string{"currency": "EUR"},
				Raw: []byte("Part;Description;Price\n" + tc.onFile + ";Seal;2,50\nX-0001;Hose;9,50\nX-0002;Hose;9,50\n0004712;Cap;3,50\n")}, Imported)
			q := ImportQuestion{Name: name, Raw: fixture(t, "cells/"+name), Supplier: "Ostrel", Ignore: []string{"Unit"}, Settings: map[string]string{"currency": "EUR"},
				Accept: []string{"swapped-columns"}}
			a := s.mustImport(t, q, Imported)
			if !slices.ContainsFunc(a.Held, func(h catalog.HeldRow) bool { return strings.Contains(h.Reason, tc.want) }) {
				t.Errorf("%s is not offered: %+v", tc.want, a.Held)
			}
			s.mustBeSound(t)
		})
	}
}

// What the mapping decides without asking is said: a column that is gone, columns
// in another order.
func TestWhatTheMappingDecidesIsSaid(t *testing.T) {
	s := garage(t)
	s.mustImport(t, ImportQuestion{Name: "one.csv", Raw: []byte("number;type;price (EUR);engine;stock\nA-1;cap;5,00;ZQ9;4\nA-2;cap;6,00;ZQ9;4\n"), Supplier: "Ostrel"}, Imported)
	for text, raw := range map[string]string{
		`Column "stock", which held the stock in the last sheet, is not in this one.`: "number;type;price (EUR);engine\nA-1;cap;5,00;ZQ9\nA-2;cap;6,00;ZQ9\n",
		"The columns stand in another order than in the last sheet":                   "type;number;price (EUR);engine;stock\ncap;A-1;5,00;ZQ9;4\ncap;A-2;6,00;ZQ9;4\n",
	} {
		a, err := s.Import(context.Background(), ImportQuestion{Name: "two.csv", Raw: []byte(raw), Supplier: "Ostrel", Check: true})
		if err != nil || !slices.ContainsFunc(a.Notes, func(n importers.FileNote) bool { return strings.Contains(n.Text, text) }) {
			t.Errorf("%v: %+v, want %q", err, a.Notes, text)
		}
	}
}
