package importers

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
)

func gzipped(raw []byte) []byte {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	w.Write(raw)
	w.Close()
	return b.Bytes()
}

func zipped(t *testing.T, files ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		f, err := w.Create(files[i])
		if err == nil {
			_, err = f.Write([]byte(files[i+1]))
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

const smallSheet = "number;price\nA-1;5\nA-2;6\n"

func TestASheetIsTakenOutOfAnArchive(t *testing.T) {
	ref := reference(t)
	plain, err := Open(ref, "list.csv", []byte(smallSheet), nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, raw := range map[string][]byte{
		"gzip":          gzipped([]byte(smallSheet)),
		"zip: list.csv": zipped(t, "__MACOSX/list.csv", "junk", ".hidden", "junk", "list.csv", smallSheet),
	} {
		s, err := Open(ref, "list", raw, nil)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if s.Packed != name || s.SHA256 != plain.SHA256 || s.Rows() != 2 {
			t.Errorf("%s: packed %q, %d rows, hash of the sheet %t", name, s.Packed, s.Rows(), s.SHA256 == plain.SHA256)
		}
	}
}

func TestAnArchiveOfSeveralSheetsIsAChoice(t *testing.T) {
	ref := reference(t)
	raw := zipped(t, "a/caps.csv", smallSheet, "hoses.csv", "number;price\nH-1;7\n")
	_, err := Open(ref, "lists.zip", raw, nil)
	var choice *SheetChoice
	if !errors.As(err, &choice) || !slices.Equal(choice.Sheets, []string{"a/caps.csv", "hoses.csv"}) {
		t.Fatalf("%v", err)
	}
	s, err := Open(ref, "lists.zip", raw, Settings{"sheet": "hoses.csv"})
	if err != nil || s.Rows() != 1 || s.Cells(1, nil)[0] != "H-1" {
		t.Fatalf("%v", err)
	}
	if _, err = Open(ref, "lists.zip", raw, Settings{"sheet": "other"}); err == nil || !strings.Contains(err.Error(), `no sheet "other"`) {
		t.Errorf("%v", err)
	}
}

func TestWhatComesWithASheetInAnArchiveIsNoChoice(t *testing.T) {
	ref := reference(t)
	raw := zipped(t, "README", "Prices are net.\n", "list.csv", smallSheet, "terms.txt", "Pay soon.\n", "page", "%PDF-1.4", "blob.dat", "\x00\x01\x02\x03")
	s, err := Open(ref, "list.zip", raw, nil)
	if err != nil || s.Packed != "zip: list.csv" || len(s.Notes) != 1 || !strings.Contains(s.Notes[0].Text, "README, terms.txt, page, blob.dat") {
		t.Fatalf("%+v %v", s, err)
	}
	if s, err = Open(ref, "list.zip", zipped(t, "readme.txt", smallSheet), nil); err != nil || s.Rows() != 2 {
		t.Error("the only file of an archive is looked at whatever its name", err)
	}
	if s, err = Open(ref, "list.zip", raw, Settings{"sheet": "terms.txt"}); err == nil && s.Packed != "zip: terms.txt" {
		t.Errorf("a file that was chosen is not read: %s", s.Packed)
	}
}

func TestArchivesThatCannotBeTrustedAreRefused(t *testing.T) {
	ref := reference(t)
	noise := make([]byte, 200_000)
	for i, x := 0, uint32(7); i < len(noise); i++ {
		x = x*1664525 + 1013904223
		noise[i] = "abcdefghijklmnopqrstuvwxyz0123456789;\n"[x>>16%38]
	}
	whole := gzipped(append([]byte(smallSheet), noise...))
	bomb := strings.Repeat("number;price\n", 400_000)
	many := []string{}
	for i := range 101 {
		many = append(many, fmt.Sprintf("%d.csv", i), "x")
	}
	changed := slices.Clone(whole)
	changed[len(changed)-6] ^= 1
	for name, tc := range map[string]struct {
		raw  []byte
		set  Settings
		want string
	}{
		"cut in the middle":     {whole[:len(whole)/2], nil, "is cut off"},
		"cut before its check":  {whole[:len(whole)-3], nil, "is cut off"},
		"check sum":             {changed, nil, "is damaged"},
		"gzip bomb":             {gzipped([]byte(bomb)), nil, "200 times its size"},
		"zip bomb":              {zipped(t, "list.csv", bomb), nil, "200 times its size"},
		"too much":              {whole, Settings{"limit-unpacked": "100KiB"}, "unpacks to more than 100 KiB"},
		"too large":             {[]byte(smallSheet), Settings{"limit-file": "10"}, "larger than 10 bytes"},
		"too many rows":         {[]byte(smallSheet), Settings{"limit-rows": "2"}, "more than 2"},
		"too many columns":      {[]byte(strings.Repeat("x;", 2000) + "y\n"), nil, "more than 1000"},
		"archive in an archive": {gzipped(gzipped([]byte(smallSheet))), nil, "another archive"},
		"zip in a zip":          {zipped(t, "list.zip", string(zipped(t, "list.csv", smallSheet))), nil, "another archive"},
		"many files":            {zipped(t, many...), nil, "more than 100 files"},
		"nothing inside":        {zipped(t), nil, "empty zip archive"},
		"workbook":              {zipped(t, "[Content_Types].xml", "<x/>", "xl/workbook.xml", "<x/>"), nil, "is a damaged workbook"},
		"open workbook":         {zipped(t, "mimetype", "application/x", "content.xml", "<x/>"), nil, "spreadsheet workbook (ods)"},
		"nothing at all":        {nil, nil, "is empty"},
	} {
		s, err := Open(ref, "list", tc.raw, tc.set)
		if s != nil || err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: %v, want %q", name, err, tc.want)
		}
	}
}
