package cli

import (
	"strings"
	"testing"
)

// What is asked at the counter in one breath finds what the sheets have.
func TestFindAsItIsAsked(t *testing.T) {
	ask := func(words string) (int, string) {
		code, out, errs := call(t, "--home", demoHome(t), "find", words)
		return code, strings.Join(strings.Fields(out+errs), " ")
	}
	for words, want := range map[string][]string{
		"coolant filter for the Haulm charged or blank": {"1 part for JVD74: 1 fits", "PR-FB"}, // the models are Haulm 8 and Haulm 12
		"haulm thermostat":                      {"2 parts for JVD74: 2 fit", "QM-1367", "OS 1803"},
		"charged or blank filter":               {"3 parts", "PR-FB", "PR-FC2", "PR-FC4"},
		"unterer Schlauch TKV30 mit Klima":      {"mit Klima (with A/C)", "1 fits, 2 should fit, 1 does not fit"},
		"hesmira ellun hybrid inverter coolant": {"2 parts for HSM25: 1 fits, 1 should fit", "inverter (loop)", "fits: one list, not measured (inverter loop)"},
		"ellun battery coolant":                 {"2 parts for HSM25: 1 fits, 1 does not fit", "(battery loop)"},
		"coolant for the ellun":                 {"(engine and inverter loop)", "(battery loop)"},
	} {
		code, out := ask(words)
		for _, w := range want {
			if code != exitYes || !strings.Contains(out, w) {
				t.Errorf("%s: exit code %d, no %q in %s", words, code, w, out)
			}
		}
	}
	// The fluid of one loop is no yes for another.
	if _, out := ask("ellun inverter coolant"); strings.Contains(out, "+ PR-LC-5") || !strings.Contains(out, "! PR-LC-5") {
		t.Errorf("the battery's fluid for the inverter: %s", out)
	}
	code, out, errs := call(t, "--home", demoHome(t), "fit", "HSM25", "--type", "coolant", "--circuit", "gearbox")
	if code != exitUsage || !strings.Contains(errs, "on file are engine, inverter, battery") {
		t.Errorf("exit code %d: %s%s", code, out, errs)
	}
}

// A size off the calliper is seldom one that a list prints: the answer leads on.
func TestAMeasuredSizeThatNoListPrints(t *testing.T) {
	code, out, _ := call(t, "--home", demoHome(t), "find", "thermostat", "53.6", "mm")
	if code != exitCannotSay || !strings.Contains(strings.Join(strings.Fields(out), " "), "leave the size out, or say which engine") {
		t.Errorf("exit code %d:\n%s", code, out)
	}
}
