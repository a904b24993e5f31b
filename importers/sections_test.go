package importers

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fitfill/catalog"
)

const inSections = "Number;Description;Price EUR\n" +
	"A-0;loose;1,00\n" + // 2
	"Thermostats;;\n" + // 3
	"A-1;82 °C;12,00\n" + // 4
	"A-2;88 °C;13,00\n" + // 5
	"O-rings;;\n" + // 6
	"A-3;54 mm;1,00\n" + // 7
	"Total hip;;\n" + // 8: a part of that name
	"A-4;60 mm;1,20\n" // 9

func TestSectionLinesGiveTheRowsBelowThemAField(t *testing.T) {
	s, m, questions := propose(t, catalog.SupplierSheet, inSections, Options{Settings: Settings{"sections": "type"}})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	rows, report := readAll(t, s, m)
	var got []string
	for _, r := range rows {
		got = append(got, say(r))
	}
	want := []string{
		"part A-0: description=loose price=10000 EUR",
		"part A-1: description=82 °C type=thermostat price=120000 EUR",
		"part A-2: description=88 °C type=thermostat price=130000 EUR",
		"part A-3: description=54 mm type=seal price=10000 EUR",
	}
	for i, w := range want {
		if i >= len(got) || !sameFacts(got[i], w) {
			t.Errorf("row %d (-want +got):\n%s", i, cmp.Diff(want, got))
			break
		}
	}
	if report.RowsSkipped != 3 {
		t.Errorf("%+v", report)
	}
	// The next sheet of the supplier is read the same way, without a question.
	next, _, _ := propose(t, catalog.SupplierSheet, strings.ReplaceAll(inSections, "12,00", "12,10"), Options{})
	m2, questions := Propose(reference(t), catalog.SupplierSheet, next, Options{Saved: &m})
	if len(questions) > 0 || !m2.SameReading(m) || m2.Version != m.Version {
		t.Errorf("the next sheet: version %d after %d, %v", m2.Version, m.Version, questions)
	}
	for _, bad := range []string{"price", "description", "no such"} {
		if _, _, questions := propose(t, catalog.SupplierSheet, inSections, Options{Settings: Settings{"sections": bad}}); len(questions) == 0 {
			t.Errorf("sections fill %s", bad)
		}
	}
}

// sameFacts compares what say says, whatever the order of the facts.
func sameFacts(a, b string) bool {
	count := func(s string) map[string]int {
		n := map[string]int{}
		for _, w := range strings.Fields(s) {
			n[w]++
		}
		return n
	}
	return cmp.Equal(count(a), count(b))
}

func TestALineThatLooksLikeASectionIsARowWhereAPersonSaysSo(t *testing.T) {
	s, err := Open(reference(t), "list.csv", []byte(inSections), Settings{"rows": "8"})
	if err != nil {
		t.Fatal(err)
	}
	m, questions := Propose(reference(t), catalog.SupplierSheet, s, Options{Settings: Settings{"rows": "8"}})
	if len(questions) > 0 {
		t.Fatal(questions)
	}
	rows, report := readAll(t, s, m)
	found := false
	for _, r := range rows {
		found = found || r.Line == 8 && r.Part.Number == "Total hip"
	}
	if !found && !(len(report.Held) == 1 && report.Held[0].Line == 8) {
		t.Errorf("line 8 is neither a row nor held: %+v", report)
	}
	if _, err := CheckLedger(s.Spans(&report), s.File().Size(), &report); err != nil {
		t.Error(err)
	}
	if m.Settings.Lasting()["rows"] != "" || m.Settings["rows"] != "8" {
		t.Errorf("settings %v", m.Settings)
	}
	for _, bad := range []string{"1", "99", "x", "4-2"} {
		if _, err := Open(reference(t), "list.csv", []byte(inSections), Settings{"rows": bad}); err == nil {
			t.Errorf("rows=%s was taken", bad)
		}
	}
}
