package vin

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The check digits and years that are printed in 49 CFR part 565 (the worked
// sample of 565.15 (c)), or that published VINs bear; the sums are computed.
func TestPublishedNumbers(t *testing.T) {
	for _, tc := range []struct {
		vin, source string
		sum         int
		check       byte
		years       []int
	}{
		{"1G4AH59H45G118341", "49 CFR 565.15 (c), worked sample", 411, '4', []int{2005}},
		{"1M8GDM9AXKP042788", "published sample VIN, widely printed", 351, 'X', []int{1989}},
		{"11111111111111111", "published test VIN: 89 modulo 11 is 1", 89, '1', []int{2001}},
		{"KM8K2CAB4PU001140", "published VIN of 2023", 257, '4', []int{2023}},
		{"5GZCZ43D13S812715", "published VIN, from memory", 408, '1', []int{2003}},
		{"Z0XAB12C74K123456", "invented, computed by the rule", -1, '7', []int{2004}},
		{"Z0XAB1DC9EK123456", "invented, computed by the rule", -1, '9', []int{2014}},
		{"Z0XHT84L59N000777", "invented, computed by the rule", -1, '5', []int{2009}},
		{"Z0XHT8RL7KN000777", "invented, computed by the rule", -1, '7', []int{2019}},
	} {
		r := Read(tc.vin, false)
		if !r.Valid() || !r.CheckRight || r.CheckDigit != tc.check || !slices.Equal(r.Years, tc.years) {
			t.Errorf("%s (%s): %+v", tc.vin, tc.source, r)
		}
		if tc.sum >= 0 && sum(tc.vin) != tc.sum {
			t.Errorf("%s (%s): sum %d, want %d", tc.vin, tc.source, sum(tc.vin), tc.sum)
		}
	}
}

// 49 CFR 565.15 (d): the code at position 10, with position 7 for light
// vehicles; codes that the table does not have.
func TestModelYearByPositionSeven(t *testing.T) {
	at := func(class, code byte) string {
		b := []byte("1Z1AA11A0A1000001")
		b[6], b[9] = class, code
		return string(b)
	}
	for _, tc := range []struct {
		class, code byte
		heavy       bool
		want        []int
	}{
		{'1', 'T', false, []int{1996}},
		{'A', 'T', false, []int{2026}},
		{'1', 'C', true, []int{1982, 2012}},
		{'A', 'C', true, []int{1982, 2012}},
		{'1', '9', false, []int{2009}},
		{'A', '9', false, []int{2039}},
		{'1', 'Y', false, []int{2000}},
		{'A', 'A', false, []int{2010}},
		{'1', 'U', false, nil},
		{'1', 'Z', false, nil},
		{'1', '0', false, nil},
	} {
		if got := modelYears(at(tc.class, tc.code), tc.heavy); !slices.Equal(got, tc.want) {
			t.Errorf("position 7 %c, position 10 %c, heavy %v: %v, want %v", tc.class, tc.code, tc.heavy, got, tc.want)
		}
	}
}

func TestWhatIsNoVINSaysWhere(t *testing.T) {
	for _, tc := range []struct {
		text     string
		position int
		says     string
	}{
		{"1M8GDM9AXKPO42788", 12, "letter O"},
		{"IM8GDM9AXKP042788", 1, "letter I"},
		{"1M8GDM9AXKPQ42788", 12, "letter Q"},
		{"1M8GDM9AXKP04278", 0, "16 characters"},
		{"1M8GDM9AXKP0427888", 0, "18 characters"},
		{"1M8GDM9AXKP0427/8", 16, `'/'`},
		{"1M8GDM9A1KP042788", 9, "ask for X"},
	} {
		r := Read(tc.text, false)
		if r.Valid() || r.Problems[0].Position != tc.position || !strings.Contains(r.Problems[0].Says, tc.says) {
			t.Errorf("%s: %+v", tc.text, r.Problems)
		}
	}
}

// Outside North America nothing is bound to position 9 (ISO 3779): a wrong
// digit there is a note.
func TestACheckDigitElsewhereIsANote(t *testing.T) {
	r := Read("W0XAB12CZ4K123456", false)
	if !r.Valid() || r.CheckRight || r.CheckBound || r.YearBound || r.Region != "Europe" {
		t.Errorf("%+v", r)
	}
}

func TestSpacesDashesAndSmallLettersDoNotMatter(t *testing.T) {
	if r := Read(" 1m8 gdm9a-xkp 042788\u00a0", false); !r.Valid() || r.VIN != "1M8GDM9AXKP042788" {
		t.Errorf("%+v", r)
	}
}

func TestCorrectionsAreOfferedWithWhatWasChanged(t *testing.T) {
	for _, tc := range []struct{ text, want, changed string }{
		{"1M8GDM9AXKPO42788", "1M8GDM9AXKP042788", "0 in place of O at position 12"},
		{"IM8GDM9AXKPQ42788", "1M8GDM9AXKP042788", "1 in place of I at position 1, 0 in place of Q at position 12"},
		{"1M8GDM9AXKP024788", "1M8GDM9AXKP042788", "exchanged at positions 13 and 14"},
		{"1M8GDM9AXKPD42788", "1M8GDM9AXKP042788", "0 in place of D at position 12"},
		{"1M8GDM9A1KP042788", "1M8GDM9AXKP042788", "the check digit itself"},
	} {
		list := Corrections(tc.text)
		i := slices.IndexFunc(list, func(c Correction) bool { return c.VIN == tc.want })
		if i < 0 || !strings.Contains(list[i].Changed, tc.changed) || !list[i].Proved {
			t.Errorf("%s: %+v", tc.text, list)
		}
	}
	if list := Corrections("1M8GDM9AXKP042788"); list != nil {
		t.Errorf("a sound VIN needs none: %+v", list)
	}
	if list := Corrections("1M8GDM9AXKP04278"); list != nil {
		t.Errorf("a character that is missing cannot be guessed: %+v", list)
	}
}

// vinGen draws VINs with the right check digit.
var vinGen = rapid.Custom(func(t *rapid.T) string {
	b := []byte(rapid.StringMatching(`[A-HJ-NPR-Z0-9]{17}`).Draw(t, "vin"))
	b[8] = checkDigit(string(b))
	return string(b)
})

// One wrong character out of seventeen always shows, unless its value is the
// same or the weight hides it: the rule's own promise, since 11 is prime.
func TestOneWrongCharacterShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := vinGen.Draw(t, "vin")
		if !sound(v) {
			t.Fatalf("%s should be sound", v)
		}
		i := rapid.IntRange(0, 16).Draw(t, "place")
		c := rapid.StringMatching(`[A-HJ-NPR-Z0-9]`).Draw(t, "character")[0]
		b := []byte(v)
		old := b[i]
		b[i] = c
		if i == 8 {
			if c != old && sound(string(b)) {
				t.Fatalf("another check digit passes: %s", b)
			}
			return
		}
		value := func(c byte) int { return sum(strings.Repeat("0", 16) + string(c)) }
		if differs := value(c) != value(old); differs == sound(string(b)) {
			t.Fatalf("%s with %c at %d: sound is %v", v, c, i+1, sound(string(b)))
		}
	})
}

func TestACorrectionIsSoundAndNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := []byte(vinGen.Draw(t, "vin"))
		i := rapid.IntRange(0, 16).Draw(t, "place")
		b[i] = rapid.StringMatching(`[A-Z0-9]`).Draw(t, "character")[0]
		for _, c := range Corrections(string(b)) {
			off := 0
			for j := range b {
				if b[j] != c.VIN[j] {
					off++
				}
			}
			if off == 0 || off > 2 || c.Proved != sound(c.VIN) || c.Changed == "" {
				t.Fatalf("%s: %+v", b, c)
			}
		}
	})
}
