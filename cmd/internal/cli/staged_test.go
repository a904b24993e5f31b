package cli

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitfill/data/demo"
)

// stagedList writes a supplier's list with one price for each part.
func stagedList(t *testing.T, name string, parts int, price float64) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("number,type,price (EUR),engine\n")
	for i := range parts {
		fmt.Fprintf(&b, "BK-%03d,thermostat,%.2f,ZQ9\n", i, price+float64(i)/100)
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func priceOf(t *testing.T, home, number string) string {
	t.Helper()
	_, out, _ := call(t, "--home", home, "--json", "find", number)
	var a struct{ Hits []struct{ Price string } }
	if err := json.Unmarshal([]byte(out), &a); err != nil || len(a.Hits) != 1 {
		t.Fatalf("%d hits, %v in\n%s", len(a.Hits), err, out)
	}
	return a.Hits[0].Price
}

func stagedID(t *testing.T, out string) string {
	t.Helper()
	var a struct {
		ID     int64
		Status string
	}
	if err := json.Unmarshal([]byte(out), &a); err != nil || a.Status != "staged" || a.ID == 0 {
		t.Fatalf("%+v, %v in\n%s", a, err, out)
	}
	return fmt.Sprint(a.ID)
}

// A sheet that runs into a gate changes nothing until somebody decides; then
// exactly that sheet is imported, and can be taken back.
func TestASheetWaitsForADecision(t *testing.T) {
	home := t.TempDir()
	expect := func(want int, args ...string) string {
		t.Helper()
		code, out, errs := call(t, append([]string{"--home", home}, args...)...)
		if code != want {
			t.Fatalf("%v: exit code %d, want %d\n%s%s", args, code, want, out, errs)
		}
		return out
	}
	expect(exitYes, "import", stagedList(t, "jan.csv", 30, 12), "--supplier", "Brackwell")
	dear := stagedList(t, "feb.csv", 30, 120)
	out := expect(exitStaged, "import", dear, "--supplier", "Brackwell", "--json")
	id := stagedID(t, out)
	if !strings.Contains(out, `"gate": "prices"`) {
		t.Errorf("the price gate is not named:\n%s", out)
	}
	if got := priceOf(t, home, "BK-000"); got != "12.00 EUR" {
		t.Errorf("a sheet that waits changed the price to %s", got)
	}
	if again := stagedID(t, expect(exitStaged, "import", dear, "--supplier", "Brackwell", "--json")); again != id {
		t.Errorf("the same sheet waits twice, as %s and %s", id, again)
	}
	if list := expect(exitYes, "sheets", "list"); !strings.Contains(list, "waiting") {
		t.Errorf("no sheet waits in\n%s", list)
	}
	if show := expect(exitYes, "sheets", "show", id); !strings.Contains(show, "--accept prices") {
		t.Errorf("the open question is missing in\n%s", show)
	}
	expect(exitYes, "sheets", "drop", id)
	expect(exitUsage, "sheets", "accept", id)

	id = stagedID(t, expect(exitStaged, "import", dear, "--supplier", "Brackwell", "--json"))
	expect(exitYes, "sheets", "accept", id)
	if got := priceOf(t, home, "BK-000"); got != "120.00 EUR" {
		t.Errorf("after accepting, the price is %s", got)
	}
	expect(exitYes, "sheets", "undo", id)
	if got := priceOf(t, home, "BK-000"); got != "12.00 EUR" {
		t.Errorf("after taking it back, the price is %s", got)
	}
	expect(exitYes, "import", dear, "--supplier", "Brackwell", "--accept", "prices")
	if got := priceOf(t, home, "BK-000"); got != "120.00 EUR" {
		t.Errorf("with --accept the price is %s", got)
	}
}

func TestGates(t *testing.T) {
	home := t.TempDir()
	call(t, "--home", home, "import", stagedList(t, "jan.csv", 40, 12), "--supplier", "Brackwell")
	for gate, path := range map[string]string{
		"fewer-rows":    stagedList(t, "few.csv", 21, 12),
		"missing-parts": stagedList(t, "less.csv", 35, 12),
		"prices":        stagedList(t, "cheap.csv", 40, 1.2),
	} {
		code, out, _ := call(t, "--home", home, "--json", "import", path, "--supplier", "Brackwell")
		if code != exitStaged || !strings.Contains(out, `"gate": "`+gate+`"`) {
			t.Errorf("%s: exit code %d in\n%s", gate, code, out)
		}
	}
	moved := stagedList(t, "moved.csv", 40, 12)
	raw, err := os.ReadFile(moved)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(moved, []byte(strings.Replace(string(raw), ",ZQ9", ",ZQ8", 3)), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, _ := call(t, "--home", home, "--json", "import", moved, "--supplier", "Brackwell")
	if code != exitStaged || !strings.Contains(out, `"gate": "fit"`) {
		t.Errorf("fit: exit code %d in\n%s", code, out)
	}
}

// The planted second list of a supplier: prices ten times too high.
func TestThePlantedLaterListWaits(t *testing.T) {
	home := t.TempDir()
	sheet, raw := demoSheet(t, "quillmar.csv")
	importDemo(t, home, sheet, raw)
	later, err := demo.FS.ReadFile(demo.Later.File)
	if err != nil {
		t.Fatal(err)
	}
	code, a := importDemo(t, home, demo.Later, later)
	if code != exitStaged || a["status"] != "staged" || !strings.Contains(fmt.Sprint(a["open"]), "146.00 EUR now") {
		t.Errorf("exit code %d, %v, %v", code, a["status"], a["open"])
	}
}

func TestTheSameFileAgainChangesNothing(t *testing.T) {
	home := t.TempDir()
	for _, s := range demo.Sheets[:3] {
		raw, err := demo.FS.ReadFile(s.File)
		if err != nil {
			t.Fatal(err)
		}
		importDemo(t, home, s, raw)
		if _, a := importDemo(t, home, s, raw); a["status"] != "unchanged" {
			t.Errorf("%s: %v", s.File, a["status"])
		}
	}
}

func TestASheetInAnotherEncodingIsAsked(t *testing.T) {
	home := t.TempDir()
	path := filepath.Join(t.TempDir(), "latin.csv")
	if err := os.WriteFile(path, []byte("number;type;description\nA-1;thermostat;Geh\xe4use 82 \xb0C\nA-2;thermostat;Dichtung\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, _ := call(t, "--home", home, "import", path, "--supplier", "Brackwell")
	if code != exitStaged || !strings.Contains(out, "--set encoding=") {
		t.Fatalf("exit code %d in\n%s", code, out)
	}
	if code, out, _ := call(t, "--home", home, "import", path, "--supplier", "Brackwell", "--set", "encoding=windows-1252"); code != exitYes {
		t.Fatalf("exit code %d in\n%s", code, out)
	}
	if _, out, _ := call(t, "--home", home, "find", "gehause"); !strings.Contains(out, "Gehäuse") {
		t.Errorf("no Gehäuse in\n%s", out)
	}
}

func TestAMisspeltSupplierInTheBooksIsAsked(t *testing.T) {
	home := t.TempDir()
	call(t, "--home", home, "import", stagedList(t, "jan.csv", 5, 12), "--supplier", "Brackwell")
	path := filepath.Join(t.TempDir(), "bought.csv")
	if err := os.WriteFile(path, []byte("date,supplier,number,quantity\n2025-01-02,Brackwel,BK-001,1\n2025-01-03,Brackwell,BK-002,1\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, _ := call(t, "--home", home, "import", path, "--as", "purchases")
	if code != exitStaged || !strings.Contains(out, `Is it "Brackwell"`) {
		t.Fatalf("exit code %d in\n%s", code, out)
	}
	call(t, "--home", home, "suppliers", "alias", "Brackwell", "Brackwel")
	if code, out, _ := call(t, "--home", home, "import", path, "--as", "purchases"); code != exitYes {
		t.Errorf("exit code %d in\n%s", code, out)
	}
}

func TestInspectWritesRowsAndLedger(t *testing.T) {
	path := filepath.Join(t.TempDir(), "list.csv")
	if err := os.WriteFile(path, []byte("A list\nnumber;price\nA-1;1,50\nA-2;2,50;x\nA-3;3,50\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, rows, _ := call(t, "inspect", path, "--rows")
	if want := "number,price\r\nA-1,\"1,50\"\r\nA-3,\"3,50\"\r\n"; rows != want {
		t.Errorf("rows %q, want %q", rows, want)
	}
	if _, held, _ := call(t, "inspect", path, "--rows", "--with-held"); !strings.Contains(held, "A-2,\"2,50\",x") {
		t.Errorf("the held row is missing in %q", held)
	}
	_, ledger, _ := call(t, "inspect", path, "--ledger")
	end := int64(0)
	for _, line := range strings.Split(strings.TrimSpace(ledger), "\n") {
		var span struct {
			Offset, Length         int64
			Class, Verdict, Reason string
		}
		if err := json.Unmarshal([]byte(line), &span); err != nil {
			t.Fatal(err)
		}
		if span.Offset != end {
			t.Errorf("a gap before %+v", span)
		}
		end += span.Length
	}
	if raw, _ := os.ReadFile(path); end != int64(len(raw)) {
		t.Errorf("the spans cover %d of %d bytes", end, len(raw))
	}
}

func TestAHeldRowIsWaivedWithAReason(t *testing.T) {
	home := t.TempDir()
	sheet, raw := demoSheet(t, "ostrel.csv")
	importDemo(t, home, sheet, raw)
	if code, _, _ := call(t, "--home", home, "held", "waive", "1", "14"); code != exitUsage {
		t.Errorf("without a reason: exit code %d", code)
	}
	if code, _, errs := call(t, "--home", home, "held", "waive", "1", "14", "--reason", "asked for a new export"); code != exitYes {
		t.Errorf("exit code %d: %s", code, errs)
	}
	_, out, _ := call(t, "--home", home, "held")
	if strings.Contains(out, "line 14") || !strings.HasPrefix(out, "2 rows") {
		t.Errorf("a waived row still waits:\n%s", out)
	}
	if _, out, _ := call(t, "--home", home, "sheets", "show", "1"); !strings.Contains(out, "asked for a new export") || !strings.Contains(out, "3 held back") {
		t.Errorf("the decision is not on record:\n%s", out)
	}
}

func TestDoctorFindsTheDemoSoundAndALostIndexNot(t *testing.T) {
	code, out, errs := call(t, "--home", demoHome(t), "doctor")
	if code != exitYes || !strings.Contains(out, "0 things are wrong") {
		t.Errorf("exit code %d\n%s%s", code, out, errs)
	}
	home := t.TempDir()
	call(t, "--home", home, "import", stagedList(t, "jan.csv", 5, 12), "--supplier", "Brackwell")
	folders, err := filepath.Glob(filepath.Join(home, "index", "*"))
	if err != nil || len(folders) != 1 {
		t.Fatal(folders, err)
	}
	if err := os.RemoveAll(folders[0]); err != nil {
		t.Fatal(err)
	}
	if code, out, _ := call(t, "--home", home, "doctor"); code != exitNo || !strings.Contains(out, "Brackwell") {
		t.Errorf("exit code %d\n%s", code, out)
	}
}

// A sheet in another encoding is cited in letters, and its own bytes are kept.
func TestASheetInAnotherEncodingIsCitedInLetters(t *testing.T) {
	const text = "number;type;description;engine\nA-1;thermostat;Geh\u00e4use 82;ZQ9\n3-Oct;thermostat;Geh\u00e4use 88;ZQ9\n"
	var latin, wide []byte
	wide = append(wide, 0xff, 0xfe)
	for _, r := range text {
		latin = append(latin, byte(r))
		wide = append(wide, byte(r), byte(r>>8))
	}
	for name, raw := range map[string][]byte{"latin.csv": latin, "wide.csv": wide} {
		home := t.TempDir()
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, raw, 0o644); err != nil {
			t.Fatal(err)
		}
		if code, out, errs := call(t, "--home", home, "import", path, "--supplier", "Brackwell", "--set", "encoding=windows-1252"); code != exitHeld {
			t.Fatalf("%s: exit code %d\n%s%s", name, code, out, errs)
		}
		if _, out, _ := call(t, "--home", home, "--json", "fit", "ZQ9"); !strings.Contains(out, `"text": "A-1;thermostat;Gehäuse 82;ZQ9"`) {
			t.Errorf("%s is cited as\n%s", name, out)
		}
		if code, out, errs := call(t, "--home", home, "doctor"); code != exitYes {
			t.Errorf("%s: doctor ends with %d\n%s%s", name, code, out, errs)
		}
	}
}
