package app

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fitfill/catalog/sqlite"
)

// What is no whole backup of a catalogue is refused in words, and changes
// nothing.
func TestWhatIsNoWholeBackupIsRefused(t *testing.T) {
	s, home := fullGarage(t)
	file := s.mustBackUp(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	before := everyRow(t, home)
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	as := func(raw []byte) string {
		path := filepath.Join(t.TempDir(), "x.zip")
		if err := os.WriteFile(path, raw, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for want, path := range map[string]string{
		"cannot be opened":                         filepath.Join(home, "nowhere.zip"),
		"no archive or its end is missing":         as(whole[:len(whole)/2]),
		"no list of what it holds":                 rewritten(t, file, backupList, nil),
		"the list of what it holds cannot be read": rewritten(t, file, backupList, func([]byte) []byte { return []byte("{}") }),
		"is not in it once":                        rewritten(t, file, SettingsFile, nil),
		"was changed or damaged":                   rewritten(t, file, SettingsFile, func([]byte) []byte { return []byte("units = 'us'\n") }),
		"lists \"../evil\"":                        relisted(t, file, func(l *BackupList) { l.Files[1].Name = "../evil" }),
		"is not on its list":                       relisted(t, file, func(l *BackupList) { l.Files = l.Files[:1] }),
		"no catalogue is in it":                    relisted(t, rewritten(t, file, catalogueFile, nil), func(l *BackupList) { l.Files = l.Files[1:] }),
		"made by a newer fitfill":                  relisted(t, file, func(l *BackupList) { l.Schema = 900 }),
		"not the one that its list names":          relisted(t, file, func(l *BackupList) { l.Schema-- }),
		"points to no part":                        changedCatalogue(t, file, "DELETE FROM part WHERE id = (SELECT min(part_id) FROM fact)"),
		"no fitfill makes the trigger":             changedCatalogue(t, file, "CREATE TRIGGER sly AFTER INSERT ON logged BEGIN DELETE FROM sheet; END"),
		"lacks the index":                          changedCatalogue(t, file, "DROP INDEX part_key"),
	} {
		_, err := Restore(context.Background(), RestoreQuestion{File: path, Home: home, Replace: true})
		var usage *UsageError
		if !errors.As(err, &usage) || !strings.Contains(usage.Problem, want) || usage.Hint == "" {
			t.Errorf("want %q, got %v", want, err)
		}
		if d := cmp.Diff(before, everyRow(t, home)); d != "" {
			t.Fatalf("%s changed the catalogue:\n%s", want, d)
		}
		if left, _ := filepath.Glob(filepath.Join(home, "re*")); len(left) > 0 {
			t.Errorf("%s: left %v", want, left)
		}
	}
}

// A byte of a backup that was changed is noticed, or changes nothing in what
// comes back.
func TestADamagedByteIsNoticed(t *testing.T) {
	s, home := fullGarage(t)
	file := s.mustBackUp(t)
	want := everyRow(t, home)
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	const places = 40
	refused := 0
	for i := range places {
		raw := bytes.Clone(whole)
		raw[i*(len(raw)-1)/(places-1)] ^= 0x20
		path, there := filepath.Join(t.TempDir(), "x.zip"), t.TempDir()
		if err := os.WriteFile(path, raw, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := Restore(context.Background(), RestoreQuestion{File: path, Home: there}); err != nil {
			refused++
			continue
		}
		if d := cmp.Diff(want, everyRow(t, there)); d != "" {
			t.Errorf("byte %d:\n%s", i*(len(raw)-1)/(places-1), d)
		}
	}
	if refused < places*3/4 {
		t.Errorf("only %d of %d damaged backups were refused", refused, places)
	}
}

// A backup of an older fitfill is brought up to date.
func TestAnOlderBackupIsMigrated(t *testing.T) {
	s, home := fullGarage(t)
	want := everyRow(t, home)
	known, err := sqlite.Schema()
	if err != nil {
		t.Fatal(err)
	}
	// The schema before the table of spans was made.
	old := changedCatalogue(t, s.mustBackUp(t), "DROP TABLE purchase_span; PRAGMA user_version = 13")
	old = relisted(t, old, func(l *BackupList) { l.Schema = 13 })
	there := t.TempDir()
	if _, err := Restore(context.Background(), RestoreQuestion{File: old, Home: there}); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, everyRow(t, there)); d != "" {
		t.Errorf("from schema 13 to %d (-want +got):\n%s", known, d)
	}
}

// Somebody who has the catalogue open is not left behind with the old one.
func TestRestoreWaitsForWhoeverHasTheCatalogueOpen(t *testing.T) {
	s, home := fullGarage(t)
	file := s.mustBackUp(t)
	before := everyRow(t, home)
	ctx := context.Background()
	_, err := Restore(ctx, RestoreQuestion{File: file, Home: home, Replace: true})
	var open *BusyError
	if !errors.As(err, &open) || !errors.Is(err, ErrBusy) || !strings.Contains(open.Hint, "stop it first") {
		t.Fatalf("%v", err)
	}
	lock, err := s.store.LockImports()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := Restore(ctx, RestoreQuestion{File: file, Home: home, Replace: true}); !errors.Is(err, ErrBusy) {
		t.Errorf("while another imports: %v", err)
	}
	if err := lock.Unlock(); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(before, everyRow(t, home)); d != "" {
		t.Error(d)
	}
	if left, _ := filepath.Glob(filepath.Join(home, "re*")); len(left) > 0 {
		t.Error(left)
	}
}

// A folder that holds something stays as it is until it is said that it may go;
// then it is kept, and so are its settings.
func TestWhatIsThereIsKeptAside(t *testing.T) {
	s, home := fullGarage(t)
	file := s.mustBackUp(t)
	s.mustImport(t, partsList("L", 5, 90), Imported)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(home, SettingsFile), []byte("units = \"us\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	now := everyRow(t, home)
	ctx := context.Background()
	_, err := Restore(ctx, RestoreQuestion{File: file, Home: home})
	var usage *UsageError
	if !errors.As(err, &usage) || !strings.Contains(usage.Problem, "holds 5 sheets and 26 parts already") || !strings.Contains(usage.Hint, "--replace") {
		t.Fatalf("%v", err)
	}
	a, err := Restore(ctx, RestoreQuestion{File: file, Home: home, Replace: true})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(now, everyRow(t, a.KeptAside)); d != "" {
		t.Errorf("kept aside (-was +kept):\n%s", d)
	}
	for dir, want := range map[string]string{home: "labour_rate", a.KeptAside: "units"} {
		if text, err := os.ReadFile(filepath.Join(dir, SettingsFile)); err != nil || !strings.Contains(string(text), want) {
			t.Errorf("settings of %s: %s, %v", dir, text, err)
		}
		s, err := Open(dir, nil)
		if err != nil {
			t.Fatal(err)
		}
		s.mustBeSound(t)
		s.Close()
	}
	// An empty folder with other settings is asked about too.
	empty := t.TempDir()
	if err := os.WriteFile(filepath.Join(empty, SettingsFile), []byte("units = \"us\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Restore(ctx, RestoreQuestion{File: file, Home: empty}); !errors.As(err, &usage) || !strings.Contains(usage.Problem, "settings of its own") {
		t.Errorf("%v", err)
	}
}

// A catalogue that cannot be opened any more is what backups are for.
func TestADamagedCatalogueIsReplacedAndKept(t *testing.T) {
	s, home := fullGarage(t)
	want := everyRow(t, home)
	file := s.mustBackUp(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	junk := bytes.Repeat([]byte("no database "), 1000)
	if err := os.WriteFile(filepath.Join(home, catalogueFile), junk, 0o644); err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	if _, err := Restore(ctx, RestoreQuestion{File: file, Home: home}); err == nil || !strings.Contains(err.Error(), "a damaged catalogue") {
		t.Fatalf("%v", err)
	}
	a, err := Restore(ctx, RestoreQuestion{File: file, Home: home, Replace: true})
	if err != nil || !a.Forgotten.Unread {
		t.Fatalf("%+v %v", a, err)
	}
	if d := cmp.Diff(want, everyRow(t, home)); d != "" {
		t.Error(d)
	}
	if kept, err := os.ReadFile(filepath.Join(a.KeptAside, catalogueFile)); err != nil || !bytes.Equal(kept, junk) {
		t.Error("what was there is not kept", err)
	}
}

// The passphrase of a backup comes back where there is none; one that is there
// stays, whatever else is replaced.
func TestAPassphraseThatIsThereStays(t *testing.T) {
	ctx := context.Background()
	s, home := fullGarage(t)
	if err := SetPassphrase(home, "four blue cans"); err != nil {
		t.Fatal(err)
	}
	file := s.mustBackUp(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	there := t.TempDir()
	if a, err := Restore(ctx, RestoreQuestion{File: file, Home: there}); err != nil || !a.NewPassphrase {
		t.Fatal(a.NewPassphrase, err)
	}
	if p, err := ReadPassphrase(there); err != nil || !p.Matches("four blue cans") {
		t.Error("it is not back", err)
	}
	if err := SetPassphrase(home, "nine green jars"); err != nil {
		t.Fatal(err)
	}
	if a, err := Restore(ctx, RestoreQuestion{File: file, Home: home, Replace: true}); err != nil || a.NewPassphrase {
		t.Fatal(a.NewPassphrase, err)
	}
	if p, err := ReadPassphrase(home); err != nil || !p.Matches("nine green jars") {
		t.Error("an old one is back", err)
	}
	for _, dir := range []string{there, home} {
		if info, err := os.Stat(filepath.Join(dir, PassphraseFile)); err != nil || info.Mode().Perm() != 0o600 {
			t.Error("others can read it", err)
		}
	}
}
