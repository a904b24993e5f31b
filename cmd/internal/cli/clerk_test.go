package cli

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const lateList = "Part no.;Description;Price EUR\n"

func allOf(t *testing.T, out string, want ...string) {
	t.Helper()
	flat := strings.Join(strings.Fields(out), " ")
	for _, w := range want {
		if !strings.Contains(flat, w) {
			t.Errorf("no %q in\n%s", w, out)
		}
	}
}

// Each new supplier of a sheet of purchases is accepted by its own name.
func TestNewSuppliersAreAcceptedOneByOne(t *testing.T) {
	expect := caller(t)
	expect(exitYes, "import", writeSheet(t, "list.csv", lateList+"K-1;Cap;1,50\n"), "--supplier", "Kemmel")
	bought := writeSheet(t, "bought.csv", "date;supplier;number;quantity\n2026-01-01;Kemmel;K-1;2\n2026-01-02;Nuvo;K-1;1\n2026-01-03;Tarvo;K-1;1\n")
	allOf(t, expect(exitStaged, "import", bought, "--as", "purchases"), `--accept new-supplier="Nuvo"`, `--accept new-supplier="Tarvo"`)
	out := expect(exitStaged, "import", bought, "--as", "purchases", "--accept", "new-supplier")
	allOf(t, out, "Nuvo", "Tarvo")
	if out = expect(exitStaged, "import", bought, "--as", "purchases", "--accept", "new-supplier=Nuvo"); strings.Contains(out, "Nuvo") {
		t.Errorf("an accepted name is asked about again:\n%s", out)
	}
	expect(exitYes, "import", bought, "--as", "purchases", "--accept", "new-supplier=Nuvo", "--accept", "new-supplier=Tarvo")
}

// A sheet of which no row can be taken is not taken silently.
func TestASheetWithoutAGoodRowIsAskedAbout(t *testing.T) {
	expect := caller(t)
	path := writeSheet(t, "list.csv", lateList+"1,2E+11;Bolt;12,50\n1,3E+11;Bolt;13,50\n")
	out := expect(exitStaged, "import", path, "--supplier", "Kemmel")
	allOf(t, out, "None of its 2 rows can be taken", "fitfill sheets drop 1")
	expect(exitHeld, "import", path, "--supplier", "Kemmel", "--accept", "held-rows")
}

// A new file of a known name and known columns is its supplier's.
func TestTheNextFileOfANameIsItsSuppliers(t *testing.T) {
	expect := caller(t)
	folder := t.TempDir()
	path := filepath.Join(folder, "list.csv")
	write := func(text string) {
		t.Helper()
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(lateList + "K-1;Cap;1,50\nK-2;Hose;2,50\n")
	expect(exitUsage, "import", path)
	expect(exitYes, "import", path, "--supplier", "Kemmel")
	write(lateList + "K-1;Cap;1,60\nK-2;Hose;2,50\n")
	allOf(t, expect(exitYes, "import", path), "sheet of Kemmel", "taken as a sheet of Kemmel, like list.csv before")
	write("Number;Wording;Net\nK-1;Cap;1,60\n")
	expect(exitUsage, "import", path)
}

// Waived rows are seen with --all, and can still be put right; rows with one
// reason stand together.
func TestWaivedRowsAreSeenAndCanBePutRight(t *testing.T) {
	expect := caller(t)
	path := writeSheet(t, "list.csv", "List of March;;\n"+lateList+"K-1;Cap;1,50\nK-1;Cap;1,60\nK-2;Hose;2,50\nThermostats;;\n;Seal;3,50\nK-4;Seal;3,50\n")
	allOf(t, expect(exitHeld, "import", path, "--supplier", "Kemmel"), `lines 3, 4, column "Price EUR": part K-1`)
	allOf(t, expect(exitYes, "sheets", "show", "1"), `skipped, line 1, title: "List of March;;"`, `skipped, line 6, section: "Thermostats;;"`)
	expect(exitYes, "held", "waive", "1", "7", "--reason", "no part")
	if out := expect(exitYes, "held"); strings.Contains(out, "line 7") {
		t.Errorf("a waived row waits:\n%s", out)
	}
	allOf(t, expect(exitYes, "held", "--all"), "2 rows held back, 1 waived", "line 7", "stays out: no part")
	allOf(t, expect(exitYes, "--json", "held", "--all"), `"waived": "no part"`)
	allOf(t, expect(exitHeld, "held", "fix", "1", "7", "Part no.=K-3"), "1 row corrected by hand")
	allOf(t, expect(exitYes, "find", "K-3"), "K-3")
	expect(exitHeld, "import", writeSheet(t, "other.csv", lateList+"1,2E+11;Bolt;12,50\nX-1;Bolt;12,50\n"), "--supplier", "Varn")
	allOf(t, expect(exitUsage, "held", "--out", filepath.Join(t.TempDir(), "x.csv")), "(list.csv); fitfill held --sheet", "(other.csv)")
}

// What waits is the archive until one of its sheets is taken.
func TestAChosenSheetOfAnArchiveWaitsNoLonger(t *testing.T) {
	expect := caller(t)
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, file := range [][2]string{{"caps.csv", lateList + "K-1;Cap;1,50\n"}, {"hoses.csv", lateList + "H-1;Hose;1,50\n"}, {"README.txt", "Prices are net.\n"}} {
		f, err := z.Create(file[0])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write([]byte(file[1])); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	path := writeSheet(t, "lists.zip", b.String())
	out := expect(exitStaged, "import", path, "--supplier", "Kemmel")
	allOf(t, out, "lists.zip: sheet of Kemmel", "holds 2 sheets", `--set sheet="caps.csv" or --set sheet="hoses.csv"`)
	expect(exitYes, "import", path, "--supplier", "Kemmel", "--set", "sheet=caps.csv")
	if out := expect(exitYes, "sheets", "list"); strings.Contains(out, "waiting") {
		t.Errorf("the archive still waits:\n%s", out)
	}
}

// Reasons of returns that nobody has sorted are named when they are imported; a
// sheet of the garage's own sorts them.
func TestReasonsThatNobodySortedAreNamed(t *testing.T) {
	expect := caller(t)
	returns := writeSheet(t, "returns.csv", "date;supplier;number;reason\n2026-01-02;Kemmel;K-1;leaks\n2026-01-03;Kemmel;K-1;quite wobbly\n2026-01-04;Kemmel;K-1;quite wobbly\n")
	allOf(t, expect(exitStaged, "import", returns, "--as", "returns", "--check", "--json"), `"code": "reasons"`)
	allOf(t, expect(exitYes, "import", returns, "--as", "returns"), `"quite wobbly" (line 3)`, "--as table --table returns_reasons")
	expect(exitYes, "import", writeSheet(t, "reasons.csv", "phrase;class\nquite wobbly;quality\n"), "--as", "table", "--table", "returns_reasons")
	later := writeSheet(t, "later.csv", "date;supplier;number;reason\n2026-02-02;Kemmel;K-1;quite wobbly\n")
	if out := expect(exitYes, "import", later, "--as", "returns"); strings.Contains(out, "wobbly") {
		t.Errorf("a sorted reason is asked about:\n%s", out)
	}
}

// Pieces that are no whole number are asked about once.
func TestHalvesOfPiecesAreAskedAbout(t *testing.T) {
	expect := caller(t)
	bought := writeSheet(t, "bought.csv", "date;supplier;number;quantity\n2026-01-01;Kemmel;K-1;2\n2026-01-02;Kemmel;K-2;1,5\n")
	allOf(t, expect(exitStaged, "import", bought, "--as", "purchases"), "--set fractions=measure or --set fractions=hold")
	allOf(t, expect(exitHeld, "import", bought, "--as", "purchases", "--set", "fractions=hold"), `"1,5": this is no whole number of pieces`)
	later := writeSheet(t, "later.csv", "date;supplier;number;quantity\n2026-03-02;Kemmel;K-2;2,5\n2026-03-03;Kemmel;K-2;2\n")
	allOf(t, expect(exitHeld, "import", later, "--as", "purchases"), `"2,5": this is no whole number of pieces`)
}
