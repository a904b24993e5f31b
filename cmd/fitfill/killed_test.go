package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// boundary is a moment of an import that shows from outside, by what lies in
// the data folder.
type boundary struct {
	name    string
	reached func(home string) bool
}

// boundaries are the moments in their order.
func boundaries() []boundary {
	size := func(path string) (n int64) {
		found, _ := filepath.Glob(path)
		for _, f := range found {
			if info, err := os.Stat(f); err == nil {
				n += info.Size()
			}
		}
		return n
	}
	count := func(pattern string) int {
		found, _ := filepath.Glob(pattern)
		return len(found)
	}
	staged := func(home string) int { return count(filepath.Join(home, "staging", "sheet-*.db")) }
	log := func(home string) int64 { return size(filepath.Join(home, "catalogue.db-wal")) }
	indexes := func(home string) int { return count(filepath.Join(home, "index", "*")) }
	begun := false // the staging file was there
	return []boundary{
		{"the staging file is made", func(home string) bool { return staged(home) > 0 }},
		{"rows are staged", func(home string) bool { return size(filepath.Join(home, "staging", "sheet-*.db")) > 100_000 }},
		{"the index is begun", func(home string) bool { return staged(home) > 0 && indexes(home) > 2 }},
		{"the index is written", func(home string) bool {
			return staged(home) > 0 && size(filepath.Join(home, "index", "*", "store", "*.zap")) > 150_000
		}},
		{"the commit is under way", func(home string) bool { return staged(home) > 0 && log(home) > 60_000 }},
		{"the staging file is gone", func(home string) bool {
			begun = begun || staged(home) > 0
			return begun && staged(home) == 0
		}},
	}
}

// state tells which of the two catalogues is in the folder, and fails the test
// if it is neither whole.
func state(t *testing.T, home string, parts string) string {
	t.Helper()
	run(t, home, 0, "doctor")
	out, err := program(t, home, "find", parts, "--json").Output()
	if len(out) == 0 {
		t.Fatal(err)
	}
	var found struct{ Hits []struct{ Number string } }
	if err := json.Unmarshal(out, &found); err != nil {
		t.Fatal(err)
	}
	last := len(found.Hits) == 1 && found.Hits[0].Number == parts
	cited := run(t, home, 0, "fit", "ZQ9", "--type", "thermostat", "--json") // each part with the line that lists it
	var fit fitJSON
	if err := json.Unmarshal([]byte(cited), &fit); err != nil {
		t.Fatal(err)
	}
	before, after := cites(cited)
	if len(fit.Answers) != 10 || before == after || after != last {
		t.Fatalf("half a catalogue: %d of 10 parts fit, lines of the old sheet: %v, of the new: %v, the last part is there: %v", len(fit.Answers), before, after, last)
	}
	if after {
		return "new"
	}
	return "old"
}

// stopAt imports a sheet into a copy of base and sends the signal as soon as the
// boundary is seen. It returns the copy; nothing if the import was quicker than
// the look at it.
func stopAt(t *testing.T, base, sheet string, at boundary, signal os.Signal) string {
	t.Helper()
	home := filepath.Join(t.TempDir(), "home")
	if err := os.CopyFS(home, os.DirFS(base)); err != nil {
		t.Fatal(err)
	}
	importing := program(t, home, "import", sheet, "--supplier", "Brackwell", "--accept", "swapped-columns")
	if err := importing.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- importing.Wait() }()
	for {
		select {
		case <-ended:
			return ""
		default:
		}
		if at.reached(home) {
			importing.Process.Signal(signal)
			<-ended
			return home
		}
		time.Sleep(50 * time.Microsecond)
	}
}

// An import that is killed or interrupted at any boundary of its stages leaves
// nothing of the new sheet or all of it, and the next import does the rest.
func TestAnImportStoppedAtAnyStageLeavesNothingOrAll(t *testing.T) {
	dir := t.TempDir()
	base := filepath.Join(dir, "base")
	oldest, first, second := filepath.Join(dir, "oldest.csv"), filepath.Join(dir, "first.csv"), filepath.Join(dir, "second.csv")
	writeList(t, oldest, 1000, 80)
	writeList(t, first, 1000, 82)
	writeList(t, second, 5_000, 88)
	for _, path := range []string{oldest, first} {
		run(t, base, 0, "import", path, "--supplier", "Brackwell")
	}
	for _, how := range []struct {
		name   string
		signal os.Signal
		only   int // every how many boundaries
	}{{"killed", syscall.SIGKILL, 1}, {"interrupted", syscall.SIGINT, 4}} {
		for i := 0; i < len(boundaries()); i += how.only {
			at := boundaries()[i]
			t.Run(how.name+" when "+at.name, func(t *testing.T) {
				home := ""
				for tries := 0; home == ""; tries++ {
					if tries == 5 {
						t.Fatal("five imports ended before this boundary was seen")
					}
					home = stopAt(t, base, second, boundaries()[i], how.signal)
				}
				was := state(t, home, "BK-004999")
				if want := map[bool]string{true: "new", false: "old"}; at.name != "the commit is under way" && was != want[i == len(boundaries())-1] {
					t.Errorf("the catalogue is the %s one", was)
				}
				run(t, home, 0, "import", second, "--supplier", "Brackwell", "--accept", "swapped-columns")
				if now := state(t, home, "BK-004999"); now != "new" {
					t.Errorf("after importing again the catalogue is the %s one", now)
				}
				if left, _ := filepath.Glob(filepath.Join(home, "staging", "*")); len(left) > 0 {
					t.Errorf("left behind: %v", left)
				}
			})
		}
	}
}
