package app

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"fitfill/catalog/sqlite"

	"github.com/google/go-cmp/cmp"
)

// partsList is a list of parts with a rating, an engine and a number that the
// part replaces.
func partsList(prefix string, parts, celsius int) ImportQuestion {
	var b strings.Builder
	b.WriteString("number;type;opening_temp (°C);engine;replaces\n")
	for i := range parts {
		fmt.Fprintf(&b, "%s-%d;thermostat;%d;E%d;%s-0%d\n", prefix, i, celsius, i%3, prefix, i)
	}
	return ImportQuestion{Name: fmt.Sprintf("%s-%d.csv", prefix, celsius), Raw: []byte(b.String()), Supplier: listedBy[prefix]}
}

var listedBy = map[string]string{"A": "Brackwell", "B": "Quern", "K": "Ostrel", "L": "Larkmoor Parts", "M": "Vexby", "N": "Nordlicht"}

// A then A is A; A then B, B taken back, is A; and whatever of it is done
// again gives the same again.
func TestImportingTwiceOrTakingBackLeavesTheFirstState(t *testing.T) {
	ctx := context.Background()
	for name, pair := range map[string][2]ImportQuestion{
		"a new version":    {partsList("A", 20, 82), partsList("A", 19, 88)},
		"another list":     {partsList("A", 20, 82), func() ImportQuestion { q := partsList("B", 5, 88); q.Supplier = listedBy["A"]; return q }()},
		"another supplier": {partsList("A", 20, 82), partsList("B", 5, 88)},
		"a sheet of held rows": {partsList("A", 20, 82), ImportQuestion{Name: "b.csv", Supplier: listedBy["B"],
			Raw: []byte("number;type;price (EUR)\n3-Oct;cap;5,00\n1.23E+11;cap;6,00\nB-1;cap;x\n")}},
		"the shop's engines": {partsList("A", 20, 82), ImportQuestion{Name: "engines.csv", Raw: fixture(t, "engines.csv")}},
		"purchases": {ImportQuestion{Name: "engines.csv", Raw: fixture(t, "engines.csv")},
			ImportQuestion{Name: "purchases.csv", Raw: fixture(t, "purchases.csv"), Settings: map[string]string{"fractions": "measure"}, Accept: []string{acceptSupplier}}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := garage(t)
			a, b := pair[0], pair[1]
			b.Accept = append(b.Accept, gateHeld, "fit", "chemistry", "prices", "fewer-rows", "missing-parts")
			s.mustImport(t, a, Imported)
			afterA := s.seen(t)
			s.mustImport(t, a, Unchanged)
			if d := cmp.Diff(afterA, s.seen(t)); d != "" {
				t.Errorf("A, A (-A +A, A):\n%s", d)
			}
			for round := range 2 {
				done := s.mustImport(t, b, Imported)
				afterB := s.seen(t)
				if slices.Equal(afterA, afterB) {
					t.Fatal("the second sheet says nothing")
				}
				s.mustImport(t, b, Unchanged)
				if d := cmp.Diff(afterB, s.seen(t)); d != "" {
					t.Errorf("A, B, B (-A, B +A, B, B):\n%s", d)
				}
				if _, err := s.UndoSheet(ctx, done.ID); err != nil {
					t.Fatal(err)
				}
				if d := cmp.Diff(afterA, s.seen(t)); d != "" {
					t.Errorf("round %d: A, B, B taken back (-A +after):\n%s", round, d)
				}
				s.mustBeSound(t)
			}
		})
	}
}

// Columns in another order, with their headings, and rows in another order,
// give the same catalogue but for the lines.
func TestTheOrderOfColumnsAndRowsDoesNotMatter(t *testing.T) {
	straight := strings.Split(strings.TrimSpace(string(partsList("A", 8, 82).Raw)), "\n")
	lines := func(order []int, rows func([]string)) string {
		body := slices.Clone(straight[1:])
		rows(body)
		var b strings.Builder
		for _, l := range append([]string{straight[0]}, body...) {
			cells := strings.Split(l, ";")
			for i, c := range order {
				if i > 0 {
					b.WriteByte(';')
				}
				b.WriteString(cells[c])
			}
			b.WriteByte('\n')
		}
		return b.String()
	}
	same := func([]string) {}
	var want []string
	for i, raw := range []string{
		lines([]int{0, 1, 2, 3, 4}, same), lines([]int{4, 3, 2, 1, 0}, same), lines([]int{2, 0, 4, 1, 3}, same),
		lines([]int{0, 1, 2, 3, 4}, slices.Reverse[[]string]), lines([]int{3, 4, 1, 0, 2}, slices.Reverse[[]string]),
	} {
		s := garage(t)
		s.mustImport(t, ImportQuestion{Name: "list.csv", Raw: []byte(raw), Supplier: "Ostrel"}, Imported)
		a, err := s.Find(context.Background(), FindQuestion{Words: "thermostat", Limit: 100})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, h := range a.Hits {
			got = append(got, fmt.Sprintf("%s %s %s", h.Number, h.Supplier, h.Why))
		}
		slices.Sort(got)
		if i == 0 {
			if want = got; len(want) != 8 {
				t.Fatalf("%q", want)
			}
		} else if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%q (-straight +got):\n%s", raw, d)
		}
	}
}

// Several programs import at once, each its own supplier's list. Each is told to
// wait or succeeds; nothing is mixed, and at the end all is there and sound.
func TestImportsOfSeveralSuppliersAtOnce(t *testing.T) {
	const importers, parts, versions = 4, 12, 2
	first := garage(t)
	var wait sync.WaitGroup
	for n := range importers {
		s := first
		if n%2 == 1 { // another handle on the same folder, as another program has it
			other, err := Open(filepath.Dir(first.store.IndexDir()), nil)
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { other.Close() })
			s = other
		}
		wait.Add(1)
		go func() {
			defer wait.Done()
			for v := range versions {
				q := partsList(string(rune('K'+n)), parts, 80+v)
				q.Accept = []string{"fit"}
				for {
					a, err := s.Import(context.Background(), q)
					if errors.Is(err, sqlite.ErrBusy) {
						time.Sleep(time.Duration(2+n) * time.Millisecond)
						continue
					}
					if err != nil || a.Status != Imported {
						t.Errorf("%s: %s, %v, %+v", q.Name, a.Status, err, a.Open)
					}
					break
				}
			}
		}()
	}
	wait.Wait()
	first.mustBeSound(t)
	want := []string{}
	for n := range importers {
		want = append(want, fmt.Sprintf("string %s%d", listedBy[string(rune('K'+n))], parts))
	}
	slices.Sort(want)
	got := slices.DeleteFunc(first.seen(t), func(l string) bool { return !slices.Contains(want, l) })
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("parts of each supplier (-want +got):\n%s", d)
	}
	for _, l := range first.seen(t) {
		if strings.HasPrefix(l, "part ") && !strings.Contains(l, fmt.Sprintf("Value:%d", 80+versions-1)) {
			t.Errorf("not the last version: %s", l)
		}
	}
}

// What a killed import left is gone after the next one, also where that has nothing
// to do.
func TestTheLeavingsOfAKilledImportAreSwept(t *testing.T) {
	home := t.TempDir()
	s, err := Open(home, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	list := partsList("A", 3, 82)
	s.mustImport(t, list, Imported)
	for _, folder := range []string{"staging", "restoring"} {
		left := filepath.Join(home, folder, "sheet-7.db")
		if err := os.MkdirAll(filepath.Dir(left), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(left, []byte("half a sheet"), 0o600); err != nil {
			t.Fatal(err)
		}
		s.mustImport(t, partsList("A", 3, 82+len(folder)), Imported)
		if _, err := os.Stat(left); !os.IsNotExist(err) {
			t.Error("it is still there", left, err)
		}
	}
}
