package importers

import (
	"testing"

	"fitfill/catalog"

	"pgregory.net/rapid"
)

// TestTextThatStaysAsItIs holds the short way of reading a cell against the long one, in
// every field of text of every kind of sheet.
func TestTextThatStaysAsItIs(t *testing.T) {
	var columns []*planColumn
	for _, spec := range kinds() {
		for _, f := range spec.fields {
			if f.kind != catalog.KindText {
				continue
			}
			if c := columnOf(t, spec.kind, Column{Field: f.name}); c.list == nil {
				columns = append(columns, c)
			}
		}
	}
	if len(columns) < 20 {
		t.Fatal(len(columns), "columns")
	}
	sign := rapid.SampledFrom([]rune("aZ09 ,;.-/+&<_=#'\"E°é\u00a0\t\n\x00\x7f"))
	short := 0
	rapid.Check(t, func(t *rapid.T) {
		cell := trim(rapid.StringOfN(sign, 1, 50, -1).Draw(t, "cell"))
		if cell == "" {
			return
		}
		for _, c := range columns {
			if !staysAsItIs(c.field.name, cell) {
				continue
			}
			short++
			if out := c.fresh(cell); out != (canon{text: cell}) {
				t.Fatalf("%s: %q is %+v", c.field.name, cell, out)
			}
		}
	})
	if short == 0 {
		t.Fatal("no text went the short way")
	}
}
