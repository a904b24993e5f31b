package importers

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// The characters are those of the page "CSV Injection" of OWASP; NUL is from
// item 1.2.10 of its Application Security Verification Standard.
func TestNoGuardedTextStartsAFormula(t *testing.T) {
	for text, want := range map[string]string{
		"=1+1": "'=1+1", "+49 1": "'+49 1", "-12": "'-12", "@x": "'@x", "\tx": "'\tx", "\rx": "'\rx", "\nx": "'\nx", "\x00": "'\x00",
		"'": "''", "'=x": "''=x", "P-1": "P-1", "": "", "ü=": "ü=", " =1": " =1",
	} {
		if got := Guard(text); got != want {
			t.Errorf("%q is guarded as %q, want %q", text, got, want)
		}
	}
	for _, foreign := range []string{"'90s hose", "'", "it's"} {
		if got := Unguard(foreign); got != foreign {
			t.Errorf("%q lost its apostrophe: %q", foreign, got)
		}
	}
}

func checkGuard(t interface{ Fatalf(string, ...any) }, text string) {
	guarded := Guard(text)
	if guarded != "" && strings.ContainsRune("=+-@\t\r\n\x00", rune(guarded[0])) {
		t.Fatalf("%q starts a formula as %q", text, guarded)
	}
	if back := Unguard(guarded); back != text {
		t.Fatalf("%q came back as %q", text, back)
	}
}

func TestGuardedTextsComeBackUnchanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		checkGuard(t, rapid.OneOf(rapid.String(), rapid.StringMatching(`'{0,3}[-=+@\t\r\n']{0,3}[a-z0-9]{0,4}`)).Draw(t, "text"))
	})
}

func FuzzGuard(f *testing.F) {
	for _, s := range []string{"", "'", "''", "'=", "=HYPERLINK(\"x\")", "-3", "\x00", "''''-"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { checkGuard(t, text) })
}

const toCorrect = "Part;Description;Price;Unit;Unit\n" +
	"P-1;Thermostat;5,50;1;x\n" + // line 2
	"1,23E+11;Seal;2,50;1;x\n" + // 3
	"-P-3;=1+1;cheap;1;'x\n" + // 4
	"P-4;Cap;7,50;1;x;too much\n" + // 5
	"P-5;\"two\nlines, \"\"quoted\"\"\";dear;1;x\n" + // 6 and 7
	"P-1;Thermostat;6,50;1;x\n" // 8

// heldOf reads the sheet and writes its held rows out.
func heldOf(t *testing.T, m *Mapping) (s *Sheet, out string, report Report) {
	t.Helper()
	s, mapping, questions := propose(t, catalog.SupplierSheet, toCorrect, Options{
		Maps: map[string]string{"pack": "Unit"}, Ignore: []string{"Unit#2"}, Settings: Settings{"separator": "semicolon", "currency": "EUR"},
	})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	*m = mapping
	_, report = readAll(t, s, mapping)
	var b bytes.Buffer
	if err := WriteHeld(&b, s, mapping, report.Held, nil); err != nil {
		t.Fatal(err)
	}
	return s, b.String(), report
}

func TestHeldRowsGoOutWithTheSuppliersOwnColumns(t *testing.T) {
	var m Mapping
	s, out, report := heldOf(t, &m)
	if len(report.Held) != 6 {
		t.Fatalf("held %+v", report.Held)
	}
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]string{"row ref", "problem", "Part", "Description", "Price", "Unit", "Unit#2", "no heading 6"}, rows[0]); d != "" {
		t.Errorf("headings:\n%s", d)
	}
	for k, row := range rows[1:] {
		i, _ := s.RecordOn(report.Held[k].Line)
		for j, cell := range s.Cells(i, nil) {
			if back := Unguard(row[2+j]); back != cell {
				t.Errorf("%q went out as %q", cell, row[2+j])
			}
		}
		if !strings.Contains(row[1], "line ") {
			t.Errorf("the problem does not say where: %q", row[1])
		}
	}
	for _, row := range rows {
		for _, cell := range row {
			if cell != "" && strings.ContainsRune("=+-@\t\r\n\x00", rune(cell[0])) {
				t.Errorf("%q starts a formula", cell)
			}
		}
	}
	wrong := report.Held[0]
	wrong.Raw += "x"
	if err := WriteHeld(&bytes.Buffer{}, s, m, []catalog.HeldRow{wrong}, nil); err == nil || !strings.Contains(err.Error(), "not a row of") {
		t.Errorf("a row of another sheet was written: %v", err)
	}
}

func TestCorrectedRowsLandOnTheirOriginalLines(t *testing.T) {
	var m Mapping
	original, out, _ := heldOf(t, &m)
	lines := strings.SplitAfter(out, "\r\n")
	fixed := strings.NewReplacer("1,23E+11", "123456", "cheap", "3,50", "dear", "4,50", "too much", "", "6,50", "5,50").Replace(strings.Join(lines, ""))
	second := strings.SplitAfter(fixed, "\r\n")
	fixed += strings.Replace(second[1], "P-1", "P-9", 1) // a reference twice
	fixed += strings.Replace(second[2], "-", "-9", 1)    // one that is not there
	corrections, err := Open(reference(t), "corrected.csv", []byte(fixed), Settings{"header": "1"})
	if err != nil {
		t.Fatal(err)
	}
	if !IsCorrection(corrections) || IsCorrection(original) {
		t.Fatalf("headings %q", corrections.Header)
	}
	var rows []string
	c, err := Corrections(corrections, original)
	if err != nil {
		t.Fatal(err)
	}
	report, err := ReadWith(reference(t), original, m, Options{Corrected: c.Rows}, func(r catalog.SheetRow) error {
		rows = append(rows, say(r))
		if p := r.Part; len(p.Facts) > 0 && (p.Facts[0].Origin.Sheet != original.Name || p.Facts[0].Origin.Line != r.Line) {
			t.Errorf("origin %+v", p.Facts[0].Origin)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"part P-1: description=Thermostat price=55000 EUR pack=1000", "part 123456: description=Seal price=25000 EUR pack=1000",
		"part P-4: description=Cap price=75000 EUR pack=1000", `part P-5: description=two lines, "quoted" price=45000 EUR pack=1000`,
		"part P-1:", // says the same as line 2 now
	}
	if d := cmp.Diff(want, rows); d != "" {
		t.Errorf("rows (-want +got):\n%s", d)
	}
	var strays []string
	for _, h := range c.Strays {
		strays = append(strays, h.Code)
	}
	if d := cmp.Diff([]string{"ref-twice", "ref-twice", "ref-unknown"}, strays); d != "" {
		t.Errorf("strays (-want +got):\n%s", d)
	}
	if len(report.Held) != 1 || report.Held[0].Line != 4 || report.Held[0].Code != "formula" || !strings.HasSuffix(report.Held[0].Reason, "(as corrected)") {
		t.Errorf("held %+v", report.Held)
	}
	if report.RowsRead != 6 || report.RowsTaken != 5 || report.RowsHeld != 1 {
		t.Errorf("%+v", report)
	}
	if got := CorrectedSheets(corrections); !slices.Contains(got, original.SHA256[:refDigest]) {
		t.Errorf("corrections of %v, the sheet is %s", got, original.SHA256)
	}
	if _, err := ReadWith(reference(t), original, m, Options{Corrected: map[int][]string{99: {"P-9"}}}, nil); err == nil {
		t.Error("a row that is not there was corrected")
	}
}
