package app

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/data"
	"fitfill/importers"
)

// A table that goes out as a workbook comes back cell for cell; a line break within
// a cell is read as a space, as in every workbook.
func TestATableComesBackOutOfItsWorkbook(t *testing.T) {
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.OneOf(rapid.StringMatching(`[A-Za-z0-9 ,;"'=+@./-]{0,8}`), rapid.SampledFrom([]string{"00123", "'=1+1", "54,0 mm", "1.80E+11", "Dichtring ø", "_x000D_", "_x005F_x41_", "a & <b>", "TRUE", "2026-03-02", "😀"}))
		rows := [][]string{{"Number", "Type", "Text"}}
		for range rapid.IntRange(1, 5).Draw(t, "rows") {
			rows = append(rows, []string{"TX-1" + cell.Draw(t, "number"), cell.Draw(t, "type"), cell.Draw(t, "text") + "x"})
		}
		var table bytes.Buffer
		w := csv.NewWriter(&table)
		if err := w.WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		raw, err := Workbook(table.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		s, err := importers.Open(ref, "back.xlsx", raw, importers.Settings{"header": "1"})
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range rows {
			got := s.Cells(i, nil)
			for k := range want {
				if strings.TrimSpace(got[k]) != strings.TrimSpace(want[k]) {
					t.Fatalf("row %d: %q, want %q", i+1, got, want)
				}
			}
		}
	})
	if _, err := Workbook([]byte("a,b\n\"c")); err == nil {
		t.Error("half a table was written")
	}
	if again := func() []byte { b, _ := Workbook([]byte("a,b\n")); return b }; !slices.Equal(again(), again()) {
		t.Error("the same table makes two workbooks")
	}
}
