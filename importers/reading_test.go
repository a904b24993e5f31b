package importers

import (
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
)

func inspected(t *testing.T, text string, set Settings) Inspection {
	t.Helper()
	in, err := inspect(testVocabulary(t), "list.csv", []byte(text), set)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

func TestHeadingsOfSeveralRowsAreJoined(t *testing.T) {
	for name, tc := range map[string]struct {
		text, want, asked string
		set               Settings
	}{
		"groups above":       {";;Price;;Flange;\nPart No;Description;net;list;diameter;thickness\nA-1;Cap;5;6;54;2\n", "Part No|Description|Price net|Price list|Flange diameter|Flange thickness", "heading-rows", nil},
		"words below blanks": {"Part;Description;Price;;Unit\n;;net;list;\nA-1;Cap;5;6;pc\n", "Part|Description|Price net|Price list|Unit", "heading-rows", nil},
		"units below":        {"Part;Bore;Price\n;(mm);EUR\nA-1;54;5\n", "Part|Bore (mm)|Price EUR", "heading-rows", nil},
		"three rows":         {"Part;Price;;Unit\n;net;list;\n;EUR;EUR;\nA-1;5;6;pc\n", "Part|Price net EUR|Price list EUR|Unit", "heading-rows", nil},
		"titles are none":    {"Supplier;Nordlicht;;\nPart;Description;Price;Unit\nA-1;Cap;5;pc\n", "Part|Description|Price|Unit", "", nil},
		"a row of words":     {"Part;Description;Brand\nCAP;Radiator cap;Ostrel\nHOSE;Upper hose;Ostrel\n", "Part|Description|Brand", "", nil},
		"chosen":             {"Part;Price;\n;net;list\nA-1;5;6\n", "Part|Price|", "", Settings{"header": "1"}},
		"chosen rows":        {"x;y\nPart;Price\nno;EUR\nA-1;5\n", "Part no|Price EUR", "", Settings{"header": "2-3"}},
		"none, below titles": {"Price list\nA-1;Cap;5.00\nA-2;Hose;6.00\n", "A|B|C", "no-heading", nil},
		"none, chosen":       {"Part;Price\nA-1;5\n", "A|B", "", Settings{"header": "none"}},
	} {
		in := inspected(t, tc.text, tc.set)
		asked := ""
		if len(in.Accepted) > 0 {
			asked = in.Accepted[0].Code
		}
		if got := strings.Join(in.Header, "|"); got != tc.want || asked != tc.asked {
			t.Errorf("%s: %s, asked %q", name, got, asked)
		}
	}
}

func TestTheDialectIsFoundOrAsked(t *testing.T) {
	for name, tc := range map[string]struct {
		text, want, asked string
	}{
		"comma and space":          {"Part, Price, Unit\nA-1, \"12,50\", pc\nA-2, \"3,20\", pc\n", "separator=comma-space quote=double", ""},
		"comma with spaces":        {"Part, Price, Unit\nA-1, 12.50, pc\nA-2, 3.20, pc\n", "separator=comma quote=double", ""},
		"one ditto mark":           {"Part,Brand,Price\nA-1,Ostrel,1.00\nA-2,\",2.00\nA-3,Ostrel,3.00\n", "separator=comma quote=double", ""},
		"ditto marks everywhere":   {"Part\tBrand\tPrice\nA-1\tOstrel\t1.00\n" + strings.Repeat("A-2\t\"\t2.00\n", 9), "separator=tab quote=none", "quotes"},
		"spreadsheet's apostrophe": {"Part,Brand\n'00123,Ostrel\nA-2,Ostrel\nA-3,Ostrel\n", "separator=comma quote=double", ""},
		"rows or long cells":       {"Part,Notes,Price\n" + strings.Repeat("A-1,\"2,3\n4,5\",6\n", 9), "separator=comma quote=none", "quotes"},
		"two separators":           {"x, y; z\na, b; c\nd, e; f\n", "separator=comma quote=double", "separator"},
	} {
		in := inspected(t, tc.text, nil)
		asked := ""
		if len(in.Accepted) > 0 {
			asked = in.Accepted[0].Code
		}
		if got := in.Sheet.Dialect.String(); got != tc.want || asked != tc.asked {
			t.Errorf("%s: %s, asked %q", name, got, asked)
		}
	}
}

func TestATotalIsRecognisedByItsSum(t *testing.T) {
	head := "Part;Description;Price;Pieces\nA-1;Cap;1.234,50;2\nA-2;Hose;5,50;3\n"
	for text, want := range map[string]string{
		";;1240,00;5\n": "footer", ";;1.240,00;\n": "footer", ";;1240,01;5\n": "data", "A-3;;1240,00;5\n": "data", "Sum;;;\n": "footer",
	} {
		spans := inspected(t, head+text, nil).Sheet.Ledger(nil)
		if got := spans[len(spans)-1].Class; got != want {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
	}
}

func TestShortRowsAreOnlyLetInWhereTheirCellsFit(t *testing.T) {
	text := "Part;Price;Pieces;Remark\nA-1;1,00;2;new\nA-2;2,00;3\nA-3;3,00\nA-4;Hose;5\n"
	in := inspected(t, text, nil)
	var held []string
	for h := range in.Held() {
		held = append(held, h.Cells[0])
	}
	if len(in.Accepted) != 1 || in.Accepted[0].Code != "tail" || !slices.Equal(held, []string{"A-4"}) {
		t.Errorf("asked %v, held %v", in.Accepted, held)
	}
	s, err := Open(reference(t), "list.csv", []byte(text), nil)
	if err != nil || len(s.Questions()) != 1 || s.records.fault(2) != MissingCell {
		t.Error("a short row was let in before the answer", err)
	}
	if s, _ = Open(reference(t), "list.csv", []byte(text+"A-5;5,00;1;\n"), nil); len(s.Questions()) != 0 {
		t.Error("a row ends with an empty cell: nothing cut the others")
	}
}

func TestTheEncodingSettingCountsOnlyWhereItMust(t *testing.T) {
	for _, tc := range []struct{ raw, set, want, cell string }{
		{"number;notes\nA-1;für\n", "windows-1250", "utf-8", "für"},
		{"number;notes\nA-1;f\xFCr\n", "utf-8", "utf-8", ""},
		{"number;notes\nA-1;f\xFCr\n", "cp850", "dos-850", "f³r"},
		{"number;notes\nA-1;f\x81r\n", "windows-1252", "windows-1252", ""},
		{"number;notes\nA-1;\x8Aber\n", "MacRoman", "macroman", "äber"},
		{"number;notes\nA-1;\uFFFDber\n", "", "utf-8", ""},
		{"\xFE\xFF\x00n\x00;\x00p\x00\n\x00A\x00;\x21\x16\x00\n", "windows-1252", "utf-16be", "№"},
	} {
		set := Settings{}
		if tc.set != "" {
			set["encoding"] = tc.set
		}
		s, err := Open(reference(t), "list.csv", []byte(tc.raw), set)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		if s.records.fault(1) == NoFault {
			got = s.Cells(1, nil)[1]
		} else if p := s.structure(1); p.code != "encoding-error" || p.why == "" {
			t.Errorf("%q: %+v", tc.raw, p)
		}
		if s.Encoding != tc.want || got != tc.cell || strings.Contains(s.Text(1), "\uFFFD") != strings.Contains(tc.raw, "\uFFFD") {
			t.Errorf("%q with %s is %s: %q", tc.raw, tc.set, s.Encoding, got)
		}
	}
}

func TestTheLedgerAgreesWithTheReport(t *testing.T) {
	ref := reference(t)
	s, err := Open(ref, "list.csv", sheetFile(t, "supplier-semicolon.csv"), nil)
	if err != nil {
		t.Fatal(err)
	}
	m, _ := Propose(ref, catalog.SupplierSheet, s, Options{})
	report, err := Read(ref, s, m, func(catalog.SheetRow) error { return nil })
	if err != nil {
		t.Fatal(err)
	}
	size := s.File().Size()
	c, err := CheckLedger(s.Spans(&report), size, &report)
	if err != nil || c.Held != len(report.Held) || c.Imported != report.RowsTaken || c.Classes["preamble"] != 2 || c.Classes["blank"] != 2 {
		t.Errorf("%+v, %v", c, err)
	}
	for name, spoil := range map[string]func([]Span) []Span{
		"gap":     func(l []Span) []Span { return slices.Delete(l, 3, 4) },
		"overlap": func(l []Span) []Span { l[4].Offset--; return l },
		"end":     func(l []Span) []Span { return l[:len(l)-1] },
		"verdict": func(l []Span) []Span { l[4].Verdict = VerdictSetAside; return l },
		"silent":  func(l []Span) []Span { l[7].Reason = ""; return l },
		"report":  func(l []Span) []Span { l[7].Verdict, l[7].Reason = VerdictImported, ""; return l },
		"class":   func(l []Span) []Span { l[0].Class = ""; return l },
	} {
		if _, err := CheckLedger(slices.Values(spoil(s.Ledger(&report))), size, &report); err == nil {
			t.Errorf("%s: the ledger was believed", name)
		}
	}
}

func TestRowsAreWrittenAsTheyWereRead(t *testing.T) {
	in := inspected(t, "Price list\n\nPart; Description ;Price\nA-1; Cap, grey;1,00\nA-2;\"Hose\nlong\";2,00\nA-3;x;3,00;left\n", nil)
	for withHeld, want := range map[bool]string{
		false: "Part, Description ,Price\r\nA-1,\" Cap, grey\",\"1,00\"\r\nA-2,\"Hose\nlong\",\"2,00\"\r\n",
		true:  "Part, Description ,Price\r\nA-1,\" Cap, grey\",\"1,00\"\r\nA-2,\"Hose\nlong\",\"2,00\"\r\nA-3,x,\"3,00\",left\r\n",
	} {
		var b strings.Builder
		if err := in.WriteRows(&b, withHeld); err != nil || b.String() != want {
			t.Errorf("held %t: %q", withHeld, b.String())
		}
	}
	var b strings.Builder
	if err := in.WriteLedger(&b); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(b.String()), "\n")
	if want := `{"offset":78,"length":16,"first_line":7,"last_line":7,"class":"data","verdict":"held","reason":"extra-cell"}`; lines[len(lines)-1] != want {
		t.Error(lines[len(lines)-1])
	}
	b.Reset()
	if err := inspected(t, "A-1;5\nA-2;6\n", nil).WriteRows(&b, false); err != nil || b.String() != "A-1,5\r\nA-2,6\r\n" {
		t.Errorf("a sheet without a heading: %q", b.String())
	}
	if got := in.Sentence(); got != "6 lines: 1 preamble, 1 header, 1 blank, 3 rows. 2 accepted, 1 held back." {
		t.Error(got)
	}
}
