package app

import (
	"archive/zip"
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// An archive is a sheet, a choice of sheets, or refused; what is refused leaves
// no trace, and nothing of a cut archive is taken.
func TestAnArchiveIsASheetAChoiceOrRefused(t *testing.T) {
	ctx := context.Background()
	s := garage(t)
	list := partsList("A", 40, 82)
	s.mustImport(t, list, Imported)
	before := s.seen(t)
	next := partsList("A", 41, 83)
	whole := packed(next.Raw)
	for name, raw := range map[string][]byte{
		"gzip cut in the middle": whole[:len(whole)/2], "gzip cut at its end": whole[:len(whole)-2],
		"gzip of too much": packed(bytes.Repeat([]byte("number;type\n"), 400_000)), "a workbook": zipOf(t, "[Content_Types].xml", "<x/>", "xl/workbook.xml", "<x/>"),
	} {
		a, err := s.Import(ctx, ImportQuestion{Name: "next.gz", Raw: raw, Supplier: list.Supplier})
		if err == nil || a.Status != "" || !strings.Contains(err.Error(), "next.gz") {
			t.Errorf("%s: %s, %v", name, a.Status, err)
		}
	}
	sheets, err := s.Sheets(ctx)
	if err != nil || len(sheets) != 1 {
		t.Errorf("%d sheets, %v", len(sheets), err)
	}
	if d := cmp.Diff(before, s.seen(t)); d != "" {
		t.Errorf("a refused archive changed the catalogue:\n%s", d)
	}

	q := ImportQuestion{Name: "next.zip", Raw: zipOf(t, "caps.csv", "number;type\nC-1;cap\n", "list.csv", string(next.Raw)), Supplier: list.Supplier}
	a := s.mustImport(t, q, Staged)
	if len(a.Open) != 1 || cmp.Diff([]string{"caps.csv", "list.csv"}, a.Open[0].Choices) != "" {
		t.Fatalf("%+v", a.Open)
	}
	a, err = s.AcceptStaged(ctx, a.ID, ImportQuestion{Settings: map[string]string{"sheet": "list.csv"}})
	if err != nil || a.Status != Imported || a.Changes.Added != 1 || a.Changes.Changed != 40 {
		t.Fatalf("%s, %+v, %+v, %v", a.Status, a.Changes, a.Open, err)
	}
	s.mustBeSound(t)
	next.Name = "plain.csv"
	s.mustImport(t, next, Unchanged)
}

func zipOf(t *testing.T, files ...string) []byte {
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
