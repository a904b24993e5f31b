package cli

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
)

// ownDemo is a demo garage of the test's own, for tests that log something.
func ownDemo(t *testing.T) string {
	t.Helper()
	home := t.TempDir()
	if err := os.CopyFS(home, os.DirFS(demoHome(t))); err != nil {
		t.Fatal(err)
	}
	return home
}

// answer runs a command with --json and reads what it printed.
func answer(t *testing.T, home string, want int, args ...string) map[string]any {
	t.Helper()
	code, out, errs := call(t, append([]string{"--home", home, "--json"}, args...)...)
	if code != want {
		t.Fatalf("%v ended with %d, want %d:\n%s%s", args, code, want, out, errs)
	}
	var a map[string]any
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatalf("%v in\n%s", err, out)
	}
	return a
}

// "Took 3.6 litres, I drained 4.4."
func TestFillAddSaysAirOrSpill(t *testing.T) {
	home := ownDemo(t)
	a := answer(t, home, 0, "fill", "add", "D 12", "--chemistry", "p-hoat", "--strength", "50%", "--volume", "3.6L", "--drained", "4.4L", "--date", "2026-04-02")
	fill := a["fill"].(map[string]any)
	if fill["volume_l"] != 3.6 || fill["drained_l"] != 4.4 || fill["strength_vol_pct"] != 50.0 || fill["entry"] == nil {
		t.Errorf("%v", fill)
	}
	origin := fill["origin"].(map[string]any)
	if !strings.HasPrefix(origin["sheet"].(string), "logged by hand ") {
		t.Errorf("origin %v", origin)
	}
	_, out, _ := call(t, "--home", home, "fill", "list", "D12")
	for _, want := range []string{"0.8 L less", "Bleed again", "logged by hand", "entry 1"} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

// What is logged answers the next question.
func TestFillAddAnswersTheNextMix(t *testing.T) {
	home := ownDemo(t)
	if code, out, errs := call(t, "--home", home, "mix", "--vehicle", "D 08", "--add", "PR-SI50-20", "--add-volume", "0.3L"); code == 0 {
		t.Fatalf("before anything is logged: %d\n%s%s", code, out, errs)
	}
	answer(t, home, 0, "fill", "add", "D 08", "--number", "PR-SI50-20", "--volume", "30L", "--drained", "30L", "--date", "2026-04-02")
	if code, out, errs := call(t, "--home", home, "mix", "--vehicle", "D 08", "--add", "PR-SI50-20", "--add-volume", "0.3L"); code != 0 {
		t.Errorf("after a full change: %d\n%s%s", code, out, errs)
	}
}

// A car topped five times in seven months.
func TestFillListSaysWhatItLoses(t *testing.T) {
	a := answer(t, demoHome(t), 0, "fill", "list", "D 02")
	loss := a["circuits"].([]any)[0].(map[string]any)["loss"].(map[string]any)
	// 4.0 L after the first of five top-offs, in the 203 days from 14 August to 5 March
	if got, want := loss["per_year_l"].(float64), 4.0/203*365.25; got < want-0.01 || got > want+0.01 {
		t.Errorf("%.2f L a year, want %.2f", got, want)
	}
	if loss["per_year_l_low"].(float64) >= loss["per_year_l"].(float64) || loss["outcome"] != "no" || loss["top_offs"] != 5.0 {
		t.Errorf("%v", loss)
	}
	if says := loss["says"].(string); !strings.Contains(says, "4.8 L in all") || !strings.Contains(says, "Find where it goes") {
		t.Error(says)
	}
}

func TestSecondTopOffOfASealedSystemSaysSo(t *testing.T) {
	home := ownDemo(t)
	for i, day := range []string{"2026-04-02", "2026-05-02", "2026-05-20"} {
		a := answer(t, home, 0, "fill", "add", "D 10", "--chemistry", "si-oat", "--strength", "50%", "--volume", []string{"3.4L", "0.2L", "0.2L"}[i], "--drained", []string{"3.4L", "0L", "0L"}[i], "--date", day)
		says := strings.Join(strings.Fields(jsonText(t, a["now"])), " ")
		if got := strings.Contains(says, "low twice"); got != (i == 2) {
			t.Errorf("after filling %d: %s", i+1, says)
		}
	}
}

func jsonText(t *testing.T, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// Concentrate with water is one filling, as strong as the two together.
func TestFillAddCountsTheWater(t *testing.T) {
	home := ownDemo(t)
	a := answer(t, home, 0, "fill", "add", "D 01", "--number", "PR-SIC-5", "--volume", "2.2L", "--water", "2.2L", "--drained", "4.4L")
	fill := a["fill"].(map[string]any)
	if fill["volume_l"] != 4.4 || fill["strength_vol_pct"] != 49.5 {
		t.Errorf("%v", fill)
	}
}

// A sheet that tells of the same filling later does not count it twice.
func TestLoggedFillAndItsSheetAreOne(t *testing.T) {
	home := ownDemo(t)
	answer(t, home, 0, "fill", "add", "D 12", "--number", "PR-PH50-5", "--volume", "0.5L", "--date", "2026-04-02")
	path := t.TempDir() + "/more.csv"
	if err := os.WriteFile(path, []byte("date,vehicle,number,volume (L)\n2026-04-02,D-12,PR-PH50-5,0.5\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	answer(t, home, 0, "import", path, "--as", "fills")
	a := answer(t, home, 0, "fill", "list", "D 12")
	fills := a["fills"].([]any)
	if len(fills) != 1 || fills[0].(map[string]any)["origin"].(map[string]any)["sheet"] != "more.csv" {
		t.Errorf("%v", fills)
	}
}

func TestFillUndo(t *testing.T) {
	home := ownDemo(t)
	answer(t, home, 0, "fill", "add", "D 12", "water", "--volume", "5L")
	answer(t, home, 0, "fill", "undo")
	if a := answer(t, home, 0, "fill", "list", "D 12"); len(a["fills"].([]any)) != 0 {
		t.Errorf("%v", a["fills"])
	}
	answer(t, home, 2, "fill", "undo")
	answer(t, home, 2, "fill", "undo", "7")
}

func TestFillAddRefusesWhatItCannotRead(t *testing.T) {
	home := ownDemo(t)
	for _, c := range []struct {
		args []string
		exit int
		says string
	}{
		{[]string{"D 99", "water", "--volume", "1L"}, 4, "no vehicle"},
		{[]string{"D 01", "water"}, 2, "how much"},
		{[]string{"D 01", "--volume", "1L"}, 2, "what went in"},
		{[]string{"D 01", "--number", "OS1954", "--volume", "1L"}, 2, "no coolant"},
		{[]string{"D 01", "--number", "PR-SIC-5", "--chemistry", "oat", "--volume", "1L"}, 2, "went in?"},
		{[]string{"D 04", "water", "--volume", "1L"}, 2, "which one"},
		{[]string{"D 01", "water", "--volume", "-1L"}, 2, "negative volume"},
		{[]string{"D 01", "water", "--volume", "1L", "--date", "2999-01-01"}, 2, "has not come"},
		{[]string{"D 01", "water", "--volume", "1L", "--date", "3 May"}, 2, "not a date"},
	} {
		code, _, errs := call(t, append([]string{"--home", home, "fill", "add"}, c.args...)...)
		if code != c.exit || !strings.Contains(strings.Join(strings.Fields(errs), " "), c.says) {
			t.Errorf("%v ended with %d, want %d with %q:\n%s", c.args, code, c.exit, c.says, errs)
		}
	}
}
