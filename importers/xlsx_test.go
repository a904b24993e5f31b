package importers

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"fitfill/catalog"
)

// What a cell shows and what it holds are two truths: of each the one is taken
// that loses nothing (the number formats of ISO/IEC 29500-1, 18.8.30).
func TestWorkbookCellsKeepTheirDigits(t *testing.T) {
	when := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name, format, want string
		value              any
	}{
		{"text with zeros", "", "00123", "00123"},
		{"zero mask", "000000", "000123", 123},
		{"long number", "", "180000012345", int64(180000012345)},
		{"number beyond its digits", "", "1.23456789012345E+16", 12345678901234567.0},
		{"number with rounding dust", "", "18.4", 18.400000000000002},
		{"hidden decimals", "0.0", "12.55", 12.55},
		{"shown decimals", "0.00", "12.50", 12.5},
		{"thousands", "#,##0.00", "1234.50", 1234.5},
		{"currency behind", `#,##0.00 "EUR"`, "12.50 EUR", 12.5},
		{"currency sign", `[$€-407] #,##0.00`, "12.50 €", 12.5},
		{"unit", `0.0" mm"`, "54.0 mm", 54},
		{"degrees", `0" °C"`, "82 °C", 82},
		{"percent", "0%", "50%", 0.5},
		{"fraction", "# ?/?", "2 1/8", 2.125},
		{"whole in a fraction format", "# ?/?", "2", 2},
		{"date", "dd.mm.yyyy", "2026-03-02", when},
		{"date made of a number", "d-mmm", "2025-10-03", 45933},
		{"scientific", "0.00E+00", "180000012345", int64(180000012345)},
		{"truth", "", "TRUE", true},
		{"letters in front", `"TH-"0000`, "TH-0012", 12},
		{"a letter in front", `\K\-000`, "K-1234", 1234},
		{"digits in front", `"10-"0000`, "10-0012", 12},
		{"letters between", `00"K"000`, "12K345", 12345},
		{"letters on both sides", `"A"000"B"`, "A007B", 7},
		{"letters behind a dash", `0000"-A"`, "0012-A", 12},
		{"dashes between", "000-000-000", "123-456-789", 123456789},
		{"letters in front of any number", `"P-"General`, "P-4711", 4711},
		{"letters in front, below zero", `"P-"0`, "-P-5", -5},
		{"letters in front, decimals nobody shows", `"P-"0`, "P-4.5", 4.5},
		{"unit behind any number", `General" mm"`, "5.5 mm", 5.5},
		{"diameter in front", `"Ø "0.0`, "Ø 53.6", 53.6},
		{"a bookkeeper's spaces", `_-* #,##0.00 "€"_-;-* #,##0.00 "€"_-`, "12.50 €", 12.5},
		{"thousands by a space", `#\ ##0.00`, "1234.50", 1234.5},
		{"currency in words in front", `"EUR" 0.00`, "EUR 12.50", 12.5},
		{"colours and conditions", `[Red][>100]0.00;[Blue]0.0`, "12.50", 12.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			raw := workbookOf(t, func(f *excelize.File) error {
				err := set(f, map[string]any{"A1": "Number", "B1": "Value", "A2": "TX-1", "B2": c.value, "A3": "TX-2", "B3": "x"})
				if err == nil && c.format != "" {
					err = styled(f, "B2", c.format)
				}
				return err
			})
			_, rows := rowsOf(t, raw, nil)
			if got := rows[1][1]; got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

func TestWorkbookRowsStandOnTheirOwnLines(t *testing.T) {
	raw := workbookOf(t, func(f *excelize.File) error {
		return set(f, map[string]any{"A1": "Price list", "A3": "Number", "B3": "Type", "C3": "Note", "A4": "TX-1", "B4": "seal", "A7": "TX-2", "B7": "cap", "C7": "two\nlines, with \"marks\""})
	})
	s, rows := rowsOf(t, raw, nil)
	if s.HeaderLine != 3 || s.records.n != 7 || s.Packed != "workbook: Sheet1" {
		t.Fatalf("heading on line %d, %d lines, packed %q", s.HeaderLine, s.records.n, s.Packed)
	}
	if got := rows[6]; got[0] != "TX-2" || got[2] != `two lines, with "marks"` {
		t.Errorf("line 7: %q", got)
	}
	if c, err := CheckLedger(s.Spans(nil), s.File().Size(), nil); err != nil || c.Imported != 2 || c.Classes["blank"] != 3 {
		t.Errorf("%+v, %v", c, err)
	}
	if !hasNote(s, "line-breaks") {
		t.Errorf("notes %+v", s.Notes)
	}
}

func TestWorkbookAsksAboutMergedAndHiddenCells(t *testing.T) {
	raw := workbookOf(t, func(f *excelize.File) error {
		return errors.Join(
			set(f, map[string]any{"A1": "Number", "B1": "Type", "C1": "Cost", "A2": "TX-1", "B2": "seal", "C2": 1, "A3": "TX-2", "C3": 2, "A4": "TX-9", "B4": "cap", "C4": 3}),
			f.MergeCell("Sheet1", "B2", "B3"), f.SetRowVisible("Sheet1", 4, false), f.SetColVisible("Sheet1", "C", false))
	})
	s, rows := rowsOf(t, raw, nil)
	if !asks(s, "hidden") || !asks(s, "merged") || rows[2][1] != "" || rows[3][0] != "TX-9" || rows[1][2] != "1" {
		t.Errorf("asks %+v\n%q", s.questions, rows)
	}
	s, rows = rowsOf(t, raw, Settings{"hidden": "leave", "merged": "repeat"})
	if asks(s, "hidden") || asks(s, "merged") || rows[2][1] != "seal" || len(rows) != 3 || len(rows[1]) != 2 {
		t.Errorf("asks %+v\n%q", s.questions, rows)
	}
}

func TestWorkbookOfSeveralSheetsIsAChoice(t *testing.T) {
	raw := workbookOf(t, func(f *excelize.File) error {
		_, err1 := f.NewSheet("Fluids")
		_, err2 := f.NewSheet("Empty")
		_, err3 := f.NewSheet("Old")
		return errors.Join(err1, err2, err3, set(f, map[string]any{"A1": "Number", "B1": "Type", "A2": "TX-1", "B2": "seal"}),
			f.SetSheetRow("Fluids", "A1", &[]string{"Number", "Chemistry"}), f.SetSheetRow("Fluids", "A2", &[]string{"PR-1", "oat"}),
			f.SetSheetRow("Old", "A1", &[]string{"Number"}), f.SetSheetVisible("Old", false))
	})
	_, err := Open(reference(t), "list.xlsx", raw, nil)
	var choice *SheetChoice
	if !errors.As(err, &choice) || fmt.Sprint(choice.Sheets) != "[Sheet1 Fluids Old]" {
		t.Fatalf("%v", err)
	}
	if s, rows := rowsOf(t, raw, Settings{"sheet": "Fluids"}); rows[1][1] != "oat" || s.Packed != "workbook: Fluids" {
		t.Errorf("%q %q", rows, s.Packed)
	}
	if _, err := Open(reference(t), "list.xlsx", raw, Settings{"sheet": "Nowhere"}); err == nil || !strings.Contains(err.Error(), "Fluids") {
		t.Errorf("%v", err)
	}
}

var sharedA4 = regexp.MustCompile(`<c r="A4" t="s"><v>\d+</v>`)

// A formula without its value, a text that is not there and an error hold
// their rows.
func TestWorkbookHoldsWhatItHasLost(t *testing.T) {
	for _, c := range []struct {
		name, code, note string
		raw              []byte
	}{
		{"formula without a value", "formula", "formula-uncached", twoColumns(t)},
		{"shared text beyond the last", "text-lost", "text-lost", edited(t, twoColumns(t), "xl/worksheets/sheet1.xml", func(s string) string {
			return sharedA4.ReplaceAllString(s, `<c r="A4" t="s"><v>4000</v>`)
		})},
		{"error", "sheet-error", "", edited(t, twoColumns(t), "xl/worksheets/sheet1.xml", func(s string) string {
			return strings.Replace(s, `t="str"><f>SUM(B2:B3)</f>`, `t="e"><f>1/0</f><v>#DIV/0!</v>`, 1)
		})},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := rowsOf(t, c.raw, nil)
			m, questions := Propose(reference(t), "supplier", s, Options{})
			if len(questions) > 0 {
				t.Fatalf("asks %+v", questions)
			}
			rep, err := Read(reference(t), s, m, func(catalog.SheetRow) error { return nil })
			if err != nil || rep.RowsHeld != 1 || rep.Held[0].Code != c.code || rep.Held[0].Line != 4 || c.note != "" && !hasNote(s, c.note) {
				t.Errorf("%+v, %v, notes %+v", rep, err, s.Notes)
			}
		})
	}
}

func TestWorkbookRefusals(t *testing.T) {
	whole := twoColumns(t)
	for name, raw := range map[string][]byte{
		"locked":    append([]byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"), make([]byte, 600)...),
		"cut":       whole[:len(whole)-200],
		"no part":   zipOf(t, map[string]string{"[Content_Types].xml": "<Types/>", "xl/workbook.xml": "<workbook/>"}),
		"binary":    zipOf(t, map[string]string{"[Content_Types].xml": "<Types/>", "xl/workbook.bin": "x"}),
		"document":  zipOf(t, map[string]string{"[Content_Types].xml": "<Types/>", "word/document.xml": "<w/>"}),
		"bomb":      edited(t, whole, "docProps/app.xml", func(s string) string { return s + strings.Repeat(" ", 40<<20) }),
		"not a row": edited(t, whole, "xl/worksheets/sheet1.xml", func(s string) string { return strings.Replace(s, `r="2"`, `r="two"`, 1) }),
	} {
		_, err := Open(reference(t), "list.xlsx", raw, nil)
		if err == nil || !strings.HasPrefix(err.Error(), "list.xlsx ") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Days count from 1900 or from 1904 (ISO/IEC 29500-1, 18.17.4.1).
func TestWorkbookCountsDaysFrom1904(t *testing.T) {
	yes := true
	raw := workbookOf(t, func(f *excelize.File) error {
		return errors.Join(set(f, map[string]any{"A1": "Number", "B1": "Stock date", "A2": "TX-1", "B2": 44471}), styled(f, "B2", "yyyy-mm-dd"), f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
	})
	if _, rows := rowsOf(t, raw, nil); rows[1][1] != "2025-10-03" { // 45933 less 1462 days
		t.Errorf("%q", rows[1])
	}
}

// Days that are counted from 1900 (ISO/IEC 29500-1, 18.17.4.1): day 45000 is
// 2023-03-15, 36526 is 2000-01-01, 44197 is 2021-01-01.
func TestWorkbookCountsDaysFrom1900(t *testing.T) {
	for day, want := range map[int]string{45000: "2023-03-15", 36526: "2000-01-01", 44197: "2021-01-01"} {
		raw := workbookOf(t, func(f *excelize.File) error {
			return errors.Join(set(f, map[string]any{"A1": "Number", "B1": "Stock date", "A2": "TX-1", "B2": day}), styled(f, "B2", "yyyy-mm-dd"))
		})
		if _, rows := rowsOf(t, raw, nil); rows[1][1] != want {
			t.Errorf("day %d: %q", day, rows[1])
		}
	}
}

// A workbook and a text sheet that say the same give the same records.
func TestWorkbookAndItsTwinGiveTheSameRecords(t *testing.T) {
	ref := reference(t)
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.OneOf(rapid.StringMatching(`[A-Za-z0-9 ,;"'./-]{0,8}`), rapid.SampledFrom([]string{"00123", "TX-4711", "54,0 mm", "2-1/8", "=", "#N/A", "1.80E+11", "Dichtring ø"}))
		n, width := rapid.IntRange(1, 6).Draw(t, "rows"), rapid.IntRange(2, 5).Draw(t, "columns")
		var text bytes.Buffer
		w := csv.NewWriter(&text)
		table := [][]string{make([]string, width)}
		for i := range width {
			table[0][i] = []string{"Number", "Type", "Text", "Price EUR", "Engine"}[i]
		}
		for range n {
			row := make([]string, width)
			for i := range row {
				row[i] = cell.Draw(t, "cell")
			}
			row[0] = "TX-1" + row[0]
			row[width-1] += "x"
			table = append(table, row)
		}
		raw := workbookOf(t, func(f *excelize.File) error {
			var err error
			for i, row := range table {
				err = errors.Join(err, f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &row), w.Write(row))
			}
			return err
		})
		w.Flush()
		fixed := Settings{"separator": "comma", "quote": "double", "header": "1"}
		a, err1 := Open(ref, "twin.xlsx", raw, fixed)
		b, err2 := Open(ref, "twin.csv", text.Bytes(), fixed)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if a.records.n != b.records.n {
			t.Fatalf("%d and %d records", a.records.n, b.records.n)
		}
		for i := range a.records.n {
			x, y := a.Cells(i, nil), b.Cells(i, nil)
			if fmt.Sprint(x) != fmt.Sprint(y) || a.records.class(i) != b.records.class(i) || a.records.fault(i) != b.records.fault(i) {
				t.Fatalf("record %d: %q (%v, %s) and %q (%v, %s)", i, x, a.records.class(i), a.records.fault(i).Code(), y, b.records.class(i), b.records.fault(i).Code())
			}
		}
	})
}
