package cli

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// shelfJSON is what a list for the shelf has to carry besides its lines.
type shelfJSON struct {
	Lines []struct {
		Role, Number, Outcome, Why, Missing string
		RunnerUp                            *struct {
			Number, Outcome, Price, Stock, Delivery string
		} `json:"runner_up"`
	}
	Cautions []string
}

func askShelf(t *testing.T, args ...string) shelfJSON {
	t.Helper()
	_, out, errs := call(t, append([]string{"--home", demoHome(t), "--json", "job"}, args...)...)
	var a shelfJSON
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatalf("%v in\n%s%s", err, out, errs)
	}
	return a
}

// A hot cap burns whether or not the sheets know what is in the engine: no list
// goes out without the warnings.
func TestEveryJobWarnsOfTheHotCap(t *testing.T) {
	ask := [][]string{}
	for _, engine := range []string{"TKV38", "TKV30", "TKV50", "ODL16", "ODL20", "HSM25", "JVD74", "JVD42", "PLN13", "VSR18", "VSR20", "VSD19"} {
		ask = append(ask, []string{engine, "thermostat"})
	}
	for _, job := range []string{"housing", "leak", "pump", "radiator", "hoses", "heater", "cap", "tank", "sensor", "coolant"} {
		ask = append(ask, []string{"PLN13", job})
	}
	for _, args := range ask {
		if a := askShelf(t, args...); !slices.ContainsFunc(a.Cautions, func(c string) bool { return strings.Contains(c, "hot cap") }) {
			t.Errorf("job %v: cautions %q", args, a.Cautions)
		}
	}
	if a := askShelf(t, "HSM25", "cap"); !strings.Contains(strings.Join(a.Cautions, " "), "High voltage") {
		t.Errorf("a hybrid's cap: %q", a.Cautions)
	}
}

// That the first fill is still in it is a guess where nobody said so: no yes
// rests on it. Said, or on file of the car, it does.
func TestAGuessedFillIsNoYes(t *testing.T) {
	for args, want := range map[string]string{
		"ODL16 thermostat":                "caution",
		"ODL16 thermostat --fill factory": "yes",
		"D03 thermostat":                  "yes",
	} {
		a := askShelf(t, strings.Fields(args)...)
		for _, l := range a.Lines {
			if l.Role == "coolant" && (l.Outcome != want || strings.Contains(l.Why, "nobody has said what is in it") != (want == "caution")) {
				t.Errorf("job %s: coolant %s, %s; want %s", args, l.Outcome, l.Why, want)
			}
		}
	}
}

// The hose on file is the radiator's: it sizes no clamp of the heater or the tank.
func TestClampsAreSizedByTheirOwnHose(t *testing.T) {
	clamps := func(args ...string) (string, string) {
		for _, l := range askShelf(t, args...).Lines {
			if l.Role == "clamps" {
				return l.Number, l.Missing
			}
		}
		return "", ""
	}
	for _, job := range []string{"heater", "tank"} {
		if n, missing := clamps("TKV38", job); n != "" || !strings.Contains(missing, "measure over") {
			t.Errorf("%s: clamp %q, %q", job, n, missing)
		}
		if n, _ := clamps("TKV38", job, "--measured", "hose 36 mm"); n == "" {
			t.Errorf("%s: no clamp for the hose that was measured", job)
		}
	}
	if n, _ := clamps("TKV38", "hoses"); n == "" {
		t.Error("no clamp for the radiator's hoses")
	}
}

// Where the old thermostat may stay in, the ring for the new one is no yes.
func TestARingForAThermostatThatMayStay(t *testing.T) {
	for args, want := range map[string]string{"TKV38 leak": "caution", "TKV38 leak --take thermostat=QM-1038": "yes", "TKV38 thermostat": "yes", "VSR18 leak": "yes"} {
		for _, l := range askShelf(t, strings.Fields(args)...).Lines {
			if l.Role == "seal" && l.Outcome != want {
				t.Errorf("job %s: seal %s %s, %s; want %s", args, l.Number, l.Outcome, l.Why, want)
			}
		}
	}
}

// The next best part is priced for as much as the line takes, says whether it is
// to be had, and is no worse coolant.
func TestTheNextBestIsComparable(t *testing.T) {
	for args, want := range map[string]string{
		"VSR18 coolant coolant":       "PR-SI50-1 yes 24.50 EUR",
		"JVD74 thermostat thermostat": "QM-1367 yes 54.00 EUR",
		"JVD42 thermostat thermostat": "QM-1062 yes 22.40 EUR 0 no longer made",
		"HSM25 thermostat coolant":    "",
	} {
		f := strings.Fields(args)
		for _, l := range askShelf(t, f[0], f[1]).Lines {
			if l.Role != f[2] {
				continue
			}
			got := ""
			if r := l.RunnerUp; r != nil {
				got = strings.Join([]string{r.Number, r.Outcome, r.Price, r.Stock, r.Delivery}, " ")
			}
			if !strings.HasPrefix(got, want) || (want == "") != (got == "") {
				t.Errorf("%s: next best %q; want %q", args, got, want)
			}
		}
	}
}

// What stays in the engine counts: water has no strength, and where nobody knows
// the strength no figure is promised.
func TestWhatStaysInCounts(t *testing.T) {
	for args, want := range map[string]string{
		// (0.5·11.6 − 0·5.2)/0.99 = 5.86 L of concentrate for 11.6 L of which 6.4 L came out.
		"TKV38 thermostat --fill water":                  "yes 5.9 L ends at 50 %",
		"TKV38 thermostat --fill oat":                    "yes 3.2 L ends at 50 % if what stays in has 50 %: measure it",
		"TKV38 thermostat --fill oat --fill-strength 20": "yes 4.8 L ends at 50 %", // (5.8 − 0.2·5.2)/0.99
		"VSR18 thermostat --fill water":                  "yes 4.0 L ends at 50 %", // the concentrate, because ready-mixed coolant is too weak
		"D05 coolant":                                    "yes 17.0 L ends at 50 % if what stays in has 50 %: measure it",
	} {
		_, a := askJob(t, strings.Fields(args)...)
		for _, l := range a.Lines {
			if l.Role != "coolant" {
				continue
			}
			_, ends, _ := strings.Cut(l.Why, "; ")
			if got := fmt.Sprintf("%s %.1f L %s", l.Outcome, l.Quantity, ends); got != want {
				t.Errorf("job %s: %s; want %s", args, got, want)
			}
		}
	}
}

// Where every thermostat hangs on the same fact, it is asked before one is fetched.
func TestAJobAsksBeforeItFetches(t *testing.T) {
	for args, want := range map[string]string{
		"ODL20 thermostat":             "Which model year?",
		"ODL20 thermostat --year 2007": "",
		"TKV50 thermostat":             "What is the 8th character of the VIN?",
		"TKV38 thermostat":             "",
	} {
		_, out, _ := call(t, append([]string{"--home", demoHome(t), "job"}, strings.Fields(args)...)...)
		if asks := strings.Contains(out, "> Ask first: "); asks != (want != "") || asks && !strings.Contains(out, want) {
			t.Errorf("job %s: want %q asked first in %s", args, want, out)
		}
	}
}
