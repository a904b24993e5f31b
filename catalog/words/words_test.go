package words

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/data"
)

func table(t testing.TB) *Table {
	t.Helper()
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	tab, err := NewTable(ref, Limits{
		LengthWhole: 0.5, LengthExact: 0.1, LengthInch: 0.4, Rating: 2, Pressure: 4, Volume: 2,
		CelsiusLow: 60, CelsiusHigh: 120, FahrenheitLow: 150, FahrenheitHigh: 230,
	})
	if err != nil {
		t.Fatal(err)
	}
	tab.IsCode = func(text string) bool { return strings.EqualFold(strings.ReplaceAll(text, " ", ""), "P0128") }
	return tab
}

// Keys of part numbers as the trade folds them (common practice); invented
// numbers.
func TestNumbersAreFolded(t *testing.T) {
	tab := table(t)
	for _, same := range [][]string{
		{"tx 4711-a", "TX4711A", "TX–4711–A", "ＴＸ4711Ａ", "ТХ 4711-А", "\ufeffTX\u00ad4711\u200bA", `="TX4711A"`, "'TX4711A", `"TX-4711-A"`},
		{"00123", `="00123"`},
	} {
		for _, other := range same[1:] {
			if tab.Number(other) != tab.Number(same[0]) {
				t.Errorf("%q and %q: %s, %s", same[0], other, tab.Number(same[0]), tab.Number(other))
			}
		}
	}
	if tab.Number("00123") == tab.Number("123") || WithoutZeros(tab.Number("00123")) != "123" {
		t.Error("zeros in front may tell two parts apart, and may have been eaten")
	}
	if tab.Number("O8B1") == tab.Number("08B1") || LookAlike("O8B1") != LookAlike("08B1") {
		t.Error("O for 0 is a suggestion only")
	}
	if tab.Number("4711-A") == tab.Number("4711") {
		t.Error("a suffix may be another part")
	}
}

func TestVariantsHoldWhatASlipMakes(t *testing.T) {
	for key, want := range map[string][]string{
		"QM1O38": {"QM1038"}, "QM1083": {"QM1038", "QM10B3"}, "123": {"00123", "I23"}, "00123": {"123"},
	} {
		got := Variants(key)
		for _, w := range want {
			if !slices.Contains(got, w) {
				t.Errorf("%s: no %s in %d variants", key, w, len(got))
			}
		}
		if slices.Contains(got, key) {
			t.Errorf("%s is no variant of itself", key)
		}
	}
	if n := len(Variants(strings.Repeat("0", 30))); n > mostVariants {
		t.Errorf("%d variants", n)
	}
}

// GS1 General Specifications, section 7.9: the worked examples of GTIN-13 and
// GTIN-12, and numbers of the range kept for use inside a shop.
func TestTheCheckDigitOfABarcode(t *testing.T) {
	for code, want := range map[string]bool{
		"6291041500213": true, "2000000013800": true, "2100000000012": true, "036000291452": true, "06291041500213": true,
		"6291041500214": false, "2000000013805": false, "629104150021": false, "62910415002x3": false, "": false,
	} {
		if GTINRight(code) != want {
			t.Errorf("%s: %v", code, !want)
		}
	}
}

// One wrong digit always shows (GS1 General Specifications, section 7.9).
func TestOneWrongDigitOfABarcodeShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := []byte(rapid.StringMatching(`[0-9]{13}`).Draw(t, "code"))
		for d := byte('0'); d <= '9' && !GTINRight(string(b)); d++ {
			b[12] = d
		}
		i, d := rapid.IntRange(0, 12).Draw(t, "place"), rapid.IntRange(0, 9).Draw(t, "digit")
		old := b[i]
		b[i] = byte('0' + d)
		if (b[i] == old) != GTINRight(string(b)) {
			t.Fatalf("%s with %c at %d", b, old, i)
		}
	})
}

func TestFiguresThatAreSaid(t *testing.T) {
	tab := table(t)
	for text, want := range map[string]string{
		"two thousand and eight":        "2008",
		"two thousand":                  "2000",
		"nineteen ninety eight":         "1998",
		"twenty twelve":                 "2012",
		"ninety-eight or nine":          "1998 1999",
		"oh four":                       "2004",
		"three four":                    "3.4",
		"three point four":              "3.4",
		"two point oh litre":            "2.0L",
		"three-litre":                   "3 litre",
		"inch and a half":               `1-1/2"`,
		"two and a quarter inch":        `2-1/4"`,
		"eighty two degrees":            "82 degrees",
		"six cylinder":                  "six cylinder",
		"three four two thousand eight": "3.4 2008",
	} {
		var got []string
		for _, w := range tab.spoken(split(text)) {
			got = append(got, w.text)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q: %q, want %q", text, strings.Join(got, " "), want)
		}
	}
}

func TestWhatASentenceIsReadAs(t *testing.T) {
	tab := table(t)
	known := Known{"TX4711": {NameNumber}, "12345678": {NameNumber}, "82": {NameNumber}, "KR6": {NameEngine}, "TARN": {NameMake}, "HAULM8": {NameModel}, "D02": {NameMark}}
	for _, tc := range []struct {
		text  string
		as    As
		check func(Reading) bool
	}{
		{"got a tx-4711?", AsNumber, func(r Reading) bool { return slices.Equal(r.Numbers, []string{"TX4711"}) }},
		{"thermostat 82", AsWords, func(r Reading) bool { return len(r.Sizes) == 1 && r.Sizes[0].At == 82_000 }},
		{"82", AsNumber, nil},
		{"12345678 for the tarn", AsNumber, func(r Reading) bool { return len(r.Makes) == 1 }},
		{"haulm 8 2014", AsEngine, func(r Reading) bool { return len(r.Models) == 1 && slices.Equal(r.Years, []int{2014}) }},
		{"kr6 '98-04", AsEngine, func(r Reading) bool { return len(r.Years) == 7 && r.Years[0] == 1998 }},
		{"D 02", AsVehicle, nil},
		{"it has a p 0128", AsCode, func(r Reading) bool { return r.Code == "P0128" }},
		{"1M8 GDM9AXKP 042788", AsVIN, func(r Reading) bool { return r.VIN == "1M8GDM9AXKP042788" }},
		{"scan 2000000013800", AsBarcode, func(r Reading) bool { return r.BarcodeRight }},
		{"4711", AsNumber, func(r Reading) bool { return r.Partial == "4711" }},
		{"clip for a 47 mm hose", AsWords, func(r Reading) bool { return slices.Equal(r.Types, []string{"clamp"}) && r.Sizes[0].At == 47_000_000 }},
		{"stat and hose", AsWords, func(r Reading) bool { return len(r.Types) == 2 }},
		{"3.8 tarn", AsEngine, func(r Reading) bool { return r.Displacement.Known && r.Displacement.Value.Litres() == 3.8 }},
		{"5 litre coolant", AsWords, func(r Reading) bool { return !r.Displacement.Known && r.Sizes[0].Kind == SizeVolume }},
		{"lower hose no air", AsWords, func(r Reading) bool { return slices.Equal(r.Without, []string{"A/C"}) && len(r.Concepts) == 1 }},
		{"o ring 63.09 x 3.53", AsWords, func(r Reading) bool { return len(r.Sizes) == 2 && r.Sizes[1].At == 3_530_000 }},
		{`stat 2-1/8"`, AsWords, func(r Reading) bool { return r.Sizes[0].At == 53_975_000 }},
		{"15 psi cap", AsWords, func(r Reading) bool { return r.Sizes[0].Kind == SizePressure }},
		{"", AsWords, func(r Reading) bool { return !r.AsksForParts() }},
	} {
		r := tab.Read(tc.text, known)
		if r.As != tc.as || tc.check != nil && !tc.check(r) {
			t.Errorf("%q: %+v", tc.text, r)
		}
	}
}

// Whatever is typed, nothing of it is lost: each word is read, left out as
// filler, or kept as a word.
func TestEveryWordIsAccountedFor(t *testing.T) {
	tab := table(t)
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOf(rapid.SampledFrom([]string{
			"stat", "for", "a", "TKV38", "3.8", "195", "'98", "two", "thousand", "hose", "47", "mm", "x", "P0128", "63.09", "lower", "zzgrx", "2-1/8\"", "\u00a0", "!!", "½", "Ø54",
		})).Draw(t, "words"), " ")
		r := tab.Read(text, Known{})
		if r.As == "" {
			t.Fatalf("%q is read as nothing", text)
		}
		for _, s := range r.Spans {
			if s.Text == "" || s.Means == "" {
				t.Fatalf("%q: span %+v", text, s)
			}
		}
		for _, z := range r.Sizes {
			if z.At <= 0 || z.Near < 0 {
				t.Fatalf("%q: size %+v", text, z)
			}
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		tab.Read(text, Known{})
		tab.Keys(text)
	})
}

// Every phrase of the table is found again by its own reading, and no trade
// word reads as two sorts of part.
func TestThePhrasesOfTheTableHangTogether(t *testing.T) {
	tab := table(t)
	for phrase, entries := range tab.phrases {
		types := map[string]bool{}
		for _, e := range entries {
			if e.kind == "type" {
				types[e.value] = true
			}
		}
		if len(types) > 1 {
			t.Errorf("%q is %v", phrase, types)
		}
	}
	if _, err := NewTable(catalog.Reference{}, Limits{}); err == nil {
		t.Error("a missing table must be an error")
	}
}
