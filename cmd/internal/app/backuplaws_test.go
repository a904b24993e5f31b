package app

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// everyRow is every row of every table of a data folder's catalogue but where its
// search indexes lie.
func everyRow(t testing.TB, home string) (all []string) {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+filepath.Join(home, catalogueFile)+"?mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rows := func(query string, each func(cells []any)) {
		r, err := db.Query(query)
		if err != nil {
			t.Fatal(query, err)
		}
		defer r.Close()
		names, err := r.Columns()
		for err == nil && r.Next() {
			cells, to := make([]any, len(names)), make([]any, len(names))
			for i := range cells {
				to[i] = &cells[i]
			}
			if err = r.Scan(to...); err == nil {
				each(cells)
			}
		}
		if err := errors.Join(err, r.Err()); err != nil {
			t.Fatal(query, err)
		}
	}
	var tables []string
	rows("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'", func(cells []any) { tables = append(tables, cells[0].(string)) })
	for _, table := range tables {
		query := "SELECT * FROM " + table
		if table == "supplier" {
			query = "SELECT id, name FROM supplier"
		}
		rows(query, func(cells []any) { all = append(all, fmt.Sprintf("%s %q", table, cells)) })
	}
	slices.Sort(all)
	return all
}

// fullGarage has something of all that a data folder can hold.
func fullGarage(t testing.TB) (s *Shop, home string) {
	t.Helper()
	home = t.TempDir()
	if err := os.WriteFile(filepath.Join(home, SettingsFile), []byte("labour_rate = \"60 EUR\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := Open(home, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	ctx := context.Background()
	s.mustImport(t, partsList("A", 20, 82), Imported)
	s.mustImport(t, ImportQuestion{Name: "held.csv", Supplier: listedBy["B"], Raw: []byte("number;type;price (EUR)\nB-1;cap;5,00\nB-2;cap;x\n")}, Imported)
	s.mustImport(t, ImportQuestion{Name: "purchases.csv", Raw: fixture(t, "purchases.csv"), Settings: map[string]string{"fractions": "measure"}, Accept: []string{acceptSupplier}}, Imported)
	s.mustImport(t, ImportQuestion{Name: "fills.csv", As: "fills", Raw: []byte("date,vehicle,chemistry,volume (L),note\n2026-01-05,W 7-K,oat,4,W7K ran hot\n2026-01-06,A 1,oat,3,\n")}, Imported)
	waits := partsList("A", 3, 88)
	waits.Check = true
	s.mustImport(t, waits, Staged)
	if _, err := s.AddVehicle(ctx, VehicleSaid{Mark: "A 1", Engine: "E1"}); err != nil {
		t.Fatal(err)
	}
	if err := s.AddSupplierName(ctx, listedBy["A"], "Brack & Well"); err != nil {
		t.Fatal(err)
	}
	return s, home
}

func (s *Shop) mustBackUp(t testing.TB) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "shop.zip")
	if _, err := s.Backup(context.Background(), BackupQuestion{File: file}); err != nil {
		t.Fatal(err)
	}
	return file
}

// A backup brought back into an empty folder is the same catalogue, row by row,
// and sound.
func TestABackupBringsEveryRowBack(t *testing.T) {
	s, home := fullGarage(t)
	want := everyRow(t, home)
	file := s.mustBackUp(t)
	there := filepath.Join(t.TempDir(), "new", "home")
	a, err := Restore(context.Background(), RestoreQuestion{File: file, Home: there})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, everyRow(t, there)); d != "" {
		t.Errorf("-before +after:\n%s", d)
	}
	if a.KeptAside != "" || !a.NewSettings || a.Holds.Waiting != 1 || a.Holds.Logged != 1 || a.Holds.Sheets != 4 {
		t.Errorf("%+v", a)
	}
	again, err := Open(there, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if again.Settings.LabourRate.Text != "60 EUR" {
		t.Errorf("settings: %+v", again.Settings.LabourRate)
	}
	again.mustBeSound(t)
	if d := cmp.Diff(s.seen(t), again.seen(t)); d != "" {
		t.Errorf("-before +after:\n%s", d)
	}
	if left, _ := filepath.Glob(filepath.Join(there, "restoring")); len(left) > 0 {
		t.Error(left)
	}
}

// A backup that is taken while others import is the catalogue before an import or
// after it.
func TestABackupDuringImportsIsNeverBetween(t *testing.T) {
	s := garage(t)
	home := s.store.Dir()
	states := map[string][]string{} // by the list that is in use
	small, large := partsList("A", 60, 82), partsList("A", 90, 88)
	for _, q := range []*ImportQuestion{&small, &large} {
		q.Accept = []string{"fit", "fewer-rows", "missing-parts"}
	}
	sheet := regexp.MustCompile(`(?m)^string \d+A-`) // its number grows with every import
	state := func(s *Shop) []string {
		lines := s.seen(t)
		for i, l := range lines {
			lines[i] = sheet.ReplaceAllString(l, "A-")
		}
		slices.Sort(lines)
		return lines
	}
	for _, q := range []ImportQuestion{small, large, small, large} { // what a list is measured by settles at the second time
		s.mustImport(t, q, Imported)
		states[q.Name] = state(s)
	}
	stop := make(chan struct{})
	done := make(chan int)
	go func() {
		n := 0
		defer func() { done <- n }()
		for {
			for _, q := range []ImportQuestion{small, large} {
				select {
				case <-stop:
					return
				default:
				}
				if a, err := s.Import(context.Background(), q); err != nil || a.Status != Imported {
					t.Errorf("%v %v", a.Status, err)
					return
				}
				n++
			}
		}
	}()
	other, err := Open(home, nil) // as another program has it
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	met := map[string]int{}
	for range 12 {
		file := other.mustBackUp(t)
		there := t.TempDir()
		if _, err := Restore(context.Background(), RestoreQuestion{File: file, Home: there}); err != nil {
			t.Fatal(err)
		}
		restored, err := Open(there, nil)
		if err != nil {
			t.Fatal(err)
		}
		got, name := state(restored), small.Name
		if strings.Contains(strings.Join(got, ""), large.Name) {
			name = large.Name
		}
		if d := cmp.Diff(states[name], got); d != "" {
			t.Errorf("a state between (-%s +got):\n%.2000s", name, d)
		}
		met[name]++
		restored.Close()
	}
	close(stop)
	if n := <-done; n < 2 {
		t.Errorf("only %d imports ran meanwhile: %v", n, met)
	}
}

// A backup that is stopped at any moment leaves nothing behind, or is whole.
func TestAStoppedBackupLeavesNothing(t *testing.T) {
	s, home := fullGarage(t)
	begin := time.Now()
	s.mustBackUp(t)
	took := time.Since(begin)
	stopped := 0
	const steps = 25
	for i := range steps {
		dir := t.TempDir()
		ctx, stop := context.WithTimeout(context.Background(), took*time.Duration(i)/steps)
		_, err := s.Backup(ctx, BackupQuestion{File: filepath.Join(dir, "shop.zip")})
		stop()
		left, _ := filepath.Glob(filepath.Join(dir, "*"))
		hidden, _ := filepath.Glob(filepath.Join(dir, ".*"))
		if want := map[bool]int{true: 1}[err == nil]; len(left) != want || len(hidden) > 0 {
			t.Errorf("stopped after %d of %d: %v, left %v %v", i, steps, err, left, hidden)
		}
		if err != nil {
			stopped++
		}
		if _, err := os.Stat(filepath.Join(home, backupFolder)); !os.IsNotExist(err) {
			t.Errorf("stopped after %d of %d: the copy is still in the data folder: %v", i, steps, err)
		}
	}
	if stopped == 0 {
		t.Error("none was stopped")
	}
}

// A restore that is stopped at any moment leaves the old catalogue or the new one,
// and nothing beside them.
func TestAStoppedRestoreLeavesOneOfTwoCatalogues(t *testing.T) {
	s, home := fullGarage(t)
	file := s.mustBackUp(t)
	s.mustImport(t, partsList("L", 5, 90), Imported)
	now := everyRow(t, home)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	try := func(limit time.Duration) (there string, a RestoreAnswer, err error) {
		there = filepath.Join(t.TempDir(), "home")
		if err := os.CopyFS(there, os.DirFS(home)); err != nil {
			t.Fatal(err)
		}
		ctx, stop := context.WithTimeout(context.Background(), limit)
		defer stop()
		a, err = Restore(ctx, RestoreQuestion{File: file, Home: there, Replace: true})
		return there, a, err
	}
	begin := time.Now()
	there, _, err := try(time.Minute)
	if err != nil {
		t.Fatal(err)
	}
	took := time.Since(begin)
	then := everyRow(t, there)
	const steps = 25
	for i := range steps + 1 {
		there, a, err := try(took * time.Duration(i) / steps)
		want := now
		if err == nil {
			want = then
			if d := cmp.Diff(now, everyRow(t, a.KeptAside)); d != "" {
				t.Errorf("kept aside (-before +kept):\n%s", d)
			}
		}
		if d := cmp.Diff(want, everyRow(t, there)); d != "" {
			t.Errorf("stopped after %d of %d with %v (-want +got):\n%s", i, steps, err, d)
		}
		if left, _ := filepath.Glob(filepath.Join(there, "re*")); len(left) != map[bool]int{true: 1}[err == nil] {
			t.Errorf("stopped after %d of %d with %v: left %v", i, steps, err, left)
		}
		after, err := Open(there, nil)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := after.Find(context.Background(), FindQuestion{Words: "thermostat", Limit: 5}); err != nil {
			t.Error(err)
		}
		after.mustBeSound(t)
		after.Close()
	}
}
