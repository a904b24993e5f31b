package cli

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fitfill/data/demo"
)

type auditJSON struct {
	Supplier string
	Rule     string
	Findings []struct {
		Check, Supplier, Number, Engine, Says string
		Lines                                 []struct {
			Sheet, Text string
			Line        int
		}
		Cost struct{ Bought, Engines, Parts int }
	}
}

func auditOf(t *testing.T, home string, args ...string) (int, auditJSON, []string) {
	t.Helper()
	code, out, errs := call(t, append([]string{"--home", home, "--json", "sheets", "audit"}, args...)...)
	var a auditJSON
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatalf("%v in\n%s%s", err, out, errs)
	}
	var list []string
	for _, f := range a.Findings {
		list = append(list, strings.TrimSpace(fmt.Sprintf("%s %s %s: %s line %d", f.Supplier, f.Number, f.Check, f.Lines[0].Sheet, f.Lines[0].Line)))
	}
	return code, a, list
}

// Every planted mistake of the demo's lists that other facts contradict is found
// on its line, and nothing else.
func TestAuditFindsThePlantedMistakes(t *testing.T) {
	code, a, got := auditOf(t, demoHome(t))
	want := []string{
		"Ostrel OS 1954 refuted: flange and bore: ostrel.csv line 2",
		"Ostrel OS 1600 refuted: opening temperature: ostrel.csv line 8",
		"Ostrel OS 1880 refuted: opening temperature: ostrel.csv line 22",
		"Ostrel OS 1800 odd: years: ostrel.csv line 6",
		"Ostrel OS R142 refuted: O-ring in its groove: ostrel.csv line 28",
		"Ostrel OS K15 refuted: cap rating: ostrel.csv line 58",
		"Grauvelt GV 20-231 refuted: O-ring in its groove: grauvelt.csv line 28",
		"torque: engines.csv line 5",
		"Quillmar  slip: quillmar.csv line 26",
		"Tessimor  slip: tessimor.csv line 14",
	}
	sorted := slices.Clone(got)
	slices.Sort(sorted)
	slices.Sort(want)
	if !slices.Equal(sorted, want) {
		t.Errorf("found\n  %s\nwant\n  %s", strings.Join(sorted, "\n  "), strings.Join(want, "\n  "))
	}
	if code != exitNo || !strings.Contains(a.Rule, "most costly first") {
		t.Errorf("exit code %d, rule %q", code, a.Rule)
	}
	for i := 1; i < len(a.Findings); i++ {
		if a.Findings[i].Cost.Bought > a.Findings[i-1].Cost.Bought {
			t.Errorf("%s stands behind what fewer pieces hang on", got[i])
		}
	}
	if a.Findings[0].Cost.Bought == 0 {
		t.Error("no pieces were counted")
	}
}

func TestAuditIsASheetToSendBack(t *testing.T) {
	file := filepath.Join(t.TempDir(), "back.csv")
	code, out, errs := call(t, "--home", demoHome(t), "sheets", "audit", "--supplier", "ostrel", "--out", file)
	if code != exitNo || !strings.Contains(out, "in the sheets of Ostrel") || !strings.Contains(out, "to send back") {
		t.Errorf("exit code %d\n%s%s", code, out, errs)
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := demo.FS.ReadFile("ostrel.csv")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(sheet), "\n")
	for _, r := range rows[1:] {
		var n int
		if _, err := fmt.Sscan(r[2], &n); err != nil || r[0] != "Ostrel" || r[1] != "ostrel.csv" {
			t.Fatalf("%v", r)
		}
		if strings.TrimRight(r[7], "\r") != strings.TrimRight(lines[n-1], "\r") {
			t.Errorf("line %d is sent back as %q", n, r[7])
		}
	}
	if len(rows) < 11 {
		t.Errorf("%d rows", len(rows))
	}
	for _, word := range []string{"Quillmar", "Grauvelt", "D 0", "D0"} { // other suppliers, vehicles
		if strings.Contains(string(text), word) {
			t.Errorf("the sheet speaks of %q:\n%s", word, text)
		}
	}
	if code, _, errs := call(t, "--home", demoHome(t), "sheets", "audit", "--out", file); code != exitUsage || !strings.Contains(errs, "exists already") {
		t.Errorf("a file that is there: exit code %d, %s", code, errs)
	}
}

func TestAuditGuardsCellsThatASpreadsheetWouldRun(t *testing.T) {
	home := importTexts(t, [3]string{"engines.csv", "--as engines", chainEngines},
		[3]string{"kemmel.csv", "--supplier Kemmel", "number,type,description,opening_temp (°C),engine\nT-1,thermostat,stat,102,KR6\n"},
		[3]string{"varn.csv", "--supplier Varn", "description,number,type,opening_temp (°C),engine\n-12 or so,V-1,thermostat,102,KR6\n"})
	file := filepath.Join(t.TempDir(), "back.csv")
	call(t, "--home", home, "sheets", "audit", "--supplier", "Varn", "--out", file)
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil || len(rows) != 2 {
		t.Fatalf("%v %q", err, rows)
	}
	for _, cell := range rows[1] {
		if strings.HasPrefix(cell, "-") {
			t.Errorf("a cell begins a formula: %q", cell)
		}
	}
}

func TestAuditOfSoundSheets(t *testing.T) {
	home := importTexts(t, [3]string{"engines.csv", "--as engines", chainEngines},
		[3]string{"kemmel.csv", "--supplier Kemmel", "number,type,opening_temp (°C),flange_diameter (mm),engine\nT-1,thermostat,82,54.0,KR6\n"})
	code, out, errs := call(t, "--home", home, "sheets", "audit")
	if code != exitYes || !strings.Contains(out, "1 listing for 1 engine looked through: nothing contradicts") {
		t.Errorf("exit code %d\n%s%s", code, out, errs)
	}
}

// Without the mapping of its column of full-open temperatures, Tessimor's whole
// column lies 11 to 15 K above everybody else's.
func TestAuditFindsAColumnOfFullOpenTemperatures(t *testing.T) {
	home := t.TempDir()
	for _, s := range demo.Sheets {
		if s.As != "supplier" && s.As != "engines" {
			continue
		}
		raw, err := demo.FS.ReadFile(s.File)
		if err != nil {
			t.Fatal(err)
		}
		s.Maps = slices.Clone(s.Maps)
		for i, m := range s.Maps {
			if s.Supplier == "Tessimor" && m == "full_open_temp=temp" {
				s.Maps[i] = "opening_temp=temp"
			}
		}
		if code, a := importDemo(t, home, s, raw); code != exitYes && code != exitHeld {
			t.Fatalf("%s: exit code %d, %v", s.File, code, a["open"])
		}
	}
	_, a, _ := auditOf(t, home, "--supplier", "Tessimor")
	for _, f := range a.Findings {
		if f.Check == "column: full-open temperature" && strings.Contains(f.Says, "--map full_open_temp") {
			return
		}
	}
	t.Errorf("not found: %+v", a.Findings)
}

func TestAuditFindsReferencesThatCannotBeRight(t *testing.T) {
	home := importTexts(t, [3]string{"engines.csv", "--as engines", chainEngines}, [3]string{"kemmel.csv", "--supplier Kemmel", chainList}, [3]string{"varn.csv", "--supplier Varn", chainOthers})
	_, _, got := auditOf(t, home)
	for _, want := range []string{"Varn V-2, V-3 cross-reference: varn.csv line 4", "Kemmel T-400, T-401 supersession: kemmel.csv line 5"} {
		if !slices.ContainsFunc(got, func(s string) bool { return strings.Contains(s, want) }) {
			t.Errorf("no %q in %q", want, got)
		}
	}
}
