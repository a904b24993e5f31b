package importers

import (
	"slices"
	"testing"

	"fitfill/catalog"
)

// A heading that stands between the rows in capitals or in short is the heading,
// and the rows below it are rows of the same list.
func TestHeadingRepeatedInOtherLetters(t *testing.T) {
	const head, rows = "Part no;Description;Price EUR;Stock\n", "KV-1;Bolt M8;12,50;4\nKV-2;Bolt M6;13,50;5\n"
	for again, want := range map[string]bool{
		"PART NO;DESCRIPTION;PRICE EUR;STOCK\n":        true,
		"Part  Nr.;Description; Price EUR;Stock:\n":    true,
		"Part number;Descr.;Price EUR;Stock\n":         true,
		"Part no;Description;Price EUR;Stock;;\n":      true,
		"Description;Part no;Price EUR;Stock\n":        false, // columns that changed places
		"Part no;Description;Price EUR;Pack\n":         false,
		"Part no;Description;Price EUR;Stock;Weight\n": false,
	} {
		_, held, report := readText(t, catalog.SupplierSheet, head+rows+again+"KV-3;Cap;4,50;1\nKV-4;Hose;9,50;2\n", Options{})
		switch {
		case want && (len(held) > 0 || report.RowsTaken != 4 || len(report.Skipped) != 1 || report.Skipped[0].Class != "repeated heading"):
			t.Errorf("%q: held %v, skipped %+v, %d taken", again, held, report.Skipped, report.RowsTaken)
		case !want && !slices.Contains(held, "4 other-table"):
			t.Errorf("%q: held %v, skipped %+v", again, held, report.Skipped)
		}
	}
}

// So is a heading of two rows.
func TestHeadingOfTwoRowsRepeatedInCapitals(t *testing.T) {
	const text = "Part no;Description;Bore;Stock\n;;mm;\nKV-1;Bolt;12,5;4\nKV-2;Bolt;13,5;5\n" +
		"PART NO;DESCRIPTION;BORE;STOCK\n;;MM;\nKV-3;Cap;4,5;1\nKV-4;Hose;9,5;2\n"
	s, err := openSheet(testVocabulary(t), "list.csv", []byte(text), Settings{"header": "1-2"})
	if err != nil {
		t.Fatal(err)
	}
	var classes []Class
	for _, r := range s.Records() {
		classes = append(classes, r.Class)
	}
	want := []Class{ClassHeading, ClassHeading, ClassData, ClassData, ClassRepeated, ClassRepeated, ClassData, ClassData}
	if !slices.Equal(classes, want) {
		t.Errorf("%v, want %v", classes, want)
	}
}
