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

// 49 CFR 565.15 (a) to (d) and ISO 3780: which positions say what, and that a
// third character 9 marks a maker of few vehicles.
func TestEachPartOfAVINIsReadFromItsPlace(t *testing.T) {
	r := Read("1M8GDM9AXKP042788", false)
	if r.Maker != "1M8" || r.Engine != "A" || r.Serial != "KP042788" || r.LowVolume || !r.CheckBound || !r.YearBound {
		t.Errorf("%+v", r)
	}
	if few := Read("1M9GDM8AXKP042788", false); !few.LowVolume {
		t.Errorf("position 3 is 9: %+v", few)
	}
	if few := Read("W9ZAB12CZ4K123456", false); few.LowVolume {
		t.Errorf("position 2 is 9, not position 3: %+v", few)
	}
}

// The first character by region: ISO 3780, from memory. The rule of the check
// digit binds makers whose VIN begins with 1 to 5 alone.
func TestTheFirstCharacterTellsTheRegion(t *testing.T) {
	for region, first := range map[string]string{
		"Africa": "ABCDEFGH", "Asia": "JKLMNPR", "Europe": "STUVWXYZ", "North America": "12345", "Oceania": "67", "South America": "890",
	} {
		for _, c := range first {
			r := Read(string(c)+"0XAB12CZ4K123456", false)
			if r.Region != region || r.CheckBound != (region == "North America") {
				t.Errorf("%c: %q, check digit bound %v; want %s", c, r.Region, r.CheckBound, region)
			}
		}
	}
}

// Letters that no VIN holds are offered as digits; without a check digit that has
// to be right, the correction is not proved.
func TestAForbiddenLetterElsewhereIsOfferedUnproved(t *testing.T) {
	for _, tc := range []struct {
		text, want string
	}{
		{"WOXAB12CZ4K123456", "W0XAB12CZ4K123456"},
		{"6OXAB12CZ4K123456", "60XAB12CZ4K123456"},
		{"OWXAB12CZ4K123456", "0WXAB12CZ4K123456"},
		{"1OXAB12CZ4K123456", ""}, // the rule asks for a right digit, and it is not
		{"5OXAB12CZ4K123456", ""},
		{"WOXAB12CZ4K12345/", ""}, // another character that no VIN holds
	} {
		list := Corrections(tc.text)
		if tc.want == "" && list == nil {
			continue
		}
		if len(list) != 1 || list[0].VIN != tc.want || list[0].Proved {
			t.Errorf("%s: %+v, want %q unproved", tc.text, list, tc.want)
		}
	}
}

// Two ways that lead to the same VIN are offered once, and the text itself never.
func TestNoCorrectionIsOfferedTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := []byte(vinGen.Draw(t, "vin"))
		b[rapid.IntRange(0, 16).Draw(t, "place")] = rapid.StringMatching(`[A-HJ-NPR-Z0-9]`).Draw(t, "character")[0]
		seen := map[string]bool{string(b): true}
		for _, c := range Corrections(string(b)) {
			if seen[c.VIN] {
				t.Fatalf("%s: %s is offered again", b, c.VIN)
			}
			seen[c.VIN] = true
		}
	})
}

func TestEveryKindOfSignBetweenIsTakenOut(t *testing.T) {
	if got := Clean("*1M8\u200bGDM\t9A\u00adX\x00K–P0_4.2788*"); got != "1M8GDM9AXKP042788" {
		t.Errorf("%q", got)
	}
}

func TestALetterBeyondASCIIIsNamed(t *testing.T) {
	r := Read("1M8GDM9AXKP0427É8", false)
	if r.Valid() || r.Problems[0].Position != 16 || !strings.Contains(r.Problems[0].Says, "É") {
		t.Errorf("%+v", r.Problems)
	}
	// U+0130 and U+0430 end in the bytes of "0" and "0": only the whole sign counts.
	if r := Read("1M8GDM9AXKP\u04304278 8", false); r.Valid() {
		t.Errorf("%+v", r)
	}
}
