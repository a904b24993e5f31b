package demo_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fitfill/catalog"
	"fitfill/data"
	"fitfill/data/demo"
)

// quillmar is the list with the planted defects.
var quillmar = demo.Sheets[1]

// facts are what rows state, without where they stand and how the cell is
// written: a workbook shows 18.4 where the text has 18.40.
func facts(rows []catalog.SheetRow) []catalog.PartRow {
	var out []catalog.PartRow
	for _, r := range rows {
		p := catalog.PartRow{Number: r.Part.Number}
		for _, f := range r.Part.Facts {
			f.Text, f.Origin = "", catalog.Origin{}
			p.Facts = append(p.Facts, f)
		}
		for _, f := range r.Part.Fitments {
			f.Origin = catalog.Origin{}
			p.Fitments = append(p.Fitments, f)
		}
		for _, x := range r.Part.CrossRefs {
			x.Origin = catalog.Origin{}
			p.CrossRefs = append(p.CrossRefs, x)
		}
		out = append(out, p)
	}
	return out
}

func sameAsText(t *testing.T, name string, raw []byte) {
	t.Helper()
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	text, textReport := take(t, quillmar)
	twin, report := takeBytes(t, ref, quillmar, name, raw)
	if report.RowsRead != textReport.RowsRead || report.RowsHeld != textReport.RowsHeld || report.RowsTaken != textReport.RowsTaken || report.Held[0].Line != textReport.Held[0].Line {
		t.Errorf("%d rows, %d taken, %d held; the text has %d, %d and %d", report.RowsRead, report.RowsTaken, report.RowsHeld, textReport.RowsRead, textReport.RowsTaken, textReport.RowsHeld)
	}
	if d := cmp.Diff(facts(text), facts(twin), cmp.AllowUnexported(catalog.PartRow{})); d != "" {
		t.Errorf("the workbook says something else (- text, + workbook):\n%s", d)
	}
}

// The dirty list of the demo garage as a workbook, its numbers and days as
// numbers and days.
func TestTheListAsAWorkbookSaysTheSame(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "xlsx", "quillmar.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	sameAsText(t, "quillmar.xlsx", raw)
}

// A workbook that a program for tables wrote says the same as the text that it
// was made of.
func TestAWorkbookOfAnotherProgramSaysTheSame(t *testing.T) {
	program, err := exec.LookPath("ssconvert")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("ssconvert, of Debian's package gnumeric, is not installed")
		}
		t.Skip("ssconvert, of Debian's package gnumeric, is not installed: nothing is compared")
	}
	text, err := demo.FS.ReadFile(quillmar.File)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	from, to := filepath.Join(dir, "list.csv"), filepath.Join(dir, "list.xlsx")
	if err := os.WriteFile(from, bytes.TrimPrefix(text, []byte("\xef\xbb\xbf")), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(program, "--import-type=Gnumeric_stf:stf_csvtab", from, to).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	raw, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	sameAsText(t, "list.xlsx", raw)
}
