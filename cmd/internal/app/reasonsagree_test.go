package app

import (
	"testing"

	"fitfill/compat/returns"
	"fitfill/data"
)

// What says that a part did not fit is charged to the list it was sold by, and
// speaks of the fit: both tables know the same reasons (common practice).
func TestReasonsOfNotFittingAgree(t *testing.T) {
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	rows, err := ref.Table("returns_reasons")
	if err != nil {
		t.Fatal(err)
	}
	reasons, err := returns.NewReasons(rows)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Open(t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for _, r := range rows {
		if phrase := r.Get("phrase"); (r.Get("listing") == "yes") != s.fit().NoFit(phrase) {
			t.Errorf("%q: charged to the list %q, and a word of not fitting %v", phrase, r.Get("listing"), s.fit().NoFit(phrase))
		}
	}
	words, err := ref.Table("fit_note_words")
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range words {
		if w.Get("kind") != "no_fit" {
			continue
		}
		if class, row, _ := reasons.Class(w.Get("words")); class != returns.SupplyError || row.Get("listing") != "yes" {
			t.Errorf("%q comes to %v by %q", w.Get("words"), class, row.Get("phrase"))
		}
	}
}
