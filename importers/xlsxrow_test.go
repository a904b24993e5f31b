package importers

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

// worksheetLines reads one worksheet into the cells of each of its lines.
func worksheetLines(t interface{ Fatal(...any) }, raw []byte, worksheet string) [][]string {
	b, err := openBook("list.xlsx", bytes.NewReader(raw), usualLimits(), nil)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	tr := &transcript{book: b, sizes: usualLimits(), out: &out}
	_, err = tr.of(worksheet, false)
	if err = errors.Join(err, b.close()); err != nil {
		t.Fatal(err)
	}
	var lines [][]string
	for line := range strings.Lines(out.String()) {
		r := csv.NewReader(strings.NewReader(line))
		row, err := r.Read()
		if line == "\n" {
			row, err = nil, nil
		}
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, row)
	}
	return lines
}

// libraryLines reads a worksheet with a general-purpose library: the values as
// they are shown, or raw.
func libraryLines(t interface{ Fatal(...any) }, raw []byte, worksheet string, asStored bool) [][]string {
	f, err := excelize.OpenReader(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.Rows(worksheet)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var lines [][]string
	for rows.Next() {
		row, err := rows.Columns(excelize.Options{RawCellValue: asStored})
		if err != nil {
			t.Fatal(err)
		}
		for len(row) > 0 && row[len(row)-1] == "" {
			row = row[:len(row)-1]
		}
		lines = append(lines, row)
	}
	for len(lines) > 0 && len(lines[len(lines)-1]) == 0 {
		lines = lines[:len(lines)-1]
	}
	return lines
}

// The texts of a worksheet are those that a general-purpose library reads; its
// numbers are what the library shows, except where that would lose something:
// then they are the number itself, and days are written by ISO 8601.
func TestWorkbookIsReadAsAGeneralLibraryReadsIt(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join("..", "testdata", "xlsx", "quillmar.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	for _, worksheet := range f.GetSheetList() {
		compareWithLibrary(t, raw, worksheet)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	formats := []string{"", "0", "000000", "0.00", "0.000", `0.0" mm"`, `0" °C"`, "0%", "0.0%", "#,##0.00", `#,##0.00 "EUR"`, "# ?/?", "@", "dd.mm.yyyy", "yyyy-mm-dd"}
	random := rand.New(rand.NewPCG(1, 2))
	letters := []rune("  AbZ019&<>\"'°ø_\n-,;/")
	compareWithLibrary(t, workbookOf(t, func(f *excelize.File) error {
		var errs []error
		for i := range 2000 {
			at, _ := excelize.CoordinatesToCellName(i%7+1, i/7*2+1)
			var v any
			switch random.IntN(5) {
			case 0:
				text := make([]rune, random.IntN(10))
				for k := range text {
					text[k] = letters[random.IntN(len(letters))]
				}
				v = string(text)
			case 1:
				v = random.IntN(100_000_000) - 1000
			case 2:
				v = float64(random.IntN(10_000_000)-100_000) / 100
			case 3:
				v = random.IntN(2) == 1
			default:
				continue
			}
			errs = append(errs, f.SetCellValue("Sheet1", at, v))
			if format := formats[random.IntN(len(formats))]; format != "" {
				errs = append(errs, styled(f, at, format))
			}
		}
		return errors.Join(errs...)
	}), "Sheet1")
}

func compareWithLibrary(t interface {
	Fatal(...any)
	Errorf(string, ...any)
}, raw []byte, worksheet string) {
	ours, stored, shown := worksheetLines(t, raw, worksheet), libraryLines(t, raw, worksheet, true), libraryLines(t, raw, worksheet, false)
	for i := range max(len(ours), len(stored)) {
		for k := range mostColumns {
			if k >= max(len(cellsAt(ours, i)), len(cellsAt(stored, i))) {
				break
			}
			is, was, seen := at(ours, i, k), at(stored, i, k), at(shown, i, k)
			if !sameValue(is, was, seen) {
				t.Errorf("row %d, cell %d: %q, which is stored as %q and shown as %q", i+1, k+1, is, was, seen)
			}
		}
	}
}

func cellsAt(lines [][]string, i int) []string {
	if i < len(lines) {
		return lines[i]
	}
	return nil
}

func at(lines [][]string, i, k int) string {
	if row := cellsAt(lines, i); k < len(row) {
		return row[k]
	}
	return ""
}

// sameValue reports whether a text says what is stored and, unless that would
// lose digits, what is shown.
func sameValue(is, stored, shown string) bool {
	stored = strings.NewReplacer("\r\n", " ", "\n", " ").Replace(stored)
	v, err := strconv.ParseFloat(stored, 64)
	if err != nil {
		return is == stored || is == "" && strings.TrimSpace(stored) == "" // an empty row is an empty line
	}
	if is == shown || is == stored || is == "TRUE" && stored == "1" || is == "FALSE" && stored == "0" {
		return true
	}
	if day, err := excelize.ExcelDateToTime(v, false); err == nil && strings.HasPrefix(is, day.Format("2006-01-02")) {
		return true
	}
	number, unit, _ := strings.Cut(is, " ")
	if whole, rest, ok := strings.Cut(strings.TrimSuffix(unit, " mm"), "/"); ok && whole != "" { // a fraction behind its whole number
		return rest != ""
	}
	number, percent := strings.CutSuffix(number, "%")
	w, err := strconv.ParseFloat(number, 64)
	if percent {
		w /= 100
	}
	return err == nil && fmt.Sprintf("%.12g", w) == fmt.Sprintf("%.12g", v) && strings.Contains(shown, unit)
}

// worksheetOf is a workbook whose worksheet is written by hand.
func worksheetOf(t *testing.T, data string, more ...string) []byte {
	t.Helper()
	return edited(t, workbookOf(t, func(*excelize.File) error { return nil }), "xl/worksheets/sheet1.xml", func(s string) string {
		before, _, ok := strings.Cut(s, "<sheetData")
		if !ok {
			t.Fatalf("no rows in %s", s)
		}
		return before + "<sheetData>" + data + "</sheetData>" + strings.Join(more, "") + "</worksheet>"
	})
}

func TestWorksheetRows(t *testing.T) {
	for _, c := range []struct {
		name, data string
		want       [][]string
	}{
		{"inline texts", `<row r="1"><c r="A1" t="inlineStr"><is><t>a</t></is></c><c r="B1" t="inlineStr"><is><t>b</t></is></c></row>`, [][]string{{"a", "b"}}},
		{"runs, and how they are spoken", `<row><c t="inlineStr"><is><r><rPr><b/></rPr><t>Dicht</t></r><r><t xml:space="preserve">ring </t></r><rPh sb="0" eb="1"><t>no</t></rPh></is></c></row>`, [][]string{{"Dichtring "}}},
		{"places left out", `<row><c t="str"><v>a</v></c><c t="str"><v>b</v></c></row><row r="4"><c r="C4"><v>1</v></c><c><v>2</v></c></row>`, [][]string{{"a", "b"}, nil, nil, {"", "", "1", "2"}}},
		{"cells out of order", `<row r="1"><c r="B1"><v>2</v></c><c r="A1"><v>1</v></c></row>`, [][]string{{"1", "2"}}},
		{"other names in front", `<x:row xmlns:x="x" r="1"><x:c r="A1" t="str"><x:v>a &amp; b</x:v></x:c></x:row>`, [][]string{{"a & b"}}},
		{"escapes", `<row r="1"><c t="inlineStr"><is><t>a_x000D_b_x005F_x000D_ _xD83D__xDE00_ _xD83D_ _x00</t></is></c></row>`, [][]string{{"a b_x000D_ 😀 _xD83D_ _x00"}}},
		{"an empty value", `<row r="1"><c r="A1" t="b"/><c r="B1" t="s"><v/></c><c r="C1"><v></v></c><c r="D1" t="str"><f>T(A9)</f><v></v></c><c r="E1" t="d"><v>2026-03-02T00:00:00</v></c></row>`, [][]string{{"", "", "", "", "2026-03-02"}}},
		{"formulas saved without their values", `<row r="1"><c r="A1"><f>SUM(B1)</f><v></v></c><c r="B1"><f>1+1</f></c><c r="C1"><f>1+1</f><v>2</v></c></row>`, [][]string{{"=SUM(B1)", "=1+1", "2"}}},
		{"what a later version may add", `<row r="1"><c r="A1"><extLst><ext><v>9</v></ext></extLst><v>1</v></c><ext><c r="A1"><v>7</v></c></ext></row>`, [][]string{{"1"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := worksheetLines(t, worksheetOf(t, c.data), "Sheet1"); fmt.Sprintf("%q", got) != fmt.Sprintf("%q", c.want) {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// Rows and cells whose places contradict each other are refused: on which line
// their facts stand could not be told.
func TestWorksheetRowsThatContradictEachOther(t *testing.T) {
	for _, data := range []string{
		`<row r="5"/><row r="3"/>`, `<row r="1"/><row r="1"/>`, `<row r="0"/>`, `<row r="1048577"/>`, `<row r="-1"/>`,
		`<row r="1"><c r="A1"/><c r="A1"/></row>`, `<row r="1"><c r="XFE1"/></row>`, `<row r="1"><c r="1A"/></row>`, `<row r="1"><c r="A"/></row>`,
		`<row r="1"><c r="A1" t="what"><v>1</v></c></row>`, `<row r="1"><c r="A1" t="s"><v>-1</v></c></row>`, `<row r="1"><c r="A1" t="s"><v>x</v></c></row>`,
		`<row r="1"><c r="A1"></row>`,
	} {
		_, err := Open(reference(t), "list.xlsx", worksheetOf(t, `<row r="1"><c r="A1" t="str"><v>Number</v></c></row>`+strings.Replace(data, `r="1"`, `r="2"`, 1), ``), nil)
		if err == nil || !strings.Contains(err.Error(), "damaged workbook") {
			t.Errorf("%s: %v", data, err)
		}
	}
}

// A merged value is repeated on the rows of its area that the file leaves out.
func TestWorksheetRepeatsMergedValues(t *testing.T) {
	raw := worksheetOf(t, `<row r="1"><c r="A1" t="str"><v>Number</v></c><c r="B1" t="str"><v>Type</v></c></row><row r="2"><c r="A2" t="str"><v>TX-1</v></c><c r="B2" t="str"><v>seal</v></c></row><row r="5"><c r="A5" t="str"><v>TX-4</v></c></row>`,
		`<mergeCells count="2"><mergeCell ref="B2:B5"/><mergeCell ref="A9:B1048576"/></mergeCells>`)
	_, rows := rowsOf(t, raw, Settings{"merged": "repeat"})
	if got, want := fmt.Sprintf("%q", rows), `[["Number" "Type"] ["TX-1" "seal"] ["" "seal"] ["" "seal"] ["TX-4" "seal"]]`; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// The shared texts may stand in a part of another name.
func TestWorkbookNamesThePartOfItsTexts(t *testing.T) {
	raw := twoColumns(t)
	parts := map[string]string{}
	for name, text := range partsOf(t, raw) {
		parts[strings.Replace(name, "sharedStrings.xml", "texts.xml", 1)] = strings.ReplaceAll(text, "sharedStrings.xml", "texts.xml")
	}
	if _, rows := rowsOf(t, zipOf(t, parts), nil); rows[1][0] != "TX-1" {
		t.Errorf("%q", rows)
	}
}

func TestNumbersThatNeedNoArithmetic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.OneOf(rapid.StringMatching(`-?[0-9]{1,9}(\.[0-9]{0,8})?`), rapid.StringMatching(`[0-9.eE+-]{0,6}`), rapid.SampledFrom([]string{"0", "-0", "0.1", "00", "1.", ".5", "0.00001", "1e5"})).Draw(t, "number")
		if _, ok := exactNumber([]byte(number)); !ok {
			return
		}
		v, err := strconv.ParseFloat(number, 64)
		if err != nil || decimalText(v, 0) != number {
			t.Fatalf("%q is %v, %s", number, err, decimalText(v, 0))
		}
	})
	for _, number := range []string{"0", "18.4", "100000", "0.00001", "-2.5", "123456789012345", "999999.999999999"} {
		if _, ok := exactNumber([]byte(number)); !ok {
			t.Errorf("%s takes arithmetic", number)
		}
	}
}

func TestCellsAreQuotedAsTheStandardLibraryQuotesThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		row := rapid.SliceOfN(rapid.StringMatching(`[ a,;"\t\xa0\\.ø-]{0,4}`), 2, 4).Draw(t, "row")
		if slices.Contains(row, `\.`) {
			return // marked only for another program's sake
		}
		var want bytes.Buffer
		w := csv.NewWriter(&want)
		if err := w.Write(row); err != nil {
			t.Fatal(err)
		}
		w.Flush()
		var got []byte
		for i, text := range row {
			if i > 0 {
				got = append(got, ',')
			}
			got = appendCell(got, []byte(text))
		}
		if string(got)+"\n" != want.String() {
			t.Fatalf("%s, want %s", got, want.String())
		}
	})
}
