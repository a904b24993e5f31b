package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Customers and vehicles stay in the data folder unless they are asked for.
func TestExportsNameNoVehiclesUnlessAsked(t *testing.T) {
	home, dir := ownDemo(t), t.TempDir()
	sheet := filepath.Join(dir, "bay.csv")
	if err := os.WriteFile(sheet, []byte("date,vehicle,number,volume (L)\n2026-03-30,D 09,PR-IA50-5,0.5\n2026-03-32,D 09,PR-IHC-5G,0.5\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	id := jsonText(t, answer(t, home, 5, "import", sheet, "--as", "fills")["id"])
	out := func(name string) string { return filepath.Join(dir, name) }
	code, _, errs := call(t, "--home", home, "held", "--sheet", id, "--out", out("held.csv"))
	if code != 2 || !strings.Contains(errs, "--with-vehicles") {
		t.Errorf("held rows of fills: %d %s", code, errs)
	}
	answer(t, home, 0, "held", "--sheet", id, "--out", out("held.csv"), "--with-vehicles")
	t.Setenv("FITFILL_EXPORT_VEHICLES", "yes")
	answer(t, home, 0, "held", "--sheet", id, "--out", out("held2.csv"))
	t.Setenv("FITFILL_EXPORT_VEHICLES", "perhaps")
	answer(t, home, 2, "held")
	t.Setenv("FITFILL_EXPORT_VEHICLES", "no")

	answer(t, home, 0, "fill", "add", "D 07", "water", "--volume", "1L", "--note", "D 07")
	answer(t, home, 0, "comeback", "QM-1030", "--reason", "leaks", "--vehicle", "D 07", "--note", "D 07 again")
	for name, args := range map[string][]string{
		"suppliers.csv": {"suppliers", "--csv", out("suppliers.csv")},
		"audit.csv":     {"sheets", "audit", "--out", out("audit.csv")},
		"job.html":      {"job", "TKV30", "thermostat", "--out", out("job.html")},
		"job.csv":       {"job", "TKV30", "thermostat", "--out", out("job.csv")},
		"tag.html":      {"vehicle", "tag", "D 07", "--out", out("tag.html")},
		"engines.csv":   {"sheets", "template", "engines", "--from-lists", "--out", out("engines.csv")},
	} {
		code, _, errs := call(t, append([]string{"--home", home}, args...)...)
		raw, err := os.ReadFile(out(name))
		if err != nil {
			t.Errorf("%v ended with %d: %v %s", args, code, err, errs)
			continue
		}
		if at := traceOfD07.FindIndex(raw); at != nil {
			t.Errorf("%s names a vehicle: %q", name, raw[max(0, at[0]-60):min(len(raw), at[1]+60)])
		}
	}
}
