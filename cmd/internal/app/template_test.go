package app

import (
	"bytes"
	"encoding/csv"
	"testing"
)

// A template is opened in a spreadsheet: the text of a supplier's list must not
// become a formula there, and the engine is still known by it when it comes back.
func TestATemplateHoldsNoFormula(t *testing.T) {
	s := garage(t)
	list := "number;type;price;currency;make;model;engine;years\n" +
		"A-1;thermostat;5,00;EUR;@Tarvok;-R 1;+TKV38;1995-2006\n" +
		"A-2;thermostat;6,00;EUR;Tarvok;R 2;TKV40;1995-2006\n"
	s.mustImport(t, ImportQuestion{Name: "list.csv", Raw: []byte(list), Supplier: "Ostrel"}, Imported)
	var out bytes.Buffer
	n, err := s.EnginesTemplate(t.Context(), &out, true)
	if err != nil || n != 2 {
		t.Fatalf("%d rows, %v", n, err)
	}
	rows, err := csv.NewReader(bytes.NewReader(out.Bytes())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, row := range rows {
		for _, cell := range row {
			seen[cell] = true
			if cell != "" && bytes.ContainsAny([]byte(cell[:1]), "=+-@") {
				t.Errorf("%q begins a formula", cell)
			}
		}
	}
	for _, want := range []string{"'+TKV38", "'@Tarvok", "'-R 1", "TKV40", "R 2"} {
		if !seen[want] {
			t.Errorf("no cell %q in\n%s", want, out.String())
		}
	}
	s.mustImport(t, ImportQuestion{Name: "engines.csv", Raw: out.Bytes(), As: "engines"}, Imported)
	if again, err := s.EnginesTemplate(t.Context(), new(bytes.Buffer), true); err != nil || again != 0 {
		t.Errorf("%d engines are unknown again (%v)", again, err)
	}
}
