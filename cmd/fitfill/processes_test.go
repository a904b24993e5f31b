package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// asProgram makes the test binary play the program itself, so that the tests
// below run real processes without building anything.
const asProgram = "FITFILL_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
	}
	os.Exit(m.Run())
}

func program(t *testing.T, home string, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(self, append([]string{"--home", home}, args...)...)
	c.Env = append(os.Environ(), asProgram+"=1")
	return c
}

// run runs the program to its end and returns what it printed; any exit code
// but those wanted fails the test.
func run(t *testing.T, home string, want int, args ...string) string {
	t.Helper()
	var out bytes.Buffer
	c := program(t, home, args...)
	c.Stdout, c.Stderr = &out, &out
	err := c.Run()
	var exit *exec.ExitError
	code := 0
	if errors.As(err, &exit) {
		code = exit.ExitCode()
	} else if err != nil {
		t.Fatal(err)
	}
	if code != want {
		t.Fatalf("fitfill %s ended with %d, want %d:\n%s", strings.Join(args, " "), code, want, out.String())
	}
	return out.String()
}

// writeList writes a supplier's list of n parts, every tenth listed for engine
// ZQ9, all with the same opening temperature.
func writeList(t *testing.T, path string, n int, celsius int) {
	t.Helper()
	var b strings.Builder
	b.WriteString("Part number,Type,Description,Opening temperature (°C),Make,Model,Years,Engine\n")
	for i := range n {
		engine := fmt.Sprintf("E%d", i%5000)
		if i < 10 {
			engine = "ZQ9"
		}
		fmt.Fprintf(&b, "BK-%06d,thermostat,Thermostat no. %d,%d,Tarn,Moor,1999-2004,%s\n", i, i, celsius, engine)
	}
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

type fitJSON struct {
	Answers []struct {
		Number   string
		Outcome  string
		Findings []struct{ Check, Says string }
	}
}

// cites tells from the lines that the answers cite which sheets they rest on.
func cites(out string) (first, second bool) {
	return strings.Contains(out, ",82,Tarn"), strings.Contains(out, ",88,Tarn")
}

// Two processes read while a third imports 100,000 rows. Every reading must
// succeed and see one of the two catalogues whole.
func TestTwoProcessesReadWhileAThirdImports(t *testing.T) {
	dir := t.TempDir()
	home := filepath.Join(dir, "home")
	first, second := filepath.Join(dir, "first.csv"), filepath.Join(dir, "second.csv")
	writeList(t, first, 1000, 82)
	writeList(t, second, 100_000, 88)
	run(t, home, 0, "import", first, "--supplier", "Brackwell")

	importing := program(t, home, "import", second, "--supplier", "Brackwell")
	var printed bytes.Buffer
	importing.Stdout, importing.Stderr = &printed, &printed
	if err := importing.Start(); err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() { done <- importing.Wait() }()

	type reading struct {
		took  time.Duration
		err   error
		parts int
	}
	readings := make(chan reading)
	stop := make(chan struct{})
	read := func() {
		for {
			select {
			case <-stop:
				readings <- reading{parts: -1}
				return
			default:
			}
			begin := time.Now()
			out, err := program(t, home, "fit", "ZQ9", "--type", "thermostat", "--json").Output()
			r := reading{took: time.Since(begin), err: err}
			var a fitJSON
			if r.err == nil {
				r.err = json.Unmarshal(out, &a)
			}
			r.parts = len(a.Answers)
			if first, second := cites(string(out)); r.err == nil && first == second {
				r.err = fmt.Errorf("an answer cites the first sheet: %v, the second: %v", first, second)
			}
			readings <- r
		}
	}
	go read()
	go read()
	count, slowest, readers := 0, time.Duration(0), 2
	var finished bool
	for readers > 0 {
		select {
		case err := <-done:
			if err != nil {
				t.Errorf("the import failed: %v\n%s", err, printed.String())
			}
			finished = true
			close(stop)
		case r := <-readings:
			if r.parts == -1 {
				readers--
				continue
			}
			if r.err != nil || r.parts != 10 {
				t.Errorf("a reading found %d parts of 10: %v", r.parts, r.err)
			}
			if !finished {
				count++
			}
			slowest = max(slowest, r.took)
		}
	}
	if count < 2 {
		t.Errorf("only %d readings ended while the import ran", count)
	}
	t.Logf("%d readings by two processes while 100,000 rows were imported; the slowest took %v", count, slowest.Round(time.Millisecond))
	if out := run(t, home, 0, "find", "BK-099999", "--json"); !strings.Contains(out, `"number": "BK-099999"`) {
		t.Errorf("the imported part is not found:\n%s", out)
	}
}

// A process that is killed in the middle of an import leaves the catalogue as
// it was, whole and readable, and the next import is not in its way.
func TestAKilledImportLeavesTheOldCatalogue(t *testing.T) {
	dir := t.TempDir()
	home := filepath.Join(dir, "home")
	first, second := filepath.Join(dir, "first.csv"), filepath.Join(dir, "second.csv")
	writeList(t, first, 1000, 82)
	writeList(t, second, 30_000, 88)
	run(t, home, 0, "import", first, "--supplier", "Brackwell")

	killed := 0
	for _, after := range []time.Duration{50, 150, 300, 500, 700, 900} {
		importing := program(t, home, "import", second, "--supplier", "Brackwell")
		if err := importing.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(after * time.Millisecond)
		if err := importing.Process.Kill(); err != nil && !errors.Is(err, os.ErrProcessDone) {
			t.Fatal(err)
		}
		if importing.Wait() != nil {
			killed++
		}
		var a fitJSON
		if err := json.Unmarshal([]byte(run(t, home, 0, "fit", "ZQ9", "--type", "thermostat", "--json")), &a); err != nil {
			t.Fatal(err)
		}
		if len(a.Answers) != 10 {
			t.Fatalf("killed after %d ms: %d parts of 10 are left", after, len(a.Answers))
		}
	}
	if killed == 0 {
		t.Error("no import was killed before it ended: let it have more rows")
	}
	run(t, home, 0, "import", second, "--supplier", "Brackwell")
	run(t, home, 0, "find", "BK-029999")
}
