package cli

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestChecksComeBeforeThePart(t *testing.T) {
	home := demoHome(t)
	code, out, _ := call(t, "--home", home, "checks", "p0128", "--engine", "TKV38", "--stamp", "160 F")
	for _, want := range []string{"P0128: 6 checks, about 16 minutes", "79.4 °C", "that alone sets the code", "cold engine", "1. Look at the level", "fitfill fit TKV38 --type thermostat"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if first, _, _ := strings.Cut(out, "\n"); code != exitYes || len(first) > 60 {
		t.Errorf("exit code %d, first line %q", code, first)
	}
}

func TestACodeOfACircuitSellsNoPart(t *testing.T) {
	code, out, _ := call(t, "--home", demoHome(t), "--json", "checks", "P0128", "P0118")
	var a struct {
		Codes []struct {
			Code   string
			NoPart bool `json:"no_part_yet"`
			Checks []struct {
				Check   string
				Minutes float64
			}
		}
		Parts []string
	}
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	if code != exitYes || a.Codes[0].Code != "P0118" || !a.Codes[0].NoPart || a.Codes[0].Checks[0].Check != "bridge" || len(a.Codes) != 2 {
		t.Errorf("exit code %d\n%s", code, out)
	}
}

func TestCodesThatAreNotOfCooling(t *testing.T) {
	home := demoHome(t)
	for _, tc := range []struct {
		code, says string
		exit       int
	}{
		{"P1128", "the maker's own code", exitCannotSay},
		{"U0100", "not a code of the cooling system", exitCannotSay},
		{"P0300", "none of the cooling system", exitCannotSay},
		{"P128", "P0128 is meant, perhaps", exitUsage},
	} {
		code, out, errs := call(t, "--home", home, "checks", tc.code)
		if text := strings.Join(strings.Fields(out+errs), " "); code != tc.exit || !strings.Contains(text, tc.says) {
			t.Errorf("%s: exit code %d\n%s", tc.code, code, text)
		}
	}
}
