package importers

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func suggestFor(t *testing.T, raw string, opt Options) Proposal {
	t.Helper()
	s, err := Open(reference(t), "list.csv", []byte(raw), Settings{"header": "1"})
	if err != nil {
		t.Fatal(err)
	}
	return Suggest(reference(t), catalog.SupplierSheet, s, opt)
}

func suggestionFor(p Proposal, heading string) Suggestion {
	i := slices.IndexFunc(p.Suggestions, func(s Suggestion) bool { return s.Heading == heading })
	if i < 0 {
		return Suggestion{}
	}
	return p.Suggestions[i]
}

// numbersList is a list whose first column has an unknown heading and numbers,
// the first known of which are on file.
func numbersList(heading string, rows int) (string, []string) {
	var b strings.Builder
	var numbers []string
	fmt.Fprintf(&b, "%s;Wording;Net;Contents;Scan\n", heading)
	for i := range rows {
		n := fmt.Sprintf("KV-%04d", i)
		numbers = append(numbers, n)
		fmt.Fprintf(&b, "%s;Seal for housing %d;%d,50;%d ml;%s\n", n, i, i+1, 100+i, withCheckDigit(400_000_000_000+i))
	}
	return b.String(), numbers
}

func withCheckDigit(n int) string {
	text := fmt.Sprint(n)
	for d := range 10 {
		if full := fmt.Sprint(text, d); checkDigit(full) {
			return full
		}
	}
	return ""
}

// 4006381333931 is the worked example of an EAN-13 that is found in text books
// (from memory), 73513537 that of an EAN-8 (from memory).
func TestTheCheckDigitOfBarcodes(t *testing.T) {
	for code, want := range map[string]bool{"4006381333931": true, "4006381333932": false, "73513537": true, "73513538": false} {
		if checkDigit(code) != want {
			t.Errorf("%s: %v", code, !want)
		}
	}
}

func TestValuesShowWhatAColumnIs(t *testing.T) {
	raw, numbers := numbersList("KV code", 40)
	opt := onFile(numbers[:36]...)
	p := suggestFor(t, raw, opt)
	number := suggestionFor(p, "KV code")
	if number.Field != "number" || !strings.Contains(number.Evidence, "90 % of the values are part numbers on file") || number.Taken {
		t.Errorf("number: %+v", number)
	}
	for heading, want := range map[string]string{"Scan": "barcode", "Contents": "pack_volume"} {
		if s := suggestionFor(p, heading); s.Field != want {
			t.Errorf("%s: %+v", heading, s)
		}
	}
	if !strings.Contains(p.Command, `--map number="KV code"`) {
		t.Errorf("the command that accepts: %s", p.Command)
	}
	var flags Options = opt
	flags.Maps = map[string]string{}
	for _, f := range strings.Split(p.Command, "--")[1:] {
		f = strings.TrimSpace(f)
		if pair, ok := strings.CutPrefix(f, "map "); ok {
			field, heading, _ := strings.Cut(pair, "=")
			flags.Maps[field] = strings.Trim(heading, `"`)
		} else if heading, ok := strings.CutPrefix(f, "ignore "); ok {
			flags.Ignore = append(flags.Ignore, strings.Trim(heading, `"`))
		}
	}
	if again := suggestFor(t, raw, flags); len(again.Questions) > 0 {
		t.Errorf("the command %s leaves open %+v", p.Command, again.Questions)
	}
}

func TestAListedHeadingOverOtherValuesIsAQuestion(t *testing.T) {
	var b strings.Builder
	b.WriteString("Part No;Price;Description\n")
	for i := range 20 {
		fmt.Fprintf(&b, "P-%d;Seal %c ring;%d,50\n", i, 'a'+i, i+1)
	}
	p := suggestFor(t, b.String(), Options{})
	if len(p.Questions) == 0 || !strings.Contains(p.Questions[0].Question, `"Price"`) {
		t.Fatalf("%+v", p.Questions)
	}
	if s := suggestionFor(p, "Price"); s.Taken {
		t.Errorf("%+v", s)
	}
}

func TestSwappedColumnsAreSeenByTheirValues(t *testing.T) {
	list := func(swap bool, factor int) (string, []string) {
		var b strings.Builder
		var numbers []string
		b.WriteString("Part No;Replaced by;Price EUR\n")
		for i := range 40 {
			a, o := fmt.Sprintf("KV-%04d", i), fmt.Sprintf("ZZ-%04d", i)
			numbers = append(numbers, a)
			if swap {
				a, o = o, a
			}
			fmt.Fprintf(&b, "%s;%s;%d,50\n", a, o, (i+1)*factor)
		}
		return b.String(), numbers
	}
	raw, numbers := list(false, 1)
	saved := suggestFor(t, raw, onFile(numbers[:38]...)).Mapping
	if saved.Measured.Known != 95 || saved.Measured.Prices["price"] != 215000 {
		t.Fatalf("%+v", saved.Measured)
	}
	for name, tc := range map[string]struct {
		swap   bool
		factor int
		accept []string
		asks   int
	}{
		"as before": {false, 1, nil, 0}, "swapped": {true, 1, nil, 1}, "accepted": {true, 1, []string{"swapped-columns"}, 0},
		"eleven times the price": {false, 11, nil, 1}, "nine times the price": {false, 9, nil, 0},
	} {
		opt := onFile(numbers...)
		opt.Saved, opt.Accept = &saved, tc.accept
		raw, _ := list(tc.swap, tc.factor)
		p := suggestFor(t, raw+"\n", opt)
		if len(p.Questions) != tc.asks || tc.asks > 0 && (p.Questions[0].Code != "swapped-columns" || !strings.Contains(p.Questions[0].Command, "--accept swapped-columns")) {
			t.Errorf("%s: %+v", name, p.Questions)
		}
	}
}

func TestAMappingIsAVersionedProfile(t *testing.T) {
	raw := "Part No;Price EUR;Aisle;Spare\nP-1;5,50;7;\nP-2;6,50;8;\n"
	first := suggestFor(t, raw, Options{Ignore: []string{"Aisle"}}).Mapping
	if first.Version != 1 || first.Signature == "" || !slices.Equal(first.Empty, []string{"Spare"}) {
		t.Fatalf("%+v", first)
	}
	next := func(raw string, opt Options) Proposal {
		opt.Saved = &first
		return suggestFor(t, raw, opt)
	}
	if p := next(raw, Options{}); p.Mapping.Version != 1 || len(p.Questions)+len(p.Notes) > 0 || cmp.Diff(first, p.Mapping) != "" {
		t.Errorf("the same sheet: version %d, %+v, %v", p.Mapping.Version, p.Questions, p.Notes)
	}
	reordered := "Price EUR;Aisle;Part No\n5,50;7;P-1\n6,70;8;P-3\n"
	if p := next(reordered, Options{}); len(p.Questions) > 0 || len(p.Notes) != 1 || column(p.Mapping, "number").Index != 2 || p.Mapping.Signature == first.Signature {
		t.Errorf("reordered: %+v %v", p.Questions, p.Notes)
	}
	if p := next(strings.Replace(raw, "7;", "7;x", 1), Options{}); len(p.Questions) != 1 || !strings.Contains(p.Questions[0].Question, `"Spare"`) {
		t.Errorf("a column that was empty and is filled now: %+v", p.Questions)
	}
	if p := next("Part No;Aisle\nP-1;7\n", Options{}); len(p.Questions) != 1 || p.Questions[0].Code != "missing-column" {
		t.Errorf("without prices: %+v", p.Questions)
	}
	if p := next("Part No;Aisle\nP-1;7\n", Options{Accept: []string{"missing-column"}}); len(p.Questions) > 0 || p.Mapping.Version != 2 || len(p.Notes) == 0 {
		t.Errorf("without prices, accepted: %+v %v", p.Questions, p.Notes)
	}
	if p := next("Part No;Price EUR;Aisle;Opening °C\nP-1;5,50;7;82\nP-2;6,50;8;88\n", Options{}); len(p.Questions) > 0 || column(p.Mapping, "opening_temp").Index != 3 {
		t.Errorf("a listed column more: %+v", p.Questions)
	}
	other := first
	other.Columns = slices.Clone(first.Columns)
	other.Columns[1].Decimal = Point
	if first.SameReading(other) || !first.SameReading(first) {
		t.Error("SameReading does not tell readings apart")
	}
}

func TestColumnsShowTheirSharesYearsAndUnits(t *testing.T) {
	for raw, want := range map[string]string{
		"Part No;Strength\nP-1;0.5\nP-2;0.33\n":           "percent",
		"Part No;Strength\nP-1;50\nP-2;0.33\n":            "",
		"Part No;Strength %\nP-1;0.5\n":                   "",
		"Part No;Years\nP-1;>92\nP-2;98-03\n":             "arrows",
		"Part No;Years\nP-1;03/04\nP-2;05/06\n":           "pairs",
		"Part No;Years\nP-1;03/04\nP-2;92/96\n":           "",
		"Part No;Years\nP-1;03/04\nP-2;09/98\n":           "",
		"Part No;Contents\nP-1;5 l\nP-2;1 l\nP-3;20\n":    "",
		"Part No;Contents\nP-1;5 l\nP-2;1\nP-3;20\n":      "unit",
		"Part No;Price\nP-1;12,50\nP-2;1.234\n":           "",
		"Part No;Price\nP-1;1.234,5\nP-2;1,234.5\n":       "decimal",
		"Part No\n4711.0\n4712.0\nP-3\n":                  "point-zero",
		"Part No\n4711.0\nP-1\nP-2\nP-3\n":                "",
		"Part No;Price per;Price\nP-1;per 100;12,50\n":    "",
		"Part No;Replaced by;Price\nP-1;P-2;12,50\n":      "",
		"Part No;Stock as of\nP-1;03/04/2026\nP-2;1/2/26": "dates",
	} {
		var asks []string
		for _, q := range suggestFor(t, raw, Options{}).Questions {
			asks = append(asks, q.Code)
			if q.Command == "" || q.Question == "" {
				t.Errorf("%q: %+v", raw, q)
			}
		}
		if got := strings.Join(asks, " "); got != want {
			t.Errorf("%q asks %q, want %q", raw, got, want)
		}
	}
}

func TestSettingsOfMeaningAreChecked(t *testing.T) {
	for _, s := range []Settings{{"percent": "half"}, {"arrows": "up"}, {"pairs": "x"}, {"point-zero": "drop"}, {"pad": "0"}, {"pad": "x"}} {
		if p := suggestFor(t, "Part No\nP-1\n", Options{Settings: s}); len(p.Questions) != 1 || p.Questions[0].Code != "setting" {
			t.Errorf("%v: %+v", s, p.Questions)
		}
	}
	p := suggestFor(t, "Part No\n4711\n04712\n", Options{Settings: Settings{"pad": "7"}})
	s, err := Open(reference(t), "list.csv", []byte("Part No\n4711\n04712\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	rows, report := readAll(t, s, p.Mapping)
	if rows[0].Part.Number != "0004711" || rows[1].Part.Number != "0004712" || report.Remarks[0].Code != "padded" {
		t.Errorf("%+v %+v", rows, report)
	}
}

// An empty column more, wherever it stands, changes nothing about the others.
func TestAnEmptyColumnChangesNoSuggestion(t *testing.T) {
	raw, numbers := numbersList("KV code", 12)
	opt := onFile(numbers...)
	plain := suggestFor(t, raw, opt)
	rapid.Check(t, func(rt *rapid.T) {
		at := rapid.IntRange(0, 5).Draw(rt, "at")
		heading := rapid.SampledFrom([]string{"", "Spare", "Price", "Part No", "Foo"}).Draw(rt, "heading")
		var b strings.Builder
		for i, line := range strings.Split(strings.TrimSpace(raw), "\n") {
			cells := strings.Split(line, ";")
			if i == 0 {
				cells = slices.Insert(cells, at, heading)
			} else {
				cells = slices.Insert(cells, at, "")
			}
			b.WriteString(strings.Join(cells, ";") + "\n")
		}
		wider := suggestFor(t, b.String(), opt)
		if d := cmp.Diff(plain.Suggestions, wider.Suggestions); d != "" {
			rt.Fatalf("%q at %d:\n%s", heading, at, d)
		}
		columns := slices.Clone(wider.Mapping.Columns)
		for i := range columns {
			if columns[i].Index > at {
				columns[i].Index--
			}
		}
		if d := cmp.Diff(plain.Mapping.Columns, columns); d != "" {
			rt.Fatalf("%q at %d:\n%s", heading, at, d)
		}
	})
}

func TestPairGivesEachFieldToOneColumn(t *testing.T) {
	for _, tc := range []struct {
		scores [][]float64
		want   []int
	}{
		{[][]float64{{0.9, 0.8}, {0.85, 0.1}}, []int{1, 0}},
		{[][]float64{{0.9}, {0.95}}, []int{-1, 0}},
		{[][]float64{{0.1, 0.5, 0.2}}, []int{1}},
		{nil, []int{}},
	} {
		if d := cmp.Diff(tc.want, pair(tc.scores)); d != "" {
			t.Errorf("%v:\n%s", tc.scores, d)
		}
	}
}
