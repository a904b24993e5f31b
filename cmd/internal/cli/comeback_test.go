package cli

import (
	"os"
	"strings"
	"testing"
)

// "It didn't fit": in one line, with what was told that day.
func TestComebackIsJudgedByWhatWasTold(t *testing.T) {
	home := ownDemo(t)
	if code, _, _ := call(t, "--home", home, "fit", "--vehicle", "D 02", "--type", "thermostat"); code != 0 {
		t.Fatalf("fit ended with %d", code)
	}
	answer(t, home, 3, "fit", "--vehicle", "D 02", "--part", "OS1954")
	for _, c := range []struct{ number, outcome, counts, line string }{
		{"QM-1038", "yes", "charged to Quillmar's listing", "quillmar.csv"},
		{"OS1954", "no", "fitted against what was told", "ostrel.csv"},
	} {
		a := answer(t, home, 0, "comeback", c.number, "--reason", "did not fit", "--vehicle", "D 02")
		told := a["told"].(map[string]any)
		if told["outcome"] != c.outcome || told["vehicle"] != "D 02" || told["listing"].(map[string]any)["sheet"] != c.line {
			t.Errorf("%s: told %v", c.number, told)
		}
		if !strings.Contains(a["counts"].(string), c.counts) {
			t.Errorf("%s counts as %v", c.number, a["counts"])
		}
	}
	a := answer(t, home, 0, "comeback", "GV10-038", "--reason", "did not fit")
	if told, ok := a["told"].(map[string]any); !ok || told["vehicle"] != "D 02" || !strings.Contains(a["counts"].(string), "charged to Grauvelt") {
		t.Errorf("without a vehicle, the only one that it was asked for is meant: %v", a)
	}
	a = answer(t, home, 0, "comeback", "QM-1116", "--reason", "did not fit")
	if a["told"] != nil || !strings.Contains(a["counts"].(string), "nothing is on record") {
		t.Errorf("nobody asked about it: %v", a)
	}
}

// supplierScore is one supplier's line of the comparison.
func supplierScore(t *testing.T, home, name string) map[string]any {
	t.Helper()
	for _, s := range answer(t, home, 0, "suppliers")["suppliers"].([]any) {
		if s := s.(map[string]any); s["supplier"] == name {
			return s
		}
	}
	t.Fatalf("no line of %s", name)
	return nil
}

// A return logged by hand counts like a sheet's, once, and goes when it is taken
// back.
func TestComebackCountsOnceInSuppliers(t *testing.T) {
	home := ownDemo(t)
	errors := func() float64 { return supplierScore(t, home, "Quillmar")["supply_errors"].(float64) }
	before := errors()
	answer(t, home, 0, "comeback", "QM-1038", "--reason", "wrong part in box", "--supplier", "Quillmar", "--date", "2026-03-20")
	if got := errors(); got != before+1 {
		t.Errorf("logged by hand: %v, want %v", got, before+1)
	}
	path := t.TempDir() + "/back.csv"
	if err := os.WriteFile(path, []byte("date,supplier,number,quantity,reason\n2026-03-23,Quillmar,qm 1038,1,wrong part sent\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	answer(t, home, 0, "import", path, "--as", "returns")
	if got := errors(); got != before+1 {
		t.Errorf("the sheet tells of it too: %v, want %v", got, before+1)
	}
	answer(t, home, 0, "comeback", "undo")
	if got := errors(); got != before+1 {
		t.Errorf("taken back by hand, it still stands in the sheet: %v, want %v", got, before+1)
	}
}

// What is logged by hand today does not make the books look whole up to today.
func TestComebackDoesNotMoveTheDayOfTheBooks(t *testing.T) {
	home := ownDemo(t)
	before := answer(t, home, 0, "suppliers")["as_of"]
	answer(t, home, 0, "comeback", "QM-1038", "--reason", "leaks", "--supplier", "Quillmar")
	if after := answer(t, home, 0, "suppliers")["as_of"]; after != before {
		t.Errorf("as of %v, before %v", after, before)
	}
}

func TestComebackRefusesWhatItCannotRead(t *testing.T) {
	home := ownDemo(t)
	for _, c := range []struct {
		args []string
		exit int
		says string
	}{
		{[]string{"QM-1038"}, 2, "why it came back"},
		{[]string{"NOPE-1", "--reason", "leaks"}, 4, "no sheet has the number"},
		{[]string{"QM-1038", "--reason", "leaks", "--bath", "warm"}, 2, "no result of a test"},
		{[]string{"QM-1038", "--reason", "leaks", "--quantity", "-1"}, 2, "no number of pieces"},
		{[]string{"QM-1038", "--reason", "leaks", "--supplier", "Qillmar"}, 2, "Quillmar"},
		{[]string{"QM-1038", "--reason", "leaks", "--vehicle", "D 99"}, 4, "D 99"},
	} {
		code, _, errs := call(t, append([]string{"--home", home, "comeback"}, c.args...)...)
		if code != c.exit || !strings.Contains(strings.Join(strings.Fields(errs), " "), c.says) {
			t.Errorf("%v ended with %d, want %d with %q:\n%s", c.args, code, c.exit, c.says, errs)
		}
	}
}

// A car that came back three times for the same code: diagnosis, not part.
func TestVehicleShowNamesTheSameCodeAgain(t *testing.T) {
	a := answer(t, demoHome(t), 0, "vehicle", "show", "D07")
	again, _ := a["again"].(string)
	for _, want := range []string{"3 thermostats", "3 of them for P0128", "another cause"} {
		if !strings.Contains(again, want) {
			t.Errorf("no %q in %q", want, again)
		}
	}
	if len(a["comebacks"].([]any)) != 3 || len(a["first"].(string)) > 60 {
		t.Errorf("%v, %v", a["first"], a["comebacks"])
	}
}

func TestVehicleShowIsOneScreen(t *testing.T) {
	for _, mark := range []string{"D 01", "D 02", "D 04", "D 07", "D 10"} {
		code, out, _ := call(t, "--home", demoHome(t), "vehicle", "show", mark)
		lines := strings.Split(strings.TrimRight(out, "\n"), "\n")
		if code != 0 || len(lines) > 40 {
			t.Errorf("%s: %d lines\n%s", mark, len(lines), out)
		}
		for _, l := range lines {
			if len([]rune(l)) > 80 {
				t.Errorf("%s: wider than 80: %s", mark, l)
			}
		}
	}
}

func TestFittedAdd(t *testing.T) {
	home := ownDemo(t)
	a := answer(t, home, 0, "fitted", "add", "D 12", "qm 1121", "--measured", "flange 53.9 mm")
	if a["number"] != "QM-1121" || a["supplier"] != "Quillmar" || a["type"] != "thermostat" {
		t.Errorf("%v", a)
	}
	if list := answer(t, home, 0, "vehicle", "show", "D12")["fitted"].([]any); len(list) != 2 {
		t.Errorf("%v", list)
	}
	answer(t, home, 0, "fitted", "undo")
	if list := answer(t, home, 0, "vehicle", "show", "D12")["fitted"].([]any); len(list) != 1 {
		t.Errorf("%v", list)
	}
	answer(t, home, 2, "fitted", "add", "D 12", "QM-1121", "--measured", "warm")
	answer(t, home, 4, "fitted", "add", "D 12", "NOPE-1")
}

// The answer to a question about a vehicle is kept once a day.
func TestWhatIsAskedForAVehicleIsKept(t *testing.T) {
	home := ownDemo(t)
	for range 2 {
		call(t, "--home", home, "mix", "--vehicle", "D 01", "--add", "PR-SI50-20", "--add-volume", "0.3L")
	}
	told := answer(t, home, 0, "vehicle", "show", "D 01")["told"].([]any)
	if len(told) != 1 || told[0].(map[string]any)["outcome"] != "yes" {
		t.Errorf("%v", told)
	}
}
