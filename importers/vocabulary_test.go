package importers

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
)

func column0(t *testing.T, table, column string) map[string]bool {
	t.Helper()
	rows, err := reference(t).Table(table)
	if err != nil {
		t.Fatal(err)
	}
	set := map[string]bool{}
	for _, r := range rows {
		set[r.Get(column)] = true
	}
	return set
}

// What the lists translate to must be what the coolant tables know, or a bottle
// would carry a chemistry that nothing can judge.
func TestWordsMeanWhatTheOtherTablesKnow(t *testing.T) {
	v, err := newVocabulary(reference(t))
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]map[string]bool{
		"chemistry": column0(t, "coolant_families", "id"), "coolant_chemistry": column0(t, "coolant_families", "id"),
		"colour": column0(t, "coolant_colours", "colour"), "coolant_colour": column0(t, "coolant_colours", "colour"),
		"glycol": {"ethylene": true, "propylene": true}, "form": {"concentrate": true, "premix": true},
		"seal_form": {"o-ring": true, "moulded": true, "flat": true}, "cap_form": {"bayonet": true, "thread": true},
		"price_per": {"each": true, "pack": true, "litre": true}, "thermostat_side": {"inlet": true, "outlet": true},
		"relation": {string(catalog.Same): true, string(catalog.Replaces): true, string(catalog.ReplacedBy): true},
		"circuit":  {"engine": true, "inverter": true, "battery": true, "charge-air": true, "heater": true},
		"yesno":    {"0": true, "1": true},
	}
	for list, ids := range known {
		if len(v.words[list]) == 0 {
			t.Errorf("there is no list %s", list)
		}
		for word, values := range v.words[list] {
			for _, id := range values {
				if !ids[id] && id != "unknown" && id != "factory" {
					t.Errorf("%s: %q means %q, which nothing knows", list, word, id)
				}
			}
		}
		for id := range ids {
			if list != "yesno" && !strings.Contains(list, "colour") && !slices.Equal(v.words[list][wordKey(id)], []string{id}) {
				t.Errorf("%s: the word %q does not mean itself", list, id)
			}
		}
	}
	for _, list := range []string{"chemistry", "coolant_chemistry", "glycol", "coolant_glycol", "form", "seal_form", "cap_form", "relation", "price_per", "thermostat_side"} {
		if !v.closed[list] {
			t.Errorf("an unknown word of %s must hold the row", list)
		}
	}
}

func TestEveryFieldIsFoundByItsOwnName(t *testing.T) {
	v, err := newVocabulary(reference(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range kinds() {
		for _, f := range k.fields {
			for _, heading := range []string{f.name, strings.ReplaceAll(f.name, "_", " "), strings.ToUpper(strings.ReplaceAll(f.name, "_", "-"))} {
				if got, _, _, ok := v.resolve(k, heading); !ok || got.name != f.name {
					t.Errorf("%s sheet: heading %q means %q", k.kind, heading, got.name)
				}
			}
		}
	}
}

func TestTablesWithTwoMeaningsAreRefused(t *testing.T) {
	shipped := reference(t)
	for name, tc := range map[string]struct {
		table string
		cells map[string]string
		want  string
	}{
		"heading": {headingsTable, map[string]string{"field": "price", "kind": "supplier", "heading": "Part No"}, "already means number"},
		"field":   {headingsTable, map[string]string{"field": "wheels", "kind": "supplier", "heading": "Wheels"}, `no field "wheels"`},
		"kind":    {headingsTable, map[string]string{"field": "price", "kind": "wheels", "heading": "Wheels"}, `no kind of sheet called "wheels"`},
		"word":    {wordsTable, map[string]string{"field": "chemistry", "word": "OAT", "value": "noat"}, "already means oat"},
	} {
		ref := maps.Clone(shipped)
		ref[tc.table] = append(slices.Clone(ref[tc.table]), catalog.RefRow{Table: tc.table, Line: 999, Cells: tc.cells})
		if _, err := newVocabulary(ref); err == nil || !strings.Contains(err.Error(), tc.want) || !strings.Contains(err.Error(), "line 999") {
			t.Errorf("%s: %v, want %q", name, err, tc.want)
		}
	}
	if _, err := Open(catalog.Reference{}, "list.csv", []byte("number\nA\n"), nil); err == nil {
		t.Error("a reference without the tables was taken")
	}
}
