package importers

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
)

func readAll(t testing.TB, s *Sheet, m Mapping) (rows []catalog.SheetRow, report Report) {
	t.Helper()
	report, err := Read(reference(t), s, m, func(r catalog.SheetRow) error {
		rows = append(rows, kept(r))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return rows, report
}

// kept copies what a row points to, as every caller of Read must.
func kept(r catalog.SheetRow) catalog.SheetRow {
	if r.Part != nil {
		part := *r.Part
		part.Facts, part.Fitments, part.CrossRefs = slices.Clone(part.Facts), slices.Clone(part.Fitments), slices.Clone(part.CrossRefs)
		r.Part = &part
	}
	if r.Engine != nil {
		engine := *r.Engine
		engine.Facts = slices.Clone(engine.Facts)
		r.Engine = &engine
	}
	return r
}

func TestRowsOfOnePartThatContradictAreAllHeld(t *testing.T) {
	raw := "Part No,Price,Opening °C,Engine,Notes\n" +
		"A-1,5.50,82,KR6,\n" + // line 2
		"B-1,7.50,88,KR6,one\n" + // 3 and 6: nothing against each other
		"a 1,,88,VM4,\n" + // 4: the same number, another rating
		"A-1,5.50,,VM5,\n" + // 5: says nothing about the rating, held all the same
		"B-1,7.50,,VM4,two\n"
	s, m, questions := propose(t, catalog.SupplierSheet, raw, Options{})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	rows, report := readAll(t, s, m)
	var taken, held []int
	for _, r := range rows {
		taken = append(taken, r.Line)
	}
	for _, h := range report.Held {
		held = append(held, h.Line)
		if h.Code != "conflict" || !strings.Contains(h.Reason, "line 2") || !strings.Contains(h.Reason, "line 4") || catalog.Key(h.Number) != "A1" {
			t.Errorf("held: %+v", h)
		}
	}
	if !slices.Equal(taken, []int{3, 6}) || !slices.Equal(held, []int{2, 4, 5}) {
		t.Errorf("taken %v, held %v", taken, held)
	}
}

func TestEveryRowIsTakenHeldOrSkippedAcrossChunks(t *testing.T) {
	var b strings.Builder
	b.WriteString("Part No;Price\n")
	var wantHeld []int
	for i := range 2*aloneUpTo + 7 {
		switch {
		case i%97 == 3:
			fmt.Fprintf(&b, "N-%d;cheap\n", i)
			wantHeld = append(wantHeld, i+2)
		case i%101 == 5:
			b.WriteString(";\n")
		default:
			fmt.Fprintf(&b, "N-%d;%d,50\n", i, i%50+1)
		}
	}
	s, m, questions := propose(t, catalog.SupplierSheet, b.String(), Options{})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	rows, report := readAll(t, s, m)
	if !slices.IsSortedFunc(rows, func(a, b catalog.SheetRow) int { return a.Line - b.Line }) {
		t.Error("rows do not come in the order of the file")
	}
	var held []int
	for _, h := range report.Held {
		held = append(held, h.Line)
	}
	if !slices.Equal(held, wantHeld) {
		t.Errorf("held %v, want %v", held, wantHeld)
	}
	for _, r := range rows {
		i := r.Line - 2
		if r.Part.Number != fmt.Sprintf("N-%d", i) || r.Part.Facts[0].Int != int64(i%50+1)*10000+5000 {
			t.Fatalf("line %d holds %+v", r.Line, r.Part)
		}
	}
}

func TestShufflingRowsAndColumnsGivesTheSameParts(t *testing.T) {
	a := "Part No;Price EUR;Flange mm\nA-1;5,50;54,0\nA-2;6,50;44,0\nA-3;x;44,0\n"
	b := "Flange mm;Part No;Price EUR\n44,0;A-3;x\n44,0;A-2;6,50\n54,0;A-1;5,50\n"
	parts := func(raw string) []string {
		s, m, _ := propose(t, catalog.SupplierSheet, raw, Options{})
		rows, report := readAll(t, s, m)
		var out []string
		for _, r := range rows {
			slices.SortFunc(r.Part.Facts, func(x, y catalog.Fact) int { return strings.Compare(x.Field, y.Field) })
			out = append(out, say(r))
		}
		for _, h := range report.Held {
			out = append(out, "held "+h.Number)
		}
		slices.Sort(out)
		return out
	}
	if x, y := parts(a), parts(b); !slices.Equal(x, y) || len(x) != 3 {
		t.Errorf("%q\n%q", x, y)
	}
}

func TestReadStopsAtTheErrorOfItsCaller(t *testing.T) {
	s, m, _ := propose(t, catalog.SupplierSheet, "Part No\nA-1\nA-2\n", Options{})
	full := errors.New("disk full")
	if _, err := Read(reference(t), s, m, func(catalog.SheetRow) error { return full }); !errors.Is(err, full) {
		t.Errorf("got %v", err)
	}
}

func TestAMappingOfAnotherSheetIsRefused(t *testing.T) {
	ref := reference(t)
	s, m, _ := propose(t, catalog.SupplierSheet, "Part No,Price\nA-1,5.50\n", Options{})
	other, err := Open(ref, "other.csv", []byte("Price,Part No\n5.50,A-1\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, tc := range map[string]struct {
		sheet   *Sheet
		mapping Mapping
		want    string
	}{
		"columns elsewhere": {other, m, "map the sheet's headings again"},
		"kind":              {s, Mapping{Kind: "wheels"}, "no kind of sheet"},
		"number missing":    {s, Mapping{Kind: catalog.SupplierSheet, Columns: m.Columns[1:]}, "not mapped"},
		"twice": {s, Mapping{Kind: catalog.SupplierSheet, Columns: []Column{
			{Heading: "Part No", Field: "number"}, {Heading: "Price", Index: 1, Field: "number"}}}, "both mapped to number"},
		"field of another kind": {s, Mapping{Kind: catalog.SupplierSheet, Columns: []Column{{Heading: "Part No", Field: "family"}}}, "not a field"},
	} {
		if _, err := Read(ref, tc.sheet, tc.mapping, func(catalog.SheetRow) error { return nil }); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestACircuitOfAnEngineMayDifferFromItsOtherCircuits(t *testing.T) {
	raw := "family,circuit,housing_bore,coolant_capacity\n" +
		"KR6,engine,54 mm,11 L\nKR6,battery,54 mm,3 L\nVM4,,44 mm,9 L\nVM4,engine,44 mm,8 L\n"
	s, m, questions := propose(t, catalog.EnginesSheet, raw, Options{})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	rows, report := readAll(t, s, m)
	if len(rows) != 2 || len(report.Held) != 2 || report.Held[0].Line != 4 {
		t.Errorf("taken %d, held %+v", len(rows), report.Held)
	}
	for _, r := range rows {
		e := catalog.EngineFamily{Family: r.Engine.Family}
		for _, f := range r.Engine.Facts {
			if err := e.Apply(r.Engine.Circuit, f); err != nil {
				t.Error(err)
			}
		}
	}
}
