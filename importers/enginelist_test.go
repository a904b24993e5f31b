package importers

import (
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
)

func TestEnginesInOneCell(t *testing.T) {
	for cell, want := range map[string]string{
		"KV20, KV22": "KV20|KV22", "KV20/KV22": "KV20|KV22", "KV20 / RM30": "KV20|RM30", "KV20 + RM30 + QT4": "KV20|RM30|QT4", "KV 20 & RM30": "KV 20|RM30",
		"KV20 und RM30": "KV20|RM30", "KV20 or RM30": "KV20|RM30", "KV20,KV22,": "KV20|KV22", "1KR-F/2KR-F": "1KR-F|2KR-F",
		"KV20": "", "KV20/16V": "", "2.0/2.2": "", "2,0 KV": "", "A/C": "", "KV20, diesel": "", "KV20/": "", "KV20; KV22": "", "KV20-KV24": "", "all engines": "", "KV20//KV22": "", ", KV20": "",
	} {
		if got := strings.Join(enginesIn(cell), "|"); got != want {
			t.Errorf("%q lists %q, want %q", cell, got, want)
		}
	}
}

func TestCellsOfSeveralEnginesAreAskedAbout(t *testing.T) {
	const raw = "Part no;Type;Engine\nA-1;cap;KV20, KV22\nA-2;cap;KV20/16V\nA-3;cap;KV20;\nA-4;cap;RM30/RM32\n"
	_, _, questions := propose(t, catalog.SupplierSheet, raw, Options{})
	if len(questions) != 1 || questions[0].Code != "engines" || !strings.Contains(questions[0].Question, `2 cells seem to list several engines, such as "KV20, KV22"`) {
		t.Errorf("%+v", questions)
	}
	for said, want := range map[string][]string{
		"list": {"A-1 KV20", "A-1 KV22", "A-2 KV20/16V", "A-3 KV20", "A-4 RM30", "A-4 RM32"},
		"one":  {"A-1 KV20, KV22", "A-2 KV20/16V", "A-3 KV20", "A-4 RM30/RM32"},
	} {
		s, m, questions := propose(t, catalog.SupplierSheet, raw, Options{Settings: Settings{"engines": said}})
		if len(questions) > 0 {
			t.Fatalf("%s asks %+v", said, questions)
		}
		rows, _ := readAll(t, s, m)
		var got []string
		for _, r := range rows {
			for _, f := range r.Part.Fitments {
				got = append(got, r.Part.Number+" "+f.Engine)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", said, got, want)
		}
	}
}
