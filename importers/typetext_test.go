package importers

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
)

func TestWhatADescriptionSaysThePartIs(t *testing.T) {
	voc := testVocabulary(t)
	for text, want := range map[string]string{
		"Thermostat 82C": "thermostat", "Thermostat 82 °C, with air bleed": "thermostat", "THERMOSTAT": "thermostat", "Thermostat mit Dichtung": "thermostat",
		"Radiator cap 15 lb": "cap", "Upper hose": "hose", "O-ring 53 x 3.5 mm": "seal", "Thermostat gasket": "seal", "Seal for thermostat": "seal",
		"Water pump with gasket": "pump", "Coolant OAT pink concentrate 5L": "coolant", "Dichtring 53x3,5": "seal", "Oil filter": "other", "Durite de radiateur": "hose",
		"Thermostat cover": "", "Thermostat housing gasket": "", "Thermostat + gasket": "", "Thermostat - gasket": "", "Thermostat/gasket": "", "Thermostat 82 / 95": "thermostat", "Hose upper": "", "Thermostat bypass pipe": "", "82C thermostat": "",
		"Seal, thermostat": "", "Cover": "", "": "", "Thermostat (seal)": "", "Hose clamp 40-60": "clamp", "Bolt M8": "bolt",
	} {
		if got := voc.typeIn(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

func TestTypesAreReadFromDescriptionsWhereAPersonSaysSo(t *testing.T) {
	const raw = "Part no;Description;Engine\nA-1;Thermostat 82C;KV20\nA-2;Radiator cap;KV20\nA-3;Bracket;KV20\n"
	s, err := openSheet(testVocabulary(t), "list.csv", []byte(raw), nil)
	if err != nil {
		t.Fatal(err)
	}
	p := suggestWith(testVocabulary(t), specOf(catalog.SupplierSheet), s, Options{})
	if len(p.Questions) > 0 || len(p.Notes) != 1 || !strings.Contains(p.Notes[0], "(cap, thermostat): --set types=description") {
		t.Errorf("%+v, %q", p.Questions, p.Notes)
	}
	p = suggestWith(testVocabulary(t), specOf(catalog.SupplierSheet), s, Options{Settings: Settings{"types": "description"}})
	text, err := json.Marshal(p.Mapping)
	if err != nil {
		t.Fatal(err)
	}
	var saved Mapping
	if err := json.Unmarshal(text, &saved); err != nil {
		t.Fatal(err)
	}
	again := suggestWith(testVocabulary(t), specOf(catalog.SupplierSheet), s, Options{Saved: &saved})
	if len(p.Notes)+len(again.Notes) > 0 || !saved.SameReading(again.Mapping) || again.Mapping.Version != 1 {
		t.Errorf("%q, then %q: %+v, then %+v", p.Notes, again.Notes, saved, again.Mapping)
	}
	rows, _ := readAll(t, s, again.Mapping)
	var got []string
	for _, r := range rows {
		for _, f := range r.Part.Facts {
			if f.Field == "type" {
				got = append(got, r.Part.Number+" "+f.Word+" "+f.Text)
			}
		}
	}
	if want := []string{"A-1 thermostat Thermostat 82C", "A-2 cap Radiator cap"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	// A column of types goes before the descriptions, and a list without engines needs none.
	for _, other := range []string{"Part no;Description;Category;Engine\nA-1;Thermostat 82C;cap;KV20\n", "Part no;Description;Price EUR\nA-1;Thermostat 82C;9,50\n", "Part no;Description;Engine\nA-1;Bracket;KV20\n"} {
		if p := suggestFor(t, other, Options{}); len(p.Notes) > 0 {
			t.Errorf("%q: %q", other, p.Notes)
		}
	}
}
