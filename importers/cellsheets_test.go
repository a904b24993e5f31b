package importers

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"

	"github.com/google/go-cmp/cmp"
)

// valueSheet is a sheet whose cells are damaged or have two readings, and what
// must come of it.
type valueSheet struct {
	name    string
	opt     Options
	asks    string   // codes of the questions; without any the sheet is read
	rows    []string // as say prints them
	held    []string // line, code and what the reason must say
	remarks string   // code and number of rows
	repeats string
}

func onFile(numbers ...string) Options {
	keys := map[string]bool{}
	for _, n := range numbers {
		keys[catalog.Key(n)] = true
	}
	return Options{Known: func(key string) bool { return keys[key] }, KnownNumbers: slices.Values(numbers)}
}

func unit(o Options, maps ...string) Options {
	o.Maps = map[string]string{}
	for _, m := range maps {
		field, heading, _ := strings.Cut(m, "=")
		o.Maps[field] = heading
	}
	if o.Settings == nil {
		o.Settings = Settings{}
	}
	o.Settings["currency"] = "EUR"
	return o
}

func valueSheets() []valueSheet {
	pack := func(o Options) Options { return unit(o, "pack=Unit") }
	return []valueSheet{
		{
			name: "47-exponent", opt: pack(onFile("123456789012", "123457000001", "123457499999", "123457500000", "120000", "N-1")),
			rows: []string{"part 4711-1: description=Thermostat price=55000 EUR pack=1000"},
			held: []string{"3 part-exponent 123457000001, 123457499999", "4 part-exponent on file is 120000", "5 part-exponent last digits are gone"},
		},
		{
			name: "48-date", opt: pack(onFile("3-10", "10-3", "3-11")),
			rows: []string{
				"part 10-3: description=Thermostat price=55000 EUR pack=1000", "part 3-11: description=Seal price=25000 EUR pack=1000",
				"part 12-7: description=Cap price=35000 EUR pack=1000", "part 4-1: description=Seal price=25000 EUR pack=1000",
			},
			held: []string{"5 part-date on file is 3-10, 10-3", "6 part-date on file is 3-10, 10-3"},
		},
		{
			name: "49-zeros", opt: pack(onFile("0004711", "0004712", "0004713", "81234567")),
			rows: []string{
				"part 0004712: description=Thermostat price=55000 EUR pack=1000", "part 0004713: description=Cap price=35000 EUR pack=1000",
				"part 81234567: description=Hose price=95000 EUR pack=1000",
			},
			held: []string{"3 part-zeros should be 0004711"},
		},
		{name: "50-point-zero", opt: pack(Options{}), asks: "point-zero"},
		{
			name: "50-point-zero", opt: func() Options { o := pack(Options{}); o.Settings["point-zero"] = "strip"; return o }(),
			rows: []string{
				"part 4711: description=Thermostat price=55000 EUR pack=1000", "part 4712: description=Seal price=25000 EUR pack=1000",
				"part N-4: description=Cap price=35000 EUR pack=1000", "part N-5: description=Hose price=95000 EUR pack=1000", "part N-6: description=Hose price=95000 EUR pack=1000",
			},
			remarks: "point-zero 2",
		},
		{
			name: "51-no-break", opt: pack(Options{}),
			rows: []string{
				"part AB\u00a012\u20113: description=Thermostat price=55000 EUR pack=1000", "part AB 12-3: description=Thermostat price=55000 EUR pack=1000",
				"part CD–45: description=Seal price=25000 EUR pack=1000", "part EF\u200b67: description=Cap price=35000 EUR pack=1000",
			},
		},
		{
			name: "52-lookalike", opt: pack(onFile("A-12", "B-14", "47")),
			rows: []string{"part A-13: description=Seal price=25000 EUR pack=1000"},
			held: []string{"2 part-lookalike on file is A-12", "4 part-lookalike on file is B-14", "5 part-lookalike on file is 47"},
		},
		{name: "53-unclear-marks", opt: pack(Options{}), asks: "decimal"},
		{
			name: "53-unclear-marks", opt: func() Options { o := pack(Options{}); o.Settings["decimal"] = Point; return o }(),
			rows: []string{"part P-1: description=Thermostat price=12340 EUR pack=1000", "part P-2: description=Seal price=25000 EUR pack=1000"},
		},
		{
			name: "54-mixed-marks", opt: pack(Options{}),
			rows: []string{
				"part P-1: description=Thermostat price=12345600 EUR pack=1000", "part P-3: description=Cap price=23450000 EUR pack=1000",
				"part P-4: description=Hose price=125000 EUR pack=1000", "part P-5: description=Clamp price=12500000 EUR pack=1000",
			},
			held: []string{"3 number-marks does not fit the decimal comma"},
		},
		{
			name: "55-prices", opt: pack(Options{}),
			rows: []string{
				"part P-1: description=Thermostat price=125000 EUR pack=1000", "part P-2: description=Seal price=-125000 EUR pack=1000",
				"part P-3: description=Cap price=-30000 EUR pack=1000", "part P-4: description=Hose pack=1000", "part P-6: description=Screw pack=1000",
			},
			held:    []string{"6 sheet-error spreadsheet's error"},
			remarks: "price-negative 2, price-zero 1",
		},
		{
			name: "56-units", opt: unit(Options{}, "pack_volume=Unit"),
			rows: []string{
				"part P-1: description=Coolant price=125000 EUR pack_volume=5000000000", "part P-2: description=Coolant price=125000 EUR pack_volume=5000000000",
			},
			held: []string{"4 unit-missing has no unit"},
		},
		{
			name: "57-formulas", opt: pack(Options{}),
			rows: []string{"part 00123: description=Thermostat price=125000 EUR pack=1000", "part P-1: description=Seal price=25000 EUR pack=1000"},
			held: []string{"4 formula export the sheet as values"}, remarks: "formula-link 1, formula-text 1",
		},
		{
			name: "58-repeats", opt: pack(Options{}),
			rows:    []string{"part P-2: description=Seal price=25000 EUR pack=1000", "part P-2:", "part P-3: description=Cap price=45000 EUR pack=1000"},
			held:    []string{`2 conflict "12,50" on line 2 and "13,50" on line 4`, `4 conflict "12,50" on line 2 and "13,50" on line 4`},
			repeats: "5 as 3",
		},
	}
}

func TestDamagedCellsAreReadHeldOrAsked(t *testing.T) {
	for _, tc := range valueSheets() {
		raw, err := os.ReadFile(filepath.Join("..", "testdata", "sheets", "cells", tc.name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		for way, bytes := range otherWays(raw) {
			t.Run(tc.name+" "+way, func(t *testing.T) {
				m := tc.check(t, bytes, tc.opt)
				if tc.asks != "" {
					if again := tc.check(t, bytes, tc.opt); !cmp.Equal(m, again) {
						t.Error("the second time another mapping is proposed")
					}
					return
				}
				for range 2 { // imported twice more, as the supplier's last sheet
					text, err := json.Marshal(m)
					if err != nil {
						t.Fatal(err)
					}
					var saved Mapping
					if err := json.Unmarshal(text, &saved); err != nil {
						t.Fatal(err)
					}
					again := tc.check(t, bytes, Options{Saved: &saved, Known: tc.opt.Known, KnownNumbers: tc.opt.KnownNumbers})
					if d := cmp.Diff(m, again); d != "" {
						t.Errorf("the same sheet gets another mapping the next time:\n%s", d)
					}
				}
			})
		}
	}
}

// otherWays are the forms in which the bytes of a sheet may come and must be
// read the same. Damaged cells know no exception: none of their verdicts rests
// on a line end, a mark or an archive.
func otherWays(raw []byte) map[string][]byte {
	mark := []byte("\xEF\xBB\xBF")
	ways := map[string][]byte{"as it is": raw, "with a mark": append(mark, raw...), "in gzip": gzipped(raw), "with a mark in gzip": gzipped(append(mark, raw...))}
	for _, end := range []string{"\r\n", "\r", "\r\r\n"} {
		ways[fmt.Sprintf("with %q", end)] = bytes.ReplaceAll(raw, []byte("\n"), []byte(end))
	}
	mixed, n := bytes.Clone(raw), 0
	for _, end := range []string{"\r\n", "\r", "\n"} { // one line end of each kind, in turn
		if i := bytes.IndexByte(mixed[n:], '\n'); i >= 0 {
			mixed = slices.Concat(mixed[:n+i], []byte(end), mixed[n+i+1:])
			n += i + len(end)
		}
	}
	ways["with mixed line ends"] = mixed
	ways["without a last line end"] = bytes.TrimRight(raw, "\n")
	return ways
}

// check opens, maps and reads a sheet, and compares what came of it.
func (tc valueSheet) check(t *testing.T, raw []byte, opt Options) Mapping {
	t.Helper()
	s, err := openSheet(testVocabulary(t), tc.name, raw, Settings{"separator": "semicolon"})
	if err != nil {
		t.Fatal(err)
	}
	p := suggestWith(testVocabulary(t), specOf(catalog.SupplierSheet), s, opt)
	m, questions := p.Mapping, p.Questions
	var asks []string
	for _, q := range questions {
		asks = append(asks, q.Code)
	}
	if got := strings.Join(asks, " "); got != tc.asks {
		t.Fatalf("asked %q, want %q: %+v", got, tc.asks, questions)
	}
	if tc.asks != "" {
		return m
	}
	var rows, held, remarks, repeats []string
	report, err := readWithVocabulary(testVocabulary(t), s, m, opt, func(r catalog.SheetRow) error {
		rows = append(rows, say(r))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(tc.rows, rows); d != "" {
		t.Errorf("rows (-want +got):\n%s", d)
	}
	for i, h := range report.Held {
		line := fmt.Sprintf("%d %s", h.Line, h.Code)
		if i < len(tc.held) {
			if about, ok := strings.CutPrefix(tc.held[i], line+" "); ok && strings.Contains(h.Reason, about) {
				line = tc.held[i]
			} else {
				line += " " + h.Reason
			}
		}
		held = append(held, line)
	}
	for _, r := range report.Remarks {
		remarks = append(remarks, fmt.Sprintf("%s %d", r.Code, r.Rows))
		if r.Says == "" || r.Column == "" || r.Line == 0 {
			t.Errorf("remark without words or place: %+v", r)
		}
	}
	for _, r := range report.Repeats {
		repeats = append(repeats, fmt.Sprintf("%d as %d", r.Line, r.As))
	}
	for what, pair := range map[string][2]string{
		"held": {strings.Join(tc.held, "\n"), strings.Join(held, "\n")}, "remarks": {tc.remarks, strings.Join(remarks, ", ")}, "repeats": {tc.repeats, strings.Join(repeats, ", ")},
	} {
		if d := cmp.Diff(pair[0], pair[1]); d != "" {
			t.Errorf("%s (-want +got):\n%s", what, d)
		}
	}
	return m
}
