package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"fitfill/data/demo"
)

// twinArgs are the arguments that import the demo's dirty list.
func twinArgs(home, file string) []string {
	args := []string{"--home", home, "--json", "import", file, "--supplier", "Quillmar"}
	for _, m := range demo.Sheets[1].Maps {
		args = append(args, "--map", m)
	}
	return args
}

// A list comes as a workbook and makes the same catalogue as its text; what was
// held goes out as a workbook and comes back corrected.
func TestAWorkbookMakesTheSameCatalogue(t *testing.T) {
	home, dir := t.TempDir(), t.TempDir()
	code, out, errs := call(t, twinArgs(home, filepath.Join("..", "..", "..", "testdata", "xlsx", "quillmar.xlsx"))...)
	if code != exitHeld {
		t.Fatalf("exit code %d\n%s%s", code, out, errs)
	}
	toCorrect := filepath.Join(dir, "to-correct.xlsx")
	if code, _, errs := call(t, "--home", home, "held", "--out", toCorrect); code != exitYes {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	f, err := excelize.OpenFile(toCorrect)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows("Sheet1")
	if err != nil || len(rows) != 2 || !strings.Contains(rows[1][2], "QM-4048") {
		t.Fatalf("%q, %v", rows, err)
	}
	// The price was written with a decimal comma: one cell too many.
	fixed := append(append([]any{}, anys(rows[1][:5])...), "12.90")
	fixed = append(fixed, anys(rows[1][7:])...)
	fixed = append(fixed, "")
	if err := f.SetSheetRow("Sheet1", "A2", &fixed); err != nil {
		t.Fatal(err)
	}
	if err := f.Save(); err != nil {
		t.Fatal(err)
	}
	if code, out, errs := call(t, "--home", home, "import", toCorrect); code != exitYes {
		t.Fatalf("the corrected workbook: exit code %d\n%s%s", code, out, errs)
	}

	text, err := demo.FS.ReadFile("quillmar.csv")
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "quillmar.csv")
	if err := os.WriteFile(file, []byte(strings.Replace(string(text), ",12,90,", `,"12.90",`, 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, errs = call(t, append(twinArgs(home, file), "--accept", "replaces")...)
	if code != exitYes || !strings.Contains(out, `"added": 0`) || !strings.Contains(out, `"changed": 0`) || !strings.Contains(out, `"withdrawn": 0`) {
		t.Errorf("the text of the same list: exit code %d\n%s%s", code, out, errs)
	}
	if code, out, errs := call(t, "--home", home, "doctor"); code != exitYes {
		t.Errorf("doctor: %d\n%s%s", code, out, errs)
	}
}

func anys(texts []string) []any {
	out := make([]any, len(texts))
	for i, text := range texts {
		out[i] = text
	}
	return out
}

// A list that came as a workbook is kept as one, and handed out again byte for
// byte; of the garage's own workbooks the rows alone are kept.
func TestTheWorkbookItselfIsKept(t *testing.T) {
	home, dir := t.TempDir(), t.TempDir()
	list := filepath.Join("..", "..", "..", "testdata", "xlsx", "quillmar.xlsx")
	if code, out, errs := call(t, twinArgs(home, list)...); code != exitHeld {
		t.Fatalf("exit code %d\n%s%s", code, out, errs)
	}
	f := excelize.NewFile()
	defer f.Close()
	for at, text := range map[string]string{"A1": "Date", "B1": "Vehicle", "C1": "Engine", "D1": "Chemistry", "A2": "2026-01-05", "B2": "TS-PQ 204", "C2": "TK300", "D2": "oat"} {
		if err := f.SetCellStr("Sheet1", at, text); err != nil {
			t.Fatal(err)
		}
	}
	fills := filepath.Join(dir, "fills.xlsx")
	if err := f.SaveAs(fills); err != nil {
		t.Fatal(err)
	}
	if code, out, errs := call(t, "--home", home, "import", fills, "--as", "fills"); code != exitYes {
		t.Fatalf("exit code %d\n%s%s", code, out, errs)
	}
	for _, c := range []struct{ id, out, want string }{{"1", "back.xlsx", ""}, {"2", "back.csv", "Date,Vehicle,Engine,Chemistry\n2026-01-05,TS-PQ 204,TK300,oat\n"}} {
		to := filepath.Join(dir, c.out)
		code, out, errs := call(t, "--home", home, "sheets", "show", c.id, "--out", to)
		if code != exitYes || !strings.Contains(out, "sheet "+c.id+" as it came") {
			t.Fatalf("exit code %d\n%s%s", code, out, errs)
		}
		got, err := os.ReadFile(to)
		if err != nil {
			t.Fatal(err)
		}
		want := []byte(c.want)
		if c.want == "" {
			if want, err = os.ReadFile(list); err != nil {
				t.Fatal(err)
			}
		}
		if string(got) != string(want) {
			t.Errorf("sheet %s came back as %d bytes, %.80q", c.id, len(got), got)
		}
		if code, _, errs := call(t, "--home", home, "sheets", "show", c.id, "--out", to); code != exitUsage || !strings.Contains(errs, "exists already") {
			t.Errorf("over a file that is there: %d %s", code, errs)
		}
	}
	if code, _, errs := call(t, "--home", home, "sheets", "show", "9", "--out", filepath.Join(dir, "none")); code != exitUsage || !strings.Contains(errs, "no sheet has the number 9") {
		t.Errorf("a sheet that is not there: %d %s", code, errs)
	}
	if _, err := os.Stat(filepath.Join(dir, "none")); !os.IsNotExist(err) {
		t.Errorf("half a file was left: %v", err)
	}
	if code, out, errs := call(t, "--home", home, "doctor"); code != exitYes {
		t.Errorf("doctor: %d\n%s%s", code, out, errs)
	}
}
