package cli

import (
	"bytes"
	"compress/flate"
	"database/sql"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	_ "modernc.org/sqlite"
)

// everyText returns all that the catalogue of a data folder holds, unpacked.
func everyText(t *testing.T, home string) string {
	t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(home, "catalogue.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var all strings.Builder
	var tables []string
	rows, err := db.Query("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
	if err != nil {
		t.Fatal(err)
	}
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			t.Fatal(err)
		}
		tables = append(tables, name)
	}
	for _, table := range tables {
		rows, err := db.Query("SELECT * FROM " + table)
		if err != nil {
			t.Fatal(err)
		}
		columns, err := rows.Columns()
		if err != nil {
			t.Fatal(err)
		}
		for rows.Next() {
			cells := make([]any, len(columns))
			to := make([]any, len(columns))
			for i := range cells {
				to[i] = &cells[i]
			}
			if err := rows.Scan(to...); err != nil {
				t.Fatal(err)
			}
			for _, c := range cells {
				switch c := c.(type) {
				case string:
					all.WriteString(c + "\n")
				case []byte:
					all.Write(c)
					if text, err := io.ReadAll(flate.NewReader(bytes.NewReader(c))); err == nil {
						all.Write(text)
					}
					all.WriteByte('\n')
				}
			}
		}
		if err := rows.Err(); err != nil {
			t.Fatal(err)
		}
	}
	return all.String()
}

// D 07 in any spelling, and its VIN.
var traceOfD07 = regexp.MustCompile(`(?i)(^|[^\pL\pN])D[^\pL\pN\r\n]{0,2}07($|[^\pL\pN])|Z0XBR30T6W1000707`)

func TestVehicleForgetLeavesNoTrace(t *testing.T) {
	home := ownDemo(t)
	answer(t, home, 0, "fill", "add", "D 07", "water", "--volume", "1L", "--note", "D-07 came low, customer of D 07")
	answer(t, home, 0, "fit", "--vehicle", "D 07", "--type", "thermostat")
	answer(t, home, 0, "comeback", "QM-1030", "--reason", "leaks", "--vehicle", "D07", "--note", "d07 again")
	path := filepath.Join(t.TempDir(), "bay.csv")
	sheet := "date;vehicle;number;volume (L);customer\n2026-03-30;D 07;PR-IA50-5;0,5;A customer of D07\n2026-03-31;D 09;PR-IHC-5G;0,5;Another\n2026-03-32;D 07;PR-IA50-5;0,5;held for its day\n"
	if err := os.WriteFile(path, []byte(sheet), 0o644); err != nil {
		t.Fatal(err)
	}
	answer(t, home, 5, "import", path, "--as", "fills", "--ignore", "customer")
	if !traceOfD07.MatchString(everyText(t, home)) || !strings.Contains(everyText(t, home), "A customer of") {
		t.Fatal("the test finds no trace of the vehicle before it is forgotten")
	}
	before := supplierScore(t, home, "Quillmar")
	answer(t, home, 2, "vehicle", "forget", "D 07")
	a := answer(t, home, 0, "vehicle", "forget", "D 07", "--yes")
	if a["as"] != "forgotten 1" || a["remarks"] != true || a["complete"] != true || len(a["sheets"].([]any)) != 5 {
		t.Errorf("%v", a)
	}
	text := everyText(t, home)
	if at := traceOfD07.FindStringIndex(text); at != nil {
		t.Errorf("a trace is left: %q", text[max(0, at[0]-80):min(len(text), at[1]+80)])
	}
	if strings.Contains(text, "A customer of") || !strings.Contains(text, "Another") {
		t.Error("columns that nothing reads were not blanked in its rows, or in those of others")
	}
	err := filepath.WalkDir(home, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		raw, err := os.ReadFile(name)
		if at := traceOfD07.FindIndex(raw); at != nil {
			t.Errorf("a trace is left in the bytes of %s: %q", name, raw[max(0, at[0]-40):min(len(raw), at[1]+40)])
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}

	if code, out, errs := call(t, "--home", home, "doctor"); code != 0 {
		t.Errorf("doctor ended with %d:\n%s%s", code, out, errs)
	}
	answer(t, home, 4, "vehicle", "show", "D 07")
	card := answer(t, home, 0, "vehicle", "show", "forgotten 1")
	if len(card["comebacks"].([]any)) != 4 || len(card["fitted"].([]any)) != 3 || card["engine"] != "TKV30" || card["vin"] != "" {
		t.Errorf("its history: %v", card)
	}
	if after := supplierScore(t, home, "Quillmar"); jsonText(t, after["sold"]) != jsonText(t, before["sold"]) || jsonText(t, after["faulty"]) != jsonText(t, before["faulty"]) {
		t.Errorf("the figures changed: %v, before %v", after, before)
	}
	if a := answer(t, home, 0, "vehicle", "show", "D 09"); a["vin"] != "Z0XST42G4Y1000909" {
		t.Errorf("another vehicle lost something: %v", a)
	}
}

// The held row of a sheet that was written over can still be corrected.
func TestHeldRowsOutliveAForgottenVehicle(t *testing.T) {
	home := ownDemo(t)
	path := filepath.Join(t.TempDir(), "bay.csv")
	sheet := "date,vehicle,number,volume (L)\n2026-03-30,D 07,PR-IA50-5,0.5\n2026-03-32,D 09,PR-IHC-5G,0.5\n"
	if err := os.WriteFile(path, []byte(sheet), 0o644); err != nil {
		t.Fatal(err)
	}
	a := answer(t, home, 5, "import", path, "--as", "fills")
	answer(t, home, 0, "vehicle", "forget", "D 07", "--yes")
	answer(t, home, 0, "held", "fix", jsonText(t, a["id"]), "3", "date=2026-03-31")
	if code, out, errs := call(t, "--home", home, "doctor"); code != 0 {
		t.Errorf("doctor ended with %d:\n%s%s", code, out, errs)
	}
	if fills := answer(t, home, 0, "fill", "list", "D 09")["fills"].([]any); len(fills) != 2 {
		t.Errorf("%v", fills)
	}
}

// While a sheet waits that names the vehicle, nothing is forgotten.
func TestForgetWaitsForTheSheetThatWaits(t *testing.T) {
	home := ownDemo(t)
	path := filepath.Join(t.TempDir(), "bay.csv")
	if err := os.WriteFile(path, []byte("date,vehicle,number,volume (L)\n2026-03-30,D 07,PR-IA50-5,0.5\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	answer(t, home, 7, "import", path, "--as", "fills", "--check")
	code, _, errs := call(t, "--home", home, "vehicle", "forget", "D 07", "--yes")
	if code != 2 || !strings.Contains(errs, "sheets drop") {
		t.Errorf("%d %s", code, errs)
	}
	answer(t, home, 0, "vehicle", "show", "D 07")
}
