package fit

import (
	"testing"

	"fitfill/catalog"
	"fitfill/compat"
)

func TestNotesByWhatTheyComeTo(t *testing.T) {
	for text, want := range map[string]NoteKind{
		"gasket not included":              NoteHarmless,
		"while stocks last; not shown":     NoteHarmless,
		"exc. HD":                          NoteRead,
		"with A/C":                         NoteRead,
		"VIN K only":                       NoteRead,
		"from 2006":                        NoteRead,
		"3.4 only":                         NoteRead,
		"from 2006 only with 188F":         NoteUnread,
		"only with loom L":                 NoteUnread,
		"gasket not included, only loom L": NoteUnread,
		"pack of the new design":           NotePasses,
		"new design; not shown":            NotePasses,
	} {
		if got, on := tables(t).NoteKind(text); got != want || (on == "") == (want == NoteRead || want == NoteUnread) {
			t.Errorf("%q: %s, hangs on %q; want %s", text, got, on, want)
		}
	}
}

// One answer about a note's text settles the rows that carry it, in whichever
// way they were open.
func TestAnAnswerAboutANoteSettlesItsRows(t *testing.T) {
	listed := func(note string, means catalog.NoteMeans, words string) Candidate {
		f := noted(listing("Varn", 3), note)
		if means != "" {
			f.Answered = &catalog.NoteAnswer{Supplier: "Varn", Note: note, Means: means, Words: words, Day: "2026-03-02"}
		}
		return Candidate{Part: new(stat("Varn", "TX-1")), Listings: []catalog.Fitment{f}}
	}
	for name, tc := range map[string]struct {
		note  string
		means catalog.NoteMeans
		words string
		with  string
		year  int
		want  compat.Outcome
	}{
		"a limiting word that nobody answered":  {"only loom L", "", "", "", 0, compat.Caution},
		"answered as harmless":                  {"only loom L", catalog.NoteHarmless, "", "", 0, compat.Yes},
		"answered as a condition that is open":  {"see page 4", catalog.NoteOnly, "A/C", "", 0, compat.Caution},
		"answered as a condition that is met":   {"see page 4", catalog.NoteOnly, "A/C", "A/C", 0, compat.Yes},
		"answered as a year, and it is not":     {"see page 4", catalog.NoteOnly, "from 2001", "", 1999, compat.Caution},
		"answered as a year, and it is":         {"see page 4", catalog.NoteOnly, "from 2001", "", 2002, compat.Yes},
		"answered as an exclusion that is open": {"see page 4", catalog.NoteExcept, "HD", "", 0, compat.Caution},
		"answered as an exclusion of this one":  {"see page 4", catalog.NoteExcept, "HD", "HD", 0, compat.No},
		"answered in words that name nothing":   {"see page 4", catalog.NoteOnly, "the", "", 0, compat.Caution},
	} {
		q := thermostatQuestion()
		q.Year = tc.year
		if tc.with != "" {
			q.With = []string{tc.with}
		}
		v := judgeOne(t, q, listed(tc.note, tc.means, tc.words))
		if v.Outcome != tc.want {
			t.Errorf("%s: %s, %q; want %s\n%s", name, v.Outcome, v.First, tc.want, told(v))
		}
	}
}
