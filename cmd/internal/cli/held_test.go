package cli

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// caller calls fitfill on one catalogue and compares the exit code.
func caller(t *testing.T) func(want int, args ...string) string {
	t.Helper()
	home := t.TempDir()
	return func(want int, args ...string) string {
		t.Helper()
		code, out, errs := call(t, append([]string{"--home", home}, args...)...)
		if code != want {
			t.Fatalf("%v: exit code %d, want %d\n%s%s", args, code, want, out, errs)
		}
		return out + errs
	}
}

func writeSheet(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

const dirtyList = "Number;Type;Price (EUR);Engine;Years\n" +
	"BK-1;thermostat;12,50;ZQ9;1999-2004\n" + // line 2
	"BK-2;thermostat;dear;ZQ9;1999-2004\n" + // 3
	"3,2E+08;thermostat;14,50;ZQ9;1999-2004\n" + // 4
	"BK-4;thermostat;15,50;ZQ9;2004-1999\n" + // 5
	"BK-5;thermostat;16,50;ZQ9\n" + // 6: a cell is missing
	"BK-6;seal;1,50;ZQ9;1999-2004\n" // 7

// heldSheet writes out the held rows and returns them with their heading.
func heldSheet(t *testing.T, expect func(int, ...string) string, args ...string) [][]string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "held.csv")
	expect(exitYes, append([]string{"held", "--out", path}, args...)...)
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// saved writes rows the way a program for tables on a machine with decimal
// commas does: semicolons, quotation marks only where needed, a byte order mark.
func saved(t *testing.T, name string, rows [][]string) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("\ufeff")
	w := csv.NewWriter(&b)
	w.Comma, w.UseCRLF = ';', true
	if err := w.WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return writeSheet(t, name, b.String())
}

func counts(t *testing.T, out string) (taken, held, corrected int) {
	t.Helper()
	var a struct {
		Taken     int `json:"rows_taken"`
		Held      int `json:"rows_held"`
		Corrected int `json:"rows_corrected"`
	}
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatalf("%v in\n%s", err, out)
	}
	return a.Taken, a.Held, a.Corrected
}

func TestHeldRowsComeBackCorrected(t *testing.T) {
	expect := caller(t)
	dirty := writeSheet(t, "dirty.csv", dirtyList)
	expect(exitHeld, "import", dirty, "--supplier", "Brackwell")
	rows := heldSheet(t, expect)
	if len(rows) != 5 || rows[0][0] != "row ref" || rows[0][2] != "Number" {
		t.Fatalf("held rows %q", rows)
	}
	byLine := map[string][]string{}
	for _, r := range rows[1:] {
		byLine[strings.Split(r[0], "-")[1]] = r
	}
	byLine["3"][4] = "13,50"
	byLine["4"][2] = "BK-3"
	byLine["5"][6] = "still wrong" // and line 6 is left as it is
	done := saved(t, "corrected.csv", rows)
	taken, held, corrected := counts(t, expect(exitHeld, "import", done, "--json"))
	if taken != 4 || held != 2 || corrected != 2 {
		t.Errorf("taken %d, held %d, corrected %d", taken, held, corrected)
	}
	if out := expect(exitYes, "find", "BK-3"); !strings.Contains(out, "14.50 EUR") {
		t.Errorf("the corrected number is not found:\n%s", out)
	}
	// Whoever asks why is shown the line of the list and what was put in its place.
	out := expect(exitYes, "fit", "ZQ9", "--part", "BK-3", "--json")
	if !strings.Contains(out, `"line": 4`) || !strings.Contains(out, "3,2E+08;") || !strings.Contains(out, "to: BK-3 | thermostat") {
		t.Errorf("where the corrected row comes from:\n%s", out)
	}
	if out := expect(exitHeld, "import", done); !strings.Contains(out, "2 unchanged") && !strings.Contains(out, "4 unchanged") {
		t.Errorf("the same corrections again:\n%s", out)
	}
	if out := expect(exitYes, "held"); !strings.Contains(out, "line 5") || !strings.Contains(out, "line 6") || strings.Contains(out, "line 4") {
		t.Errorf("held now:\n%s", out)
	}
	// The sheet has another number now; the old one still leads to it.
	expect(exitHeld, "held", "fix", "1", "5", "years=1999-2004")
	expect(exitYes, "held", "fix", "1", "6", "Years=1999-2004")
	if out := expect(exitYes, "held"); !strings.Contains(out, "No row") {
		t.Errorf("held at the end:\n%s", out)
	}
	if out := expect(exitYes, "import", dirty, "--supplier", "Brackwell"); !strings.Contains(out, "6 taken, 0 held") {
		t.Errorf("the list itself again undoes the corrections:\n%s", out)
	}
	if out := expect(exitYes, "doctor"); !strings.Contains(out, "0 things are wrong") {
		t.Error(out)
	}
}

func TestCorrectionsAreTakenBackOneByOne(t *testing.T) {
	expect := caller(t)
	expect(exitYes, "import", writeSheet(t, "old.csv", strings.ReplaceAll(dirtyList[:76], "12,50", "11,50")), "--supplier", "Brackwell")
	expect(exitHeld, "import", writeSheet(t, "dirty.csv", dirtyList), "--supplier", "Brackwell")
	expect(exitHeld, "held", "fix", "2", "3", "Price (EUR)=13,50")
	expect(exitHeld, "held", "fix", "2", "4", "Number=BK-3")
	expect(exitYes, "sheets", "undo", "4")
	if out := expect(exitYes, "held", "--all"); strings.Contains(out, "line 3") || !strings.Contains(out, "line 4") {
		t.Errorf("after the second correction was taken back:\n%s", out)
	}
	expect(exitYes, "sheets", "undo", "3")
	if out := expect(exitYes, "held", "--all"); !strings.Contains(out, "line 3") {
		t.Errorf("after both were taken back:\n%s", out)
	}
	expect(exitYes, "sheets", "undo", "2")
	if out := expect(exitYes, "find", "BK-1"); !strings.Contains(out, "11.50 EUR") {
		t.Errorf("the list before is not back:\n%s", out)
	}
	expect(exitHeld, "import", writeSheet(t, "dirty.csv", dirtyList), "--supplier", "Brackwell")
	if out := expect(exitYes, "doctor"); !strings.Contains(out, "0 things are wrong") {
		t.Error(out)
	}
}

func TestCorrectionsWithoutAPlace(t *testing.T) {
	expect := caller(t)
	expect(exitHeld, "import", writeSheet(t, "dirty.csv", dirtyList), "--supplier", "Brackwell")
	rows := heldSheet(t, expect)
	rows[1][4] = "13,50"
	rows = append(rows, append([]string(nil), rows[2]...)) // line 4 twice
	out := expect(exitStaged, "import", saved(t, "twice.csv", rows), "--json")
	if !strings.Contains(out, `"gate": "without-strays"`) || !strings.Contains(out, "2 rows of twice.csv cannot be placed") {
		t.Errorf("rows without a place:\n%s", out)
	}
	if taken, held, _ := counts(t, expect(exitHeld, "sheets", "accept", stagedID(t, out), "--json")); taken != 3 || held != 3 {
		t.Errorf("taken %d, held %d", taken, held)
	}
	short := [][]string{rows[0][:5], rows[2][:5]}
	if out := expect(exitUsage, "import", saved(t, "short.csv", short)); !strings.Contains(out, `no column "Engine"`) {
		t.Errorf("a column less:\n%s", out)
	}
	next := strings.ReplaceAll(strings.ReplaceAll(dirtyList, "12,50", "12,60"), "dear", "13,40")
	expect(exitHeld, "import", writeSheet(t, "next.csv", next), "--supplier", "Brackwell")
	if out := expect(exitUsage, "import", saved(t, "late.csv", rows[:2])); !strings.Contains(out, "not in use") {
		t.Errorf("corrections of a list that was replaced:\n%s", out)
	}
}

func TestAlikeHeldRowsStandTogetherAndAreWaivedTogether(t *testing.T) {
	expect := caller(t)
	var b strings.Builder
	b.WriteString("Number;Type;Price (EUR);Engine\n")
	for i := range 40 {
		price := "12,50"
		if i%4 == 0 {
			price = "#N/A"
		}
		fmt.Fprintf(&b, "BK-%d;thermostat;%s;ZQ9\n", i, price)
	}
	expect(exitHeld, "import", writeSheet(t, "alike.csv", b.String()), "--supplier", "Brackwell")
	out := expect(exitYes, "held")
	if !strings.Contains(out, "10 rows (lines 2, 6, 10, 14, 18 ...), column \"Price (EUR)\"") || strings.Count(out, "#N/A") > 2 {
		t.Errorf("alike rows:\n%s", out)
	}
	if all := expect(exitYes, "held", "--all"); strings.Count(all, "  line ") != 10 {
		t.Errorf("all rows:\n%s", all)
	}
	code := out[strings.LastIndex(out, "[")+1 : strings.LastIndex(out, "]")]
	expect(exitUsage, "held", "waive", "1", "--problem", code)
	expect(exitUsage, "held", "waive", "1", "--problem", "no-such", "--reason", "x")
	expect(exitHeld, "held", "fix", "1", "2", "Price (EUR)=12,50")
	if out := expect(exitYes, "held", "waive", "1", "--problem", code, "--reason", "not sold here"); !strings.Contains(out, "9 rows") {
		t.Errorf("waived:\n%s", out)
	}
	if out := expect(exitYes, "held"); !strings.Contains(out, "No row") {
		t.Errorf("held after that:\n%s", out)
	}
}

func TestHeldRowsOfSeveralSheetsGoIntoSeveralFiles(t *testing.T) {
	expect := caller(t)
	expect(exitHeld, "import", writeSheet(t, "a.csv", dirtyList), "--supplier", "Brackwell")
	expect(exitHeld, "import", writeSheet(t, "b.csv", dirtyList), "--supplier", "Ostrel")
	if out := expect(exitUsage, "held", "--out", filepath.Join(t.TempDir(), "x.csv")); !strings.Contains(out, "--sheet 1") {
		t.Errorf("which one:\n%s", out)
	}
	rows := heldSheet(t, expect, "--sheet", "2")
	rows[1][4] = "13,50"
	done := saved(t, "corrected.csv", rows)
	if out := expect(exitStaged, "import", done); !strings.Contains(out, "Brackwell, Ostrel") {
		t.Errorf("one file of two suppliers:\n%s", out)
	}
	expect(exitHeld, "import", done, "--supplier", "Ostrel")
	if out := expect(exitYes, "held", "--sheet", "1"); !strings.Contains(out, "line 3") {
		t.Errorf("the other supplier's sheet was touched:\n%s", out)
	}
	expect(exitUsage, "held", "fix", "1", "3", "Prise=1")
	expect(exitUsage, "held", "fix", "1", "2", "Number=1")
}
