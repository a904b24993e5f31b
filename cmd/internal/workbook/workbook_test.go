package workbook

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

func written(t interface{ Fatal(...any) }, rows [][]string) []byte {
	var b bytes.Buffer
	if err := Write(&b, rows); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// sameByTheLibrary checks that a general-purpose library reads every cell as it was
// given, as a text, shown as one.
func sameByTheLibrary(t interface {
	Fatal(...any)
	Fatalf(string, ...any)
}, rows [][]string) {
	f, err := excelize.OpenReader(bytes.NewReader(written(t, rows)))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if list := f.GetSheetList(); !slices.Equal(list, []string{Worksheet}) {
		t.Fatalf("the worksheets are %q", list)
	}
	for i, row := range rows {
		for k, want := range row {
			at, err := excelize.CoordinatesToCellName(k+1, i+1)
			if err != nil {
				t.Fatal(err)
			}
			got, err1 := f.GetCellValue(Worksheet, at)
			kind, err2 := f.GetCellType(Worksheet, at)
			style, err3 := f.GetCellStyle(Worksheet, at)
			formula, err4 := f.GetCellFormula(Worksheet, at)
			if err := errors.Join(err1, err2, err3, err4); err != nil {
				t.Fatal(err)
			}
			look, err := f.GetStyle(style)
			if err != nil || got != strings.ToValidUTF8(want, "\uFFFD") || kind != excelize.CellTypeInlineString || look.NumFmt != 49 || formula != "" {
				t.Fatalf("%s is %q, type %v, format %v, formula %q, %v; want %q", at, got, kind, look, formula, err, want)
			}
		}
	}
}

func TestAGeneralLibraryReadsWhatIsWritten(t *testing.T) {
	sameByTheLibrary(t, [][]string{
		{"Number", "Price", "Note"},
		{"00123", "1.50", "=SUM(A1:A2)"},
		{"'-4711", "2026-03-02", "a & b <c> \"d\" 'e'"},
		{"  both ends  ", "\ta tab\t", "two\nlines\r\nand\rmore"},
		{"", "Dichtring ø 😀 ]]>", "_x000D_ _x005F_ _x00zz_ _x12_ __x0041_"},
		{"\x00\x01\x1f", "\x7f\u0085\u2028\uFFFD", "\uFFFE\uFFFF"},
		{"short row"},
		{},
		{strings.Repeat("x", MostText), "1e5", "TRUE"},
	})
}

func TestAnyTextComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.OneOf(rapid.String(), rapid.StringMatching(`(_|x|0|D|_x000D_|_x005F_|[\x00-\x1f]|[a-f0-9]){0,12}`))
		sameByTheLibrary(t, rapid.SliceOfN(rapid.SliceOfN(cell, 0, 4), 1, 4).Draw(t, "rows"))
	})
}

// A byte that is no letter is not left out silently.
func TestBytesThatAreNoText(t *testing.T) {
	sameByTheLibrary(t, [][]string{{"a\xffb", "\xc3"}})
}

func TestColumnsAreNamedAsTheLibraryNamesThem(t *testing.T) {
	for i := range MostColumns {
		if want, err := excelize.ColumnNumberToName(i + 1); err != nil || column(i) != want {
			t.Fatalf("column %d is %s, want %s, %v", i, column(i), want, err)
		}
	}
}

// The first row stays in view, by what the library reads.
func TestTheHeadingStaysInView(t *testing.T) {
	f, err := excelize.OpenReader(bytes.NewReader(written(t, [][]string{{"Number"}, {"TX-1"}})))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if p, err := f.GetPanes(Worksheet); err != nil || !p.Freeze || p.YSplit != 1 || p.XSplit != 0 || p.TopLeftCell != "A2" {
		t.Errorf("%+v, %v", p, err)
	}
}

// Every part is named by the list of content types, is well formed, and is pointed
// to by the part that needs it (ISO/IEC 29500-2, Open Packaging Conventions).
func TestTheArchiveIsAPackage(t *testing.T) {
	raw := written(t, [][]string{{"Number"}})
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		t.Fatal(err)
	}
	parts := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		parts[f.Name] = string(text)
		for d := xml.NewDecoder(bytes.NewReader(text)); ; {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
		}
	}
	for name := range parts {
		if strings.HasSuffix(name, ".rels") || name == "[Content_Types].xml" {
			continue
		}
		if !strings.Contains(parts["[Content_Types].xml"], `PartName="/`+name+`"`) {
			t.Errorf("%s has no content type", name)
		}
		if !strings.Contains(parts["_rels/.rels"], `"`+name+`"`) && !strings.Contains(parts["xl/_rels/workbook.xml.rels"], `"`+strings.TrimPrefix(name, "xl/")+`"`) {
			t.Errorf("nothing points to %s", name)
		}
	}
}

func TestWhatFitsIntoNoWorksheet(t *testing.T) {
	for name, c := range map[string]struct {
		rows [][]string
		want string
	}{
		"rows":    {make([][]string, MostRows+1), "holds 1048576 rows, and these are 1048577"},
		"columns": {[][]string{{"x"}, make([]string, MostColumns+1)}, "row 2 has 16385"},
		"text":    {[][]string{{strings.Repeat("😀", MostText/2+1)}}, "one of row 1 has 32768"},
	} {
		if err := Write(io.Discard, c.rows); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := Write(io.Discard, [][]string{{strings.Repeat("ø", MostText)}}); err != nil {
		t.Error(err)
	}
}

type full struct{ room int }

func (f *full) Write(p []byte) (int, error) {
	if f.room -= len(p); f.room < 0 {
		return 0, errors.New("the disk is full")
	}
	return len(p), nil
}

func TestAFullDiskIsReported(t *testing.T) {
	rows := [][]string{{"Number"}, {"TX-1"}}
	whole := len(written(t, rows))
	for room := range whole {
		if err := Write(&full{room}, rows); err == nil {
			t.Fatalf("%d bytes of %d were written, and nothing was said", room, whole)
		}
	}
	if err := Write(&full{whole}, rows); err != nil {
		t.Error(err)
	}
}
