package cli

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

type jobJSON struct {
	Engine, Job string
	Lines       []struct {
		Role, Supplier, Number, Unit, Outcome, Why, Need, Missing string
		Quantity                                                  float64
	}
	Notes  []struct{ Text, Grade string }
	Torque *struct {
		Stated *struct{ Low, High float64 } `json:"stated_nm"`
		Basis  string
		Above  *float64 `json:"implausible_above_nm"`
	}
	ChecksFirst []string `json:"checks_first"`
	Problems    []string
	Total       []string
}

func askJob(t *testing.T, args ...string) (int, jobJSON) {
	t.Helper()
	code, out, errs := call(t, append([]string{"--home", demoHome(t), "--json", "job"}, args...)...)
	var a jobJSON
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatalf("%v in\n%s%s", err, out, errs)
	}
	return code, a
}

func (a jobJSON) line(role string) (number, outcome string, quantity float64) {
	for _, l := range a.Lines {
		if l.Role == role {
			return l.Number, l.Outcome, l.Quantity
		}
	}
	return "", "", 0
}

// For each thermostat its own ring: another thermostat brings another one, and
// the one with the ring in the bag none.
func TestJobKeepsTheSetTogether(t *testing.T) {
	for stat, ring := range map[string]string{"QM-1038": "1.6 mm", "QM-1039": ""} {
		_, a := askJob(t, "TKV38", "thermostat", "--take", "thermostat="+stat)
		number, outcome, _ := a.line("seal")
		if (number == "") != (ring == "") || ring != "" && outcome != "yes" {
			t.Errorf("%s: seal %q %s, problems %v", stat, number, outcome, a.Problems)
		}
	}
	if _, a := askJob(t, "TKV38", "thermostat", "--take", "thermostat=QM-1038", "--take", "seal=QM-2039"); len(a.Problems) != 1 {
		t.Errorf("the ring for 2.0 mm on a flange of 1.6 mm: problems %v", a.Problems)
	}
}

func TestJobNamesEveryRole(t *testing.T) {
	for _, engine := range []string{"TKV38", "TKV30", "TKV50", "ODL16", "ODL20", "HSM25", "JVD74", "JVD42", "PLN13", "VSR18", "VSR20", "VSD19"} {
		_, a := askJob(t, engine, "thermostat")
		if n, o, _ := a.line("thermostat"); n == "" || o != "yes" && o != "caution" {
			t.Errorf("%s: thermostat %q %s", engine, n, o)
		}
		for _, l := range a.Lines {
			if l.Number == "" && l.Missing == "" || l.Why == "" || l.Outcome == "no" {
				t.Errorf("%s: %+v", engine, l)
			}
		}
		if len(a.Notes) < 8 || len(a.ChecksFirst) == 0 {
			t.Errorf("%s: %d notes, checks first %v", engine, len(a.Notes), a.ChecksFirst)
		}
	}
}

func TestJobCountsFluids(t *testing.T) {
	_, a := askJob(t, "VSR18", "thermostat", "--drained", "4.4L", "--fill-strength", "50", "--add", "PR-SI50-20", "--fill", "factory")
	if n, o, q := a.line("coolant"); n != "PR-SI50-20" || o != "yes" || q != 4.4 {
		t.Errorf("%s %s %v L; want 4.4 L of the house coolant", n, o, q)
	}
	_, a = askJob(t, "TKV38", "thermostat", "--drained", "4L", "--fill-strength", "30", "--add", "PR-OAC-5")
	_, _, coolant := a.line("coolant")
	_, _, water := a.line("distilled water")
	if sum := coolant + water; sum < 3.999 || sum > 4.001 || coolant < 3.5 {
		t.Errorf("%v L of concentrate and %v L of water for 4 L at 30 %%", coolant, water)
	}
}

func TestJobTorqueIsNeverASetting(t *testing.T) {
	_, a := askJob(t, "JVD42", "thermostat")
	if a.Torque == nil || a.Torque.Stated != nil || a.Torque.Basis != "none on file" || a.Torque.Above == nil {
		t.Errorf("%+v", a.Torque)
	}
	code, out, _ := call(t, "--home", demoHome(t), "job", "ODL20", "thermostat")
	if code == exitYes || !strings.Contains(out, "106 N·m") || !strings.Contains(out, "surely wrong") {
		t.Errorf("106 N·m on M6: exit code %d\n%s", code, out)
	}
}

func TestJobSheets(t *testing.T) {
	dir := t.TempDir()
	page, table := filepath.Join(dir, "shelf.html"), filepath.Join(dir, "shelf.csv")
	for _, name := range []string{page, table} {
		if code, out, errs := call(t, "--home", demoHome(t), "job", "VSR18", "thermostat", "--out", name); code != exitNo || !strings.Contains(out, name) {
			t.Fatalf("exit code %d: %s%s", code, out, errs)
		}
		if code, _, _ := call(t, "--home", demoHome(t), "job", "VSR18", "thermostat", "--out", name); code != exitUsage {
			t.Errorf("%s was written over", name)
		}
	}
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	for _, never := range []string{"ZgotmplZ", "customer", "labour", "tax", "http", "<script"} {
		if strings.Contains(strings.ToLower(string(text)), strings.ToLower(never)) {
			t.Errorf("the page holds %q", never)
		}
	}
	f, err := os.Open(table)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if rows, err := csv.NewReader(f).ReadAll(); err != nil || len(rows) < 6 {
		t.Errorf("%d rows, %v", len(rows), err)
	}
}

func TestJobErrors(t *testing.T) {
	for args, want := range map[string]string{
		"TKV38":                                   "thermostat",
		"TKV38 thermostatt":                       "thermostat",
		"TKV38 thermostat --take ring":            "--take thermostat=NUMBER",
		"TKV38 thermostat --take seal=QM-1038":    "no seal",
		"TKV38 thermostat --drained 40L":          "more than the 11.6 L",
		"TKV38 thermostat --drained 4":            "4.4L",
		"TKV38 thermostat --out shelf.pdf":        "shelf.html",
		"TKV38 thermostat --add NO-SUCH-COOLANT9": "fitfill find coolant",
	} {
		code, _, errs := call(t, append([]string{"--home", demoHome(t), "job"}, strings.Fields(args)...)...)
		if code != exitUsage || !strings.Contains(errs, want) {
			t.Errorf("%s: exit code %d, no %q in %s", args, code, want, errs)
		}
	}
}

// With the shop's labour rate known, comebacks are counted: the supplier whose
// parts come back most is no longer the cheapest.
func TestJobCountsComebacks(t *testing.T) {
	t.Setenv("FITFILL_LABOUR_RATE", "60 EUR")
	_, a := askJob(t, "TKV38", "thermostat")
	for _, l := range a.Lines {
		if l.Role == "thermostat" && (l.Supplier == "Ostrel" || !strings.Contains(l.Why, "comebacks counted: ")) {
			t.Errorf("%s of %s: %s", l.Number, l.Supplier, l.Why)
		}
	}
}

// A vehicle brings its engine and what is in it by its log, and the list is kept
// as said.
func TestJobOfAVehicle(t *testing.T) {
	code, a := askJob(t, "--vehicle", "D 01", "thermostat")
	if a.Engine != "VSR18" || code == exitFailed {
		t.Fatalf("exit code %d, %+v", code, a)
	}
	for _, l := range a.Lines {
		if l.Role == "coolant" && !strings.Contains(l.Why, "of what is in there") {
			t.Errorf("coolant: %s", l.Why)
		}
	}
	number, _, _ := a.line("thermostat")
	if _, out, _ := call(t, "--home", demoHome(t), "vehicle", "show", "D 01", "--all"); !strings.Contains(out, "Told") || !strings.Contains(out[strings.Index(out, "Told"):], number) {
		t.Errorf("%s was put on a list and nobody knows of it:\n%s", number, out)
	}
	if code, _, errs := call(t, "--home", demoHome(t), "job"); code != exitUsage || !strings.Contains(errs, "which job") {
		t.Errorf("exit code %d: %s", code, errs)
	}
}

func TestJobNamesTheChecksOfItsCode(t *testing.T) {
	_, a := askJob(t, "TKV38", "thermostat")
	if len(a.ChecksFirst) < 5 || !strings.Contains(strings.Join(a.ChecksFirst, " "), "relay") {
		t.Errorf("%q", a.ChecksFirst)
	}
	if _, out, _ := call(t, "--home", demoHome(t), "job", "TKV38", "thermostat"); !strings.Contains(strings.Join(strings.Fields(out), " "), "fitfill checks P0128") {
		t.Error("the checks before a thermostat are not one line away")
	}
}

// A job on a car that is on file starts from what is in that car, whichever way
// the car was named: of what the mix command says not to pour nothing is on the
// list, and a coolant of which nobody knows the kind is no way out.
func TestAJobStartsFromWhatIsInTheCar(t *testing.T) {
	if code, out, _ := call(t, "--home", demoHome(t), "mix", "--vehicle", "D02", "--add", "PR-OAC-G", "--add-volume", "3.2L"); code != exitCannotSay {
		t.Fatalf("the demo's car holds something else now: %s", out)
	}
	for _, args := range [][]string{{"D02", "thermostat"}, {"--vehicle", "D 02", "thermostat"}, {"Z0XSD38T411000202", "thermostat"}} {
		_, out, _ := call(t, append([]string{"--home", demoHome(t), "job"}, args...)...)
		flat := strings.Join(strings.Fields(out), " ")
		if !strings.Contains(flat, "rounds:") || !strings.Contains(flat, "not on top of what is in it: get that out first") || strings.Contains(flat, "PR-AF-5") {
			t.Errorf("%v: %s", args, out)
		}
	}
	_, out, _ := call(t, "--home", demoHome(t), "job", "D02", "thermostat", "--add", "PR-OAC-G")
	if flat := strings.Join(strings.Fields(out), " "); !strings.Contains(flat, "? coolant:") || !strings.Contains(flat, "don't pour yet") || !strings.Contains(flat, "get the old coolant out first") {
		t.Errorf("the bottle that was asked for is not answered: %s", out)
	}
	if _, out, _ := call(t, "--home", demoHome(t), "job", "TKV38", "thermostat"); strings.Contains(out, "get that out first") || !strings.Contains(out, "mixes (approved; first fill presumed)") {
		t.Errorf("no car was named: %s", out)
	}
	if _, out, _ := call(t, "--home", demoHome(t), "job", "TKV38", "thermostat"); strings.Contains(out, "on TS-1038") {
		t.Errorf("the seal is told for another thermostat than the one that is chosen: %s", out)
	}
}
