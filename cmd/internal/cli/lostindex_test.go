package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestALostIndexIsBuiltAnew(t *testing.T) {
	home := t.TempDir()
	call(t, "--home", home, "import", stagedList(t, "jan.csv", 5, 12), "--supplier", "Brackwell")
	folders, err := filepath.Glob(filepath.Join(home, "index", "*"))
	if err != nil || len(folders) == 0 {
		t.Fatal(folders, err)
	}
	for _, f := range folders {
		if err := os.RemoveAll(f); err != nil {
			t.Fatal(err)
		}
	}
	if got := priceOf(t, home, "BK-004"); got != "12.04 EUR" {
		t.Errorf("price %s", got)
	}
}

// What lies in an index folder beside the index itself is the index's too.
func TestASpoiltFileOfAnIndexIsFoundAndBuiltAnew(t *testing.T) {
	home := t.TempDir()
	call(t, "--home", home, "import", stagedList(t, "jan.csv", 5, 12), "--supplier", "Brackwell")
	_, want, _ := call(t, "--home", home, "find", "thermostat")
	files, err := filepath.Glob(filepath.Join(home, "index", "*", "fitfill-[oc]*"))
	if err != nil || len(files) != 2 {
		t.Fatal(files, err)
	}
	for n, name := range []string{filepath.Base(files[0]), filepath.Base(files[1])} {
		files, err := filepath.Glob(filepath.Join(home, "index", "*", name))
		if err != nil || len(files) != n+1 { // the generation before is kept
			t.Fatal(files, err)
		}
		for _, f := range files {
			if err := os.WriteFile(f, []byte(strings.Repeat("\xff", 60)), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if code, out, _ := call(t, "--home", home, "doctor"); code != exitNo || !strings.Contains(out, "the search index is damaged") {
			t.Errorf("%s: exit code %d\n%s", name, code, out)
		}
		if _, got, errs := call(t, "--home", home, "find", "thermostat"); got != want {
			t.Errorf("%s: %s%s", name, got, errs)
		}
		if code, out, _ := call(t, "--home", home, "doctor"); code != exitYes {
			t.Errorf("%s: exit code %d\n%s", name, code, out)
		}
	}
}
