package cli

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// kept runs a command on a data folder and returns how it ended and all that it
// printed, the sentence about a mistake in one line.
func kept(t *testing.T, home string, args ...string) (int, string) {
	t.Helper()
	code, out, errs := call(t, append([]string{"--home", home}, args...)...)
	return code, out + strings.Join(strings.Fields(errs), " ")
}

func TestBackupSaysWhatItHoldsAndHowItComesBack(t *testing.T) {
	home, dir := demoHome(t), t.TempDir()
	file := filepath.Join(dir, "shop of ours.zip")
	code, out := kept(t, home, "backup", file)
	if code != exitYes {
		t.Fatalf("%d %s", code, out)
	}
	first, rest, _ := strings.Cut(out, "\n")
	if !strings.HasPrefix(first, "Backed up: 12 sheets, ") || len(first) > 60 {
		t.Errorf("first line: %s", first)
	}
	for _, want := range []string{"last import: returns.csv", "kB, took", `Bring it back: fitfill restore "` + file + `"`} {
		if !strings.Contains(strings.Join(strings.Fields(rest), " "), want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("others can read it: %v %v", info.Mode(), err)
	}
	for _, bad := range []struct {
		args []string
		want string
	}{
		{[]string{file}, "exists already"}, {[]string{dir}, "is a folder"}, {[]string{filepath.Join(home, "x.zip")}, "lies in the data folder"},
		{[]string{filepath.Join(home, "index", "x.zip")}, "lies in the data folder"},
		{[]string{filepath.Join(dir, "no", "x.zip")}, "is not there"}, {[]string{os.DevNull, "--overwrite"}, "no ordinary file"}, {nil, "accepts 1 arg"},
	} {
		if code, out := kept(t, home, append([]string{"backup"}, bad.args...)...); code != exitUsage || !strings.Contains(out, bad.want) {
			t.Errorf("%v: %d %s", bad.args, code, out)
		}
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "*")); len(left) != 1 {
		t.Errorf("left: %v", left)
	}
	a := answer(t, home, exitYes, "backup", file, "--overwrite")
	files := a["files"].([]any)
	if a["fitfill_backup"] != 1.0 || a["size_bytes"].(float64) < 1000 || len(files) != 1 || len(files[0].(map[string]any)["sha256"].(string)) != 64 || a["holds"].(map[string]any)["sheets"] != 12.0 {
		t.Errorf("%v", a)
	}
	if code, out := kept(t, t.TempDir(), "backup", filepath.Join(dir, "empty.zip")); code != exitUsage || !strings.Contains(out, "nothing to back up") {
		t.Errorf("an empty folder: %d %s", code, out)
	}
}

// Ctrl-C ends a backup without a trace.
func TestBackupThatIsStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	dir := t.TempDir()
	var out, errs strings.Builder
	code := Run(ctx, []string{"--home", demoHome(t), "backup", filepath.Join(dir, "x.zip")}, Streams{Out: &out, Err: &errs})
	if code != exitInterrupted || !strings.Contains(errs.String(), "stopped") {
		t.Errorf("%d %s%s", code, out.String(), errs.String())
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Error(left)
	}
}

func TestRestoreAnswersAsBefore(t *testing.T) {
	home := ownDemo(t)
	file, there := filepath.Join(t.TempDir(), "shop.zip"), filepath.Join(t.TempDir(), "there")
	if code, out := kept(t, home, "backup", file); code != exitYes {
		t.Fatal(out)
	}
	if code, out := kept(t, there, "restore", file); code != exitYes || !strings.HasPrefix(out, "Restored: 12 sheets, ") {
		t.Fatalf("%d %s", code, out)
	}
	for _, question := range []string{"find thermostat TKV38", "fit TKV38 --type thermostat --explain", "suppliers", "sheets list", "held", "doctor"} {
		args := strings.Fields(question)
		code, out := kept(t, home, args...)
		if again, now := kept(t, there, args...); again != code || now != out {
			t.Errorf("%s ended with %d, before %d:\n%s\nbefore:\n%s", question, again, code, now, out)
		}
	}
	code, out := kept(t, there, "restore", file)
	if code != exitUsage || !strings.Contains(out, "holds 12 sheets") || !strings.Contains(out, "--replace") {
		t.Errorf("%d %s", code, out)
	}
	code, out = kept(t, there, "restore", file, "--replace")
	if code != exitYes || !strings.Contains(out, "What was there is kept in") {
		t.Errorf("%d %s", code, out)
	}
	a := answer(t, filepath.Join(t.TempDir(), "json"), exitYes, "restore", file)
	if a["kept_aside"] != nil || a["schema"] == 0.0 || a["forgotten_again"] == nil {
		t.Errorf("%v", a)
	}
	if code, out := kept(t, t.TempDir(), "restore", filepath.Join(home, "catalogue.db")); code != exitUsage || !strings.Contains(out, "not a whole backup") {
		t.Errorf("%d %s", code, out)
	}
}

// While the page stands, or anything else has the catalogue open, restoring waits
// for a person.
func TestRestoreWhileTheCatalogueIsOpen(t *testing.T) {
	home := ownDemo(t)
	file := filepath.Join(t.TempDir(), "shop.zip")
	answer(t, home, exitYes, "backup", file)
	e := &env{home: home}
	shop, err := e.shop(nil)
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	if code, out := kept(t, home, "restore", file, "--replace"); code != exitBusy || !strings.Contains(out, "stop it first") {
		t.Errorf("%d %s", code, out)
	}
	if a := answer(t, home, exitBusy, "restore", file, "--replace"); !strings.Contains(a["hint"].(string), "nothing was changed") {
		t.Errorf("%v", a)
	}
}

// A vehicle that was forgotten after the backup does not come back with it,
// whatever the backup names it in, and a later sheet does not bring it back
// either.
func TestRestoreForgetsAgain(t *testing.T) {
	home := t.TempDir()
	load := func(want int, home, name, as, text string) {
		t.Helper()
		answer(t, home, want, "import", writeSheet(t, name, text), "--as", as)
	}
	const filled = "date,vehicle,chemistry,volume (L),note\n2026-01-05,W 7-K,oat,4,W 7 K ran hot\n2026-01-06,A 1,oat,3,towed W7K\n2026-01-07,B 2,oat,3,\n"
	load(0, home, "owned.csv", "vehicles", "vehicle,vin,engine\nW 7-K,Z0XBR30T6W1000777,TKV38\nA 1,,TKV38\nB 2,,TKV38\n")
	load(0, home, "poured.csv", "fills", filled)
	load(0, home, "returned.csv", "returns", "date,supplier,number,quantity,reason,document,note\n2026-01-20,Ostrel,T-1,1,leaked,J1,out of W7K\n")
	answer(t, home, 0, "vehicle", "forget", "B 2", "--yes")
	answer(t, home, 7, "import", writeSheet(t, "waits.csv", "date,vehicle,number,volume (L)\n2026-03-30,w7k,PR-IA50-5,0.5\n"), "--as", "fills", "--check")
	file := filepath.Join(t.TempDir(), "shop.zip")
	answer(t, home, 0, "backup", file)
	if code, out := kept(t, home, "sheets", "drop", "4"); code != 0 {
		t.Fatal(out)
	}
	answer(t, home, 0, "vehicle", "add", "C 3")
	for _, mark := range []string{"W 7-K", "C 3"} { // the backup never knew the second
		answer(t, home, 0, "vehicle", "forget", mark, "--yes")
	}
	code, out := kept(t, home, "restore", file, "--replace")
	out = strings.Join(strings.Fields(out), " ")
	if code != 0 || !strings.Contains(out, "1 vehicle was forgotten after the backup was made, and forgotten again: kept as forgotten 2") || !strings.Contains(out, "waits.csv") {
		t.Fatalf("%d %s", code, out)
	}
	trace := func() {
		t.Helper()
		if found := traceOfW7.FindAllString(everyText(t, home), -1); len(found) > 0 {
			t.Errorf("traces: %q", found)
		}
	}
	trace()
	err := filepath.WalkDir(home, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		raw, err := os.ReadFile(name)
		if at := traceOfW7.FindIndex(raw); at != nil {
			t.Errorf("a trace is left in the bytes of %s: %q", name, raw[max(0, at[0]-40):min(len(raw), at[1]+40)])
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	answer(t, home, exitCannotSay, "vehicle", "show", "W7K")
	if card := answer(t, home, 0, "vehicle", "show", "forgotten 2"); len(card["fills"].([]any)) != 1 {
		t.Errorf("its history: %v", card)
	}
	if card := answer(t, home, 0, "vehicle", "show", "forgotten 1"); len(card["fills"].([]any)) != 1 {
		t.Errorf("the history of the one that was forgotten before: %v", card)
	}
	load(0, home, "later.csv", "fills", filled+"2026-02-02,W7K,oat,1,\n2026-02-03,C3,oat,1,\n2026-02-04,B-2,oat,1,\n")
	trace()
	for name, fills := range map[string]int{"forgotten 1": 2, "forgotten 2": 2, "forgotten 3": 1} {
		if card := answer(t, home, 0, "vehicle", "show", name); len(card["fills"].([]any)) != fills {
			t.Errorf("%s: %v", name, card["fills"])
		}
	}
	answer(t, home, 0, "doctor")
	// What was replaced lies there still, and a copy that a killed backup left.
	left := filepath.Join(home, "backup", "catalogue.db")
	if err := os.Mkdir(filepath.Dir(left), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(left, []byte("A 1"), 0o600); err != nil {
		t.Fatal(err)
	}
	if aside := answer(t, home, 0, "vehicle", "forget", "A 1", "--yes")["aside"].([]any); len(aside) != 1 {
		t.Errorf("%v", aside)
	}
	if _, err := os.Stat(left); !os.IsNotExist(err) {
		t.Errorf("the copy of a killed backup is still there: %v", err)
	}
}

// A backup of another garage keeps both lists of forgotten vehicles apart and
// whole.
func TestRestoreKeepsTheForgottenOfBothCatalogues(t *testing.T) {
	theirs, ours := t.TempDir(), t.TempDir()
	const owned = "vehicle,vin,engine\nW 7-K,Z0XBR30T6W1000777,TKV38\nA 1,,TKV38\n"
	answer(t, theirs, 0, "import", writeSheet(t, "owned.csv", owned), "--as", "vehicles")
	answer(t, theirs, 0, "vehicle", "forget", "A 1", "--yes")
	file := filepath.Join(t.TempDir(), "theirs.zip")
	answer(t, theirs, 0, "backup", file)
	answer(t, ours, 0, "import", writeSheet(t, "owned.csv", owned), "--as", "vehicles")
	answer(t, ours, 0, "vehicle", "forget", "W 7-K", "--yes")
	a := answer(t, ours, 0, "restore", file, "--replace")
	again := a["forgotten_again"].(map[string]any)
	if jsonText(t, again["vehicles"]) != `["forgotten 2"]` || again["known"] != 2.0 {
		t.Errorf("%v", again)
	}
	if found := traceOfW7.FindAllString(everyText(t, ours), -1); len(found) > 0 {
		t.Errorf("traces: %q", found)
	}
	answer(t, ours, 0, "import", writeSheet(t, "more.csv", "date,vehicle,chemistry,volume (L)\n2026-02-02,W7K,oat,1\n2026-02-03,A1,oat,1\n"), "--as", "fills")
	for _, name := range []string{"forgotten 1", "forgotten 2"} {
		if card := answer(t, ours, 0, "vehicle", "show", name); len(card["fills"].([]any)) != 1 {
			t.Errorf("%s: %v", name, card)
		}
	}
	answer(t, ours, 0, "vehicle", "add", "W 7-K") // the garage itself writes it down again
	answer(t, ours, 0, "import", writeSheet(t, "more2.csv", "date,vehicle,chemistry,volume (L)\n2026-03-02,W7K,oat,1\n"), "--as", "fills")
	if card := answer(t, ours, 0, "vehicle", "show", "W 7-K"); len(card["fills"].([]any)) != 1 {
		t.Errorf("%v", card)
	}
}
