package data

import (
	"strings"
	"testing"

	"fitfill/catalog"
)

func TestEveryTableHasAShapeWhoseKeyNamesItsRows(t *testing.T) {
	ref, err := Reference()
	if err != nil {
		t.Fatal(err)
	}
	shapes, err := Shapes()
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, s := range shapes {
		listed[s.Table] = true
		seen := map[string]int{}
		for _, r := range ref[s.Table] {
			for _, c := range s.Key {
				if _, ok := r.Cells[c]; !ok {
					t.Errorf("%s has no column %s", s.Table, c)
				}
			}
			if at := seen[s.Of(r)]; at > 0 && !s.Many {
				t.Errorf("%s, lines %d and %d: %q names both", s.Table, at, r.Line, s.Of(r))
			}
			seen[s.Of(r)] = r.Line
		}
		if len(ref[s.Table]) == 0 {
			t.Errorf("there is no table %s", s.Table)
		}
	}
	for name := range ref {
		if listed[name] == strings.HasPrefix(name, readBy) {
			t.Errorf("%s: may be overridden: %v", name, listed[name])
		}
	}
}

func TestOwnRowsTakeThePlaceOfThoseOfTheSameKey(t *testing.T) {
	row := func(table string, line int, cells ...string) catalog.RefRow {
		r := catalog.RefRow{Table: table, Line: line, Cells: map[string]string{}}
		for i := 0; i < len(cells); i += 2 {
			r.Cells[cells[i]] = cells[i+1]
		}
		return r
	}
	pairs := Shape{Table: "coolant_pairs", Key: []string{"a", "b"}}
	merged, replaced, added := pairs.Overlay(
		[]catalog.RefRow{row("coolant_pairs", 2, "a", "oat", "b", "iat", "class", "C"), row("coolant_pairs", 3, "a", "oat", "b", "oat", "class", "A")},
		[]catalog.RefRow{row("coolant_pairs", 9, "a", "iat", "b", "oat", "class", "D")})
	if len(merged) != 2 || merged[0].Line != 9 || replaced != 1 || added != 0 {
		t.Errorf("a pair the other way round: %v, %d replaced, %d added", merged, replaced, added)
	}
	bands := Shape{Table: "coolant_classes", Key: []string{"class"}, Many: true}
	merged, replaced, added = bands.Overlay(
		[]catalog.RefRow{row("coolant_classes", 2, "class", "C"), row("coolant_classes", 3, "class", "C"), row("coolant_classes", 4, "class", "D")},
		[]catalog.RefRow{row("coolant_classes", 7, "class", "C"), row("coolant_classes", 8, "class", "E")})
	if len(merged) != 3 || merged[0].Line != 7 || merged[2].Line != 8 || replaced != 1 || added != 1 {
		t.Errorf("rows of one class together: %v, %d replaced, %d added", merged, replaced, added)
	}
}
