package importers

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
)

// readText proposes and reads a sheet that asks nothing, and returns its rows as
// say prints them and the held rows as line and code.
func readText(t *testing.T, kind catalog.SheetKind, raw string, opt Options) (rows, held []string, report Report) {
	t.Helper()
	s, m, questions := propose(t, kind, raw, opt)
	if len(questions) > 0 {
		t.Fatalf("%q asks %+v", raw, questions)
	}
	report, err := ReadWith(reference(t), s, m, opt, func(r catalog.SheetRow) error {
		rows = append(rows, strings.Join(strings.Fields(say(r)), " "))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range report.Held {
		held = append(held, fmt.Sprint(h.Line, " ", h.Code))
	}
	return rows, held, report
}

func TestTotalsBetweenTheRowsAreNoParts(t *testing.T) {
	_, held, report := readText(t, catalog.SupplierSheet, "Part no.;Description;Price EUR;Stock\n"+
		"KV-1;Bolt M8;12,50;4\nKV-2;Bolt M6;13,50;5\nSubtotal;;26,00;9\n"+ // adds up
		"KV-3;Bolt M10;12,50;4\nSumme;thermostats;12,50;4\n"+ // a word for a total, and text
		"KV-4;Bolt M12;12,50;4\nSubtotal;;99,00;4\n"+ // does not add up
		"KV-5;Bolt M12;12,50;4\nKV-6;Bolt M12;12,50;4\n", Options{})
	if want := []string{"6 total-line", "8 total-line"}; !slices.Equal(held, want) || len(report.Skipped) != 1 || report.Skipped[0].Line != 4 || report.RowsTaken != 6 {
		t.Errorf("held %v, skipped %+v, %d taken", held, report.Skipped, report.RowsTaken)
	}
}

// The last row of a list may begin with a brand that is a word for a total.
func TestALastRowWithAPartNumberIsNoTotal(t *testing.T) {
	for last, want := range map[string]int{
		"Total;TQ-100;9,50\n": 3, "Ende;K100;9,50\n": 3, // parts
		"Total;;22,00\n": 2, "Total;2 parts;22,00\n": 2, "Total;;22,00EUR\n": 2, "Total;=SUM(C2:C3);\n": 2, "Summe;01.03.2026;22,00\n": 2,
	} {
		_, _, report := readText(t, catalog.SupplierSheet, "Brand;Part no.;Price EUR\nOther;A-1;12,50\nOther;A-2;9,50\n"+last, Options{})
		if report.RowsTaken != want || report.RowsHeld > 0 {
			t.Errorf("%q: %d taken, held %+v", last, report.RowsTaken, report.Held)
		}
	}
}

// A word for a total may be a brand too.
func TestABrandIsNoTotal(t *testing.T) {
	_, held, report := readText(t, catalog.SupplierSheet, "Brand;Part no.;Stock\nTotal;4711;4\nTotal;4712;4\nOther;4713;4\nTotal;4714;4\n", Options{})
	if len(held) > 0 || report.RowsTaken != 4 {
		t.Errorf("held %v, %d taken", held, report.RowsTaken)
	}
}

func TestWhatHasHappenedIsNotAhead(t *testing.T) {
	day := catalog.DateOf(2026, 3, 10)
	for kind, raw := range map[catalog.SheetKind]string{
		catalog.PurchasesSheet: "date;supplier;number;quantity\n%s;Ostrel;P-1;2\n",
		catalog.ReturnsSheet:   "date;supplier;number;reason\n%s;Ostrel;P-1;leaks\n",
		catalog.FillsSheet:     "date;vehicle;chemistry\n%s;KF-12;oat\n",
		catalog.FittedSheet:    "date;vehicle;number\n%s;KF-12;P-1\n",
	} {
		for date, want := range map[string]bool{"2026-03-10": false, "2026-03-11": false, "2026-03-12": true, "2031-01-01": true} {
			_, held, _ := readText(t, kind, fmt.Sprintf(raw, date), Options{Today: day})
			if got := slices.Equal(held, []string{"2 date-future"}); got != want {
				t.Errorf("%s of %s: held %v", kind, date, held)
			}
		}
	}
	if _, held, _ := readText(t, catalog.SupplierSheet, "Part no.;Stock as of\nP-1;2031-01-01\n", Options{Today: day}); len(held) > 0 {
		t.Error("a day of delivery may lie ahead", held)
	}
}

// 4006381333931 and 73513537 are the worked examples of text books (from memory),
// 036000291452 that of a twelve-digit number (from memory).
func TestBarcodesThatASpreadsheetDamagedAreHeld(t *testing.T) {
	raw := "Part no.;EAN\nK-1;4006381333931\nK-2;73513537\nK-3;036000291452\n"
	for cell, want := range map[string]string{
		"4,00638E+12": "barcode-exponent", "4006381333932": "barcode-check", "36000291452": "barcode-zeros should be 036000291452",
		"": "", "n/a": "", "KV-INT-7": "", "4006381333931": "",
	} {
		_, held, report := readText(t, catalog.SupplierSheet, raw+"K-4;"+cell+"\n", Options{})
		code, say, _ := strings.Cut(want, " ")
		switch {
		case want == "" && len(held) > 0, want != "" && !slices.Equal(held, []string{"5 " + code}):
			t.Errorf("%q: held %v, want %q", cell, held, want)
		case want != "" && !strings.Contains(report.Held[0].Reason, say):
			t.Errorf("%q: %s", cell, report.Held[0].Reason)
		}
	}
	if _, held, _ := readText(t, catalog.SupplierSheet, "Part no.;Barcode\nK-1;1001\nK-2;1002\nK-3;4006381333931\n", Options{}); len(held) > 0 {
		t.Error("a shop's own codes have no check digit", held)
	}
}

func TestAWordWhereANewerNumberIsLookedForIsNoNumber(t *testing.T) {
	rows, held, _ := readText(t, catalog.SupplierSheet, "Part no.;Replaced by\nK-1;no longer available\nK-2;K-3\nK-3;NLA\nK-5;Entfällt\nK-7;see the catalogue\n", Options{})
	want := []string{
		"part K-1: replaced_by=no longer available", "part K-2: replaced_by=K-3 replaced_by[K-3]", "part K-3: replaced_by=NLA", "part K-5: replaced_by=Entfällt",
	}
	if !slices.Equal(rows, want) {
		t.Errorf("%q, want %q", rows, want)
	}
	if want := []string{"6 replaced-by"}; !slices.Equal(held, want) {
		t.Errorf("held %v", held)
	}
}

// A heading that is like a name by a few letters, bare numbers, and "yes" show
// nothing; a date, a quantity with its unit and a number on file do.
func TestNothingIsSuggestedWithoutASign(t *testing.T) {
	raw := "Part no.;Rack;Foo;Weight g;Kappa;Delta;Desciption\nKV-1;A12;yes;12;5 l;2026-03-01;Bolt\nKV-2;B3;no;14;1 l;2026-03-02;Bolt\n"
	asked := map[string]Question{}
	for _, q := range suggestFor(t, raw, Options{}).Questions {
		for _, h := range []string{"Rack", "Foo", "Weight g", "Kappa", "Delta", "Desciption"} {
			if strings.Contains(q.Question, `"`+h+`"`) {
				asked[h] = q
			}
		}
	}
	for heading, want := range map[string]string{
		"Rack": `--ignore "Rack" or --map FIELD="Rack"`, "Foo": `--ignore "Foo" or --map FIELD="Foo"`,
		"Weight g": `--ignore "Weight g" or --map FIELD="Weight g"`, "Kappa": `--map pack_volume="Kappa" or --ignore "Kappa"`,
		"Delta": `--map stock_date="Delta" or --ignore "Delta"`, "Desciption": "",
	} {
		if got := asked[heading].Command; got != want {
			t.Errorf("%s: %s, want %s (%+v)", heading, got, want, suggestionFor(suggestFor(t, raw, Options{}), heading))
		}
	}
	if c := asked["Foo"].Choices; !slices.Contains(c, "air_bleed") || slices.Contains(c, "form") {
		t.Errorf("yes and no may be: %v", c)
	}
}

func TestNumbersThatLostTheirZerosAreAskedAboutFirst(t *testing.T) {
	list := func(numbers ...string) string {
		var b strings.Builder
		b.WriteString("Part no.;Description\n")
		for _, n := range numbers {
			b.WriteString(n + ";Cap\n")
		}
		return b.String()
	}
	o := onFile("0004711", "0004712", "0004713", "0014714")
	raw := list("4711", "4712", "4713", "14714", "99")
	_, m, _ := propose(t, catalog.SupplierSheet, list("0004711", "0004712", "0004713", "0014714"), o)
	o.Saved = &m
	_, _, questions := propose(t, catalog.SupplierSheet, raw, o)
	if len(questions) != 1 || questions[0].Code != "lost-zeros" || questions[0].Command != "--set pad=7 or --accept lost-zeros" {
		t.Fatalf("%+v", questions)
	}
	o.Settings = Settings{"pad": "7"}
	if rows, held, _ := readText(t, catalog.SupplierSheet, raw, o); len(held) > 0 || !strings.HasPrefix(rows[3], "part 0014714:") {
		t.Errorf("%q, held %v", rows, held)
	}
	o.Settings, o.Accept = nil, []string{"lost-zeros"}
	if _, held, report := readText(t, catalog.SupplierSheet, raw, o); len(held) != 4 || !strings.Contains(report.Held[0].Reason, "0004711") {
		t.Errorf("held %v", held)
	}
}

func TestTheQuestionAboutTheEncodingShowsOnlyWhatDiffers(t *testing.T) {
	var b strings.Builder
	b.WriteString("Part;Text\n")
	for i := range 40 {
		fmt.Fprintf(&b, "K-%d;Dichtung f\xfcr Geh\xe4use gro\xdf, mit viel Text dahinter, damit die Zeile lang wird\n", i)
	}
	s, err := Open(reference(t), "list.csv", []byte(b.String()), nil)
	if err != nil || len(s.Questions()) != 1 {
		t.Fatal(s.Questions(), err)
	}
	q := s.Questions()[0]
	want := []string{"windows-1252, windows-1250, iso-8859-2: für  Gehäuse  groß", "dos-850: f³r  Gehõuse  gro▀", "macroman: f¸r  Geh‰use  groﬂ"}
	if !slices.Equal(q.Examples, want) || strings.Contains(q.Question, "\n") {
		t.Errorf("%q %q", q.Question, q.Examples)
	}
}
