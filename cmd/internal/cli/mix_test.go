package cli

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// What a foreman would say: one line, at most three reasons, and the rest only
// on asking.
func TestMixAnswersShortAndExplainsOnAsking(t *testing.T) {
	for name, args := range map[string]string{
		"a known pair":        "mix --engine VSR18 --fill si-oat --fill-strength 50 --add PR-SI50-20 --add-volume 0.5L",
		"a colour only":       "mix --engine VSR18 --fill green --add PR-SI50-20 --add-volume 2.5L --coldest -12C",
		"a universal coolant": "mix --engine TKV38 --fill oat --add OSUNI --add-volume 1L",
		"hard water":          "mix --engine PLN13 --fill iat --add water --add-volume 0.5L --hardness 320",
		"a condemned fill":    "mix --engine TKV38 --fill rusty --add PR-OA50-5 --add-volume 1L",
	} {
		t.Run(name, func(t *testing.T) {
			words := append([]string{"--home", demoHome(t)}, strings.Fields(args)...)
			_, short, _ := call(t, words...)
			_, long, _ := call(t, append(words, "--explain")...)
			lines := strings.Split(strings.TrimSpace(short), "\n")
			if n := utf8.RuneCountInString(lines[0]); n > 62 { // the mark and 60
				t.Errorf("first line of %d characters: %s", n, lines[0])
			}
			reasons := 0
			for _, l := range lines[1:] {
				if utf8.RuneCountInString(l) > textWidth {
					t.Errorf("a line of more than %d columns: %s", textWidth, l)
				}
				if strings.HasPrefix(l, "  Afterwards") || strings.HasPrefix(l, "  To ") || strings.HasPrefix(l, "  Not checked") {
					break
				}
				for _, mark := range outcomeMark {
					if strings.HasPrefix(l, "    "+mark+" ") && !strings.Contains(l, "up to ") && !strings.Contains(l, "more: ") {
						reasons++
					}
				}
			}
			if reasons == 0 || reasons > 3 {
				t.Errorf("%d reasons:\n%s", reasons, short)
			}
			if len(lines) > 28 {
				t.Errorf("%d lines:\n%s", len(lines), short)
			}
			if len(long) <= len(short) {
				t.Errorf("nothing more is explained:\n%s", long)
			}
		})
	}
}

func TestACondemnedFillShowsNoAmounts(t *testing.T) {
	_, out, _ := call(t, append([]string{"--home", demoHome(t)}, strings.Fields("mix --engine TKV38 --fill rusty --add PR-OA50-5")...)...)
	for _, odd := range []string{"x up to", "any amount", "Topped up"} {
		if strings.Contains(out, odd) {
			t.Errorf("%q in\n%s", odd, out)
		}
	}
}

func TestAnEmptyShelfIsToldHowFarWaterGetsHome(t *testing.T) {
	_, out, _ := call(t, append([]string{"--home", demoHome(t)}, strings.Fields("mix --engine VSR18 --fill si-oat --fill-strength 50 --add water --coldest -12C")...)...)
	if !strings.Contains(out, "To get home: up to") || !strings.Contains(out, "it then freezes at") {
		t.Errorf("no way home in\n%s", out)
	}
}

// An approval is known by the engine that asks for it and by the products on
// file that carry it; one that only recommends itself is not left out unless
// the user says how the label puts it.
func TestAnApprovalStandsForWhatCarriesIt(t *testing.T) {
	for _, tc := range []struct {
		add  string
		exit int
		has  string
	}{
		{"approved: VS 77-C", exitYes, "approved; first fill presumed"},
		{"vs77c", exitNo, "psi-oat by Pindle & Rook PR-PS50-5"},
		{"XQ 11", exitUsage, "approval number on"},
	} {
		code, out, errs := call(t, "--home", demoHome(t), "mix", "--engine", "VSR18", "--fill", "factory", "--add", tc.add, "--add-volume", "3L")
		if code != tc.exit || !strings.Contains(out+errs, tc.has) {
			t.Errorf("%s: exit code %d, want %d saying %q:\n%s%s", tc.add, code, tc.exit, tc.has, out, errs)
		}
	}
}
