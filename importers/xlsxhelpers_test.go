package importers

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"testing"

	"github.com/xuri/excelize/v2"
)

// workbookOf writes a workbook with a general-purpose library and returns its
// bytes.
func workbookOf(t interface{ Fatal(...any) }, fill func(f *excelize.File) error) []byte {
	f := excelize.NewFile()
	defer f.Close()
	if err := fill(f); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func set(f *excelize.File, cells map[string]any) error {
	for at, v := range cells {
		if err := f.SetCellValue("Sheet1", at, v); err != nil {
			return err
		}
	}
	return nil
}

func styled(f *excelize.File, at, format string) error {
	id, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
	if err != nil {
		return err
	}
	return f.SetCellStyle("Sheet1", at, at, id)
}

// rowsOf opens a workbook and returns the cells of each of its lines.
func rowsOf(t *testing.T, raw []byte, settings Settings) (*Sheet, [][]string) {
	t.Helper()
	s, err := Open(reference(t), "list.xlsx", raw, settings)
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for i := range s.records.n {
		rows = append(rows, s.Cells(i, nil))
	}
	return s, rows
}

// partsOf returns the parts of a workbook by name.
func partsOf(t *testing.T, raw []byte) map[string]string {
	t.Helper()
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
	}
	return parts
}

// edited changes the text of one part of a workbook.
func edited(t *testing.T, raw []byte, part string, change func(string) string) []byte {
	t.Helper()
	parts := partsOf(t, raw)
	was := parts[part]
	if parts[part] = change(was); parts[part] == was {
		t.Fatalf("nothing was changed in %s", part)
	}
	return zipOf(t, parts)
}

func hasNote(s *Sheet, code string) bool {
	for _, n := range s.Notes {
		if n.Code == code {
			return true
		}
	}
	return false
}

func asks(s *Sheet, code string) bool {
	for _, q := range s.questions {
		if q.Code == code {
			return true
		}
	}
	return false
}

func twoColumns(t *testing.T) []byte {
	return workbookOf(t, func(f *excelize.File) error {
		return errors.Join(set(f, map[string]any{"A1": "Number", "B1": "Price EUR", "A2": "TX-1", "B2": 1.5, "A3": "TX-2", "B3": 2.5, "A4": "TX-3", "A5": "TX-4", "B5": 3}), f.SetCellFormula("Sheet1", "B4", "SUM(B2:B3)"))
	})
}

func zipOf(t *testing.T, parts map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for name, text := range parts {
		f, err := w.Create(name)
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
