package importers

import (
	"archive/zip"
	"bytes"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

func bookOf(t *testing.T, raw []byte) *book {
	t.Helper()
	b, err := openBook("list.xlsx", bytes.NewReader(raw), usualLimits(), nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := b.close(); err != nil {
			t.Error(err)
		}
	})
	return b
}

// libraryShape is how a style shows numbers by what a general-purpose library says
// of it.
func libraryShape(t *testing.T, f *excelize.File, style int) shape {
	t.Helper()
	s, err := f.GetStyle(style)
	switch {
	case err != nil:
		return shape{}
	case s.CustomNumFmt != nil:
		return readShape(*s.CustomNumFmt)
	case builtInDate(s.NumFmt):
		return shape{date: true}
	}
	return builtInShapes[s.NumFmt]
}

// Which number format a style has is what a general-purpose library finds, in each
// of the places where the standard lets it stand.
func TestStylesAreThoseThatAGeneralLibraryReads(t *testing.T) {
	raw := workbookOf(t, func(f *excelize.File) error {
		for id := range 90 {
			if _, err := f.NewStyle(&excelize.Style{NumFmt: id}); err != nil {
				return err
			}
		}
		for _, code := range []string{"0.000", "dd.mm.yyyy", `#,##0.00 "EUR"`, "@", "# ?/?", "0%"} {
			if _, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code}); err != nil {
				return err
			}
		}
		return nil
	})
	more := edited(t, raw, "xl/styles.xml", func(s string) string {
		head, rest, _ := strings.Cut(s, "<numFmts")
		return head + "<numFmts" + strings.Replace(rest, "</numFmts>", `<numFmt numFmtId="14" formatCode="0.0"/><numFmt numFmtId="5" formatCode="0&quot; mm&quot;"/><numFmt numFmtId="65" formatCode="yyyy"/><numFmt numFmtId="65" formatCode="0.00"/></numFmts>`, 1)
	})
	all := edited(t, more, "xl/styles.xml", func(s string) string {
		var cells strings.Builder
		for id := range 200 {
			fmt.Fprintf(&cells, `<xf numFmtId="%d" fontId="0"/>`, id)
		}
		return strings.Replace(s, "</cellXfs>", cells.String()+"<xf/></cellXfs>", 1)
	})
	for name, raw := range map[string][]byte{"as written": raw, "with ids of its own": more, "every id": all} {
		b := bookOf(t, raw)
		f, err := excelize.OpenReader(bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		if n := len(b.styles.Cells); n < 40 {
			t.Fatalf("%s: %d styles", name, n)
		}
		for style := -1; style <= len(b.styles.Cells)+1; style++ {
			if got, want := *b.shapeOf(style), libraryShape(t, f, style); !reflect.DeepEqual(got, want) {
				t.Errorf("%s: style %d is %+v, want %+v", name, style, got, want)
			}
		}
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	}
}

// A day and its time are those that a general-purpose library finds, to the second,
// from either year on (ISO/IEC 29500-1, 18.17.4.1).
func TestDaysAreThoseOfAGeneralLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := &book{from: rapid.Bool().Draw(t, "from 1904")}
		v := float64(rapid.IntRange(61, 2_950_000).Draw(t, "day"))
		if seconds := rapid.IntRange(0, 86_399).Draw(t, "seconds"); rapid.Bool().Draw(t, "with a time") {
			v += float64(seconds) / 86_400
		}
		day, err := excelize.ExcelDateToTime(v, b.from)
		if err != nil {
			t.Fatal(err)
		}
		want := day.Format("2006-01-02")
		if v != math.Trunc(v) {
			want = day.Format("2006-01-02 15:04:05")
		}
		if got := b.day("number", v); got != want {
			t.Fatalf("%v: %s, want %s", v, got, want)
		}
	})
	for _, c := range []struct {
		v    float64
		from bool
		want string
	}{
		{60, false, "x"}, {61, false, "1900-03-01"}, {0.5, true, "x"}, {1, true, "1904-01-02"}, {-1, true, "x"},
		{2958465, false, "9999-12-31"}, {2958466, false, "x"}, {2957003, true, "9999-12-31"}, {2957004, true, "x"}, {1e300, false, "x"},
	} {
		if got := (&book{from: c.from}).day("x", c.v); got != c.want {
			t.Errorf("day %v: %s, want %s", c.v, got, c.want)
		}
	}
}

func TestPlacesOfCellsAreThoseOfAGeneralLibrary(t *testing.T) {
	for _, name := range []string{"A1", "a1", "$A$1", "AB12", "$XFD$1048576", "XFE1", "A1048577", "A0", "A", "1", "", "A-1", "A1B", "Ä1", " A1", "A 1", "$$", "A$1"} {
		column, row, ok := cellPlace(name)
		right, down, err := excelize.CellNameToCoordinates(name)
		if ok != (err == nil) || ok && (column+1 != right || row != down) {
			t.Errorf("%q: column %d, row %d, %v; the library says %d, %d, %v", name, column+1, row, ok, right, down, err)
		}
	}
}

// The strict form of the standard (ISO/IEC 29500-1; the usual one is 29500-4) names
// everything otherwise and says the same; the styles may stand in a part of another
// name.
func TestWorkbookOfTheStrictForm(t *testing.T) {
	date := "yyyy-mm-dd"
	raw := workbookOf(t, func(f *excelize.File) error {
		if err := set(f, map[string]any{"A1": "Number", "B1": "Stock date", "A2": "TX-1", "B2": time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)}); err != nil {
			return err
		}
		return styled(f, "B2", date)
	})
	strict := strings.NewReplacer("http://schemas.openxmlformats.org/spreadsheetml/2006/main", "http://purl.oclc.org/ooxml/spreadsheetml/main",
		"http://schemas.openxmlformats.org/officeDocument/2006/relationships", "http://purl.oclc.org/ooxml/officeDocument/relationships",
		"styles.xml", "looks.xml")
	parts := map[string]string{}
	for name, text := range partsOf(t, raw) {
		parts[strings.Replace(name, "styles.xml", "looks.xml", 1)] = strict.Replace(text)
	}
	if _, rows := rowsOf(t, zipOf(t, parts), nil); rows[1][1] != "2026-03-02" {
		t.Errorf("%q", rows)
	}
}

// What a workbook says of itself is refused where it is damaged, whatever the rest
// says.
func TestWorkbookWithADamagedFrame(t *testing.T) {
	whole := twoColumns(t)
	for name, raw := range map[string][]byte{
		"styles cut":       edited(t, whole, "xl/styles.xml", func(s string) string { return s[:len(s)/2] }),
		"style's id":       edited(t, whole, "xl/styles.xml", func(s string) string { return strings.ReplaceAll(s, `numFmtId="0"`, `numFmtId="x"`) }),
		"another document": edited(t, whole, "xl/workbook.xml", func(s string) string { return strings.ReplaceAll(s, "workbook", "book") }),
		"another name space": edited(t, whole, "xl/workbook.xml", func(s string) string {
			return strings.Replace(s, "spreadsheetml/2006/main", "spreadsheetml/2099/main", 1)
		}),
		"from when its days count": edited(t, whole, "xl/workbook.xml", func(s string) string { return strings.Replace(s, "<workbookPr ", `<workbookPr date1904="2" `, 1) }),
		"check sum of the styles":  withBadSum(t, whole, "xl/styles.xml"),
	} {
		if _, err := Open(reference(t), "list.xlsx", raw, nil); err == nil || !strings.Contains(err.Error(), "is a damaged workbook") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// withBadSum changes a part's check sum, and leaves the rest.
func withBadSum(t *testing.T, raw []byte, part string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for name, text := range partsOf(t, raw) {
		if name != part {
			f, err := w.Create(name)
			if err == nil {
				_, err = f.Write([]byte(text))
			}
			if err != nil {
				t.Fatal(err)
			}
			continue
		}
		f, err := w.CreateRaw(&zip.FileHeader{Name: name, CRC32: 1, CompressedSize64: uint64(len(text)), UncompressedSize64: uint64(len(text))})
		if err == nil {
			_, err = f.Write([]byte(text))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
