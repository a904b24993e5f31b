package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// A restore that is killed at any moment leaves the catalogue that was there or
// the one of the backup, whole, and the next one goes through.
func TestARestoreThatIsKilledLeavesOneOfTwoCatalogues(t *testing.T) {
	dir := t.TempDir()
	base, backup := filepath.Join(dir, "base"), filepath.Join(dir, "shop.zip")
	first, second := filepath.Join(dir, "first.csv"), filepath.Join(dir, "second.csv")
	writeList(t, first, 300, 82)
	writeList(t, second, 400, 82)
	run(t, base, 0, "import", first, "--supplier", "Brackwell")
	run(t, base, 0, "backup", backup)
	run(t, base, 0, "import", second, "--supplier", "Brackwell")
	copied := func() string {
		home := filepath.Join(t.TempDir(), "home")
		if err := os.CopyFS(home, os.DirFS(base)); err != nil {
			t.Fatal(err)
		}
		return home
	}
	isNew := func(home string) bool {
		run(t, home, 0, "find", "thermostat") // the index may not have come along: a search builds it
		run(t, home, 0, "doctor")
		out, err := program(t, home, "find", "BK-000399").CombinedOutput()
		var exit *exec.ExitError
		if err != nil && (!errors.As(err, &exit) || exit.ExitCode() != 4) {
			t.Fatalf("%v %s", err, out)
		}
		return err != nil // the number came after the backup
	}
	begin := time.Now()
	run(t, copied(), 0, "restore", backup, "--replace")
	took := time.Since(begin)
	killed := 0
	const steps = 12
	for i := range steps {
		home := copied()
		restoring := program(t, home, "restore", backup, "--replace")
		if err := restoring.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(took * time.Duration(i+1) / steps)
		if err := restoring.Process.Kill(); err != nil && !errors.Is(err, os.ErrProcessDone) {
			t.Fatal(err)
		}
		ended := restoring.Wait()
		if ended != nil {
			killed++
		}
		if now := isNew(home); ended == nil && !now {
			t.Errorf("step %d: it was done, and the old catalogue is there", i)
		}
		run(t, home, 0, "restore", backup, "--replace")
		if !isNew(home) {
			t.Errorf("step %d: restored once more, the old catalogue is there", i)
		}
		if left, _ := filepath.Glob(filepath.Join(home, "restoring")); len(left) > 0 {
			t.Errorf("step %d: left %v", i, left)
		}
	}
	if killed == 0 {
		t.Error("no restore was killed before it ended")
	}
}
