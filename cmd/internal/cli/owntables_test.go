package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func write(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// A garage's own row takes the place of the shipped one; the answer says so and
// what it would have been without it. Going back goes back.
func TestOwnRowsCountAndTheAnswerSaysSo(t *testing.T) {
	home := t.TempDir()
	ask := func(args string) (int, string) {
		code, out, errs := call(t, append([]string{"--home", home}, strings.Fields(args)...)...)
		return code, out + errs
	}
	const question = "mix --fill oat --fill-strength 50 --fill-volume 6L --add si-oat --add-strength 50 --add-volume 0.4L"
	before, shipped := ask(question)
	if before != exitYes {
		t.Fatalf("exit code %d:\n%s", before, shipped)
	}
	pairs := write(t, "ours.csv", "a;b;class;reasons;trace\nsi-oat;oat;C;r1 r2;no\n")
	if code, out := ask("import " + pairs + " --as table --table coolant_pairs --check"); code != exitStaged || !strings.Contains(out, "1 in place of shipped ones, 0 beside") {
		t.Fatalf("--check: exit code %d:\n%s", code, out)
	}
	if code, _ := ask(question); code != exitYes {
		t.Fatal("--check has changed the answer")
	}
	if code, out := ask("import " + pairs + " --as table --table coolant_pairs"); code != exitYes {
		t.Fatalf("exit code %d:\n%s", code, out)
	}
	code, out := ask(question)
	for _, has := range []string{"Your own tables count here: coolant_pairs oat | si-oat", "(ours.csv line 2)", "The shipped ones say: mixes"} {
		if code != exitNo || !strings.Contains(strings.Join(strings.Fields(out), " "), has) {
			t.Errorf("exit code %d, no %q in\n%s", code, has, out)
		}
	}
	if _, out = ask(question + " --json"); !strings.Contains(out, `"own_tables"`) {
		t.Errorf("no own_tables in\n%s", out)
	}
	if _, out = ask("mix --fill oat --add oat"); strings.Contains(out, "Your own") {
		t.Errorf("a row that does not matter is named:\n%s", out)
	}
	if code, out = ask("import " + pairs + " --as table --table coolant_pairs"); code != exitYes || !strings.Contains(out, "unchanged") {
		t.Errorf("again: exit code %d:\n%s", code, out)
	}
	if _, out = ask("sheets tables"); !strings.Contains(out, "1 of ours.csv") {
		t.Errorf("not listed:\n%s", out)
	}
	if code, _ = ask("sheets tables drop coolant_pairs"); code != exitYes {
		t.Errorf("drop: exit code %d", code)
	}
	if code, out = ask(question); code != before || out != shipped {
		t.Errorf("after going back, exit code %d:\n%s", code, out)
	}
}

// A limit that no finding cites is named too where it changes the answer.
func TestAnOwnLimitIsNamedWhereItChangesTheAnswer(t *testing.T) {
	home := t.TempDir()
	limits := write(t, "coolant_limits.csv", "name,value\nfreeze_margin,15\n")
	if code, out, errs := call(t, "--home", home, "import", limits, "--as", "table"); code != exitYes {
		t.Fatalf("exit code %d:\n%s%s", code, out, errs)
	}
	args := strings.Fields("mix --fill oat --fill-strength 40 --fill-volume 6L --add oat --add-strength 40 --add-volume 0.4L")
	_, out, _ := call(t, append([]string{"--home", home}, append(args, "--coldest", "-15C")...)...)
	if !strings.Contains(out, "coolant_limits freeze_margin") || !strings.Contains(out, "too weak for -15") {
		t.Errorf("not named:\n%s", out)
	}
	if _, out, _ = call(t, append([]string{"--home", home}, append(args, "--coldest", "5C")...)...); strings.Contains(out, "Your own") {
		t.Errorf("named where it changes nothing:\n%s", out)
	}
}

func TestASheetThatIsNoTableIsRefusedAndChangesNothing(t *testing.T) {
	home := t.TempDir()
	for name, tc := range map[string]struct{ file, text, says string }{
		"no such table":   {"coolant_pears.csv", "a,b,class\noat,iat,C\n", "coolant_pairs"},
		"no such column":  {"coolant_pairs.csv", "a,b,klass\noat,iat,C\n", `no column "klass"`},
		"no key":          {"coolant_pairs.csv", "a,class\noat,C\n", "column b is missing"},
		"twice":           {"coolant_pairs.csv", "a,b,class,trace\noat,iat,C,no\niat,oat,D,no\n", "lines 2 and 3"},
		"no such class":   {"coolant_pairs.csv", "a,b,class,reasons,trace\noat,iat,Q,r1,no\n", "cannot be used as coolant_pairs"},
		"a cell too many": {"coolant_pairs.csv", "a,b,class\noat,iat,C,x\n", "line 2 has 4 cells"},
		"empty":           {"coolant_pairs.csv", "a,b,class\n", "no rows"},
	} {
		t.Run(name, func(t *testing.T) {
			code, out, errs := call(t, "--home", home, "--json", "import", write(t, tc.file, tc.text), "--as", "table")
			if code != exitUsage || !strings.Contains(strings.ReplaceAll(out+errs, `\"`, `"`), tc.says) {
				t.Errorf("exit code %d, no %q in\n%s%s", code, tc.says, out, errs)
			}
		})
	}
	_, out, _ := call(t, "--home", home, "--json", "sheets", "tables")
	var list []struct {
		Own int `json:"own_rows"`
	}
	if err := json.Unmarshal([]byte(out), &list); err != nil || len(list) < 20 {
		t.Fatalf("%v in\n%s", err, out)
	}
	for _, l := range list {
		if l.Own != 0 {
			t.Errorf("something was kept: %s", out)
		}
	}
}

// What show writes can be read back as it is and changes nothing.
func TestEveryTableReadsBackWhatItShows(t *testing.T) {
	home := t.TempDir()
	_, out, _ := call(t, "--home", home, "--json", "sheets", "tables")
	var list []struct{ Table string }
	if err := json.Unmarshal([]byte(out), &list); err != nil {
		t.Fatal(err)
	}
	for _, l := range list {
		_, text, _ := call(t, "--home", home, "sheets", "tables", "show", l.Table)
		code, out, errs := call(t, "--home", home, "import", write(t, l.Table+".csv", text), "--as", "table")
		if code != exitYes {
			t.Errorf("%s: exit code %d:\n%s%s", l.Table, code, out, errs)
		}
	}
	code, out, errs := call(t, "--home", home, "mix", "--fill", "oat", "--add", "oat")
	if code != exitYes || errs != "" {
		t.Errorf("exit code %d:\n%s%s", code, out, errs)
	}
}

// The tables of a job and of trouble codes count and are named too.
func TestOwnRowsOfAJobAndOfCodesCount(t *testing.T) {
	home := t.TempDir()
	causes := "group,check,share,cause,part\nsensor,wiggle,100,our own cause,\n"
	if code, out, errs := call(t, "--home", home, "import", write(t, "code_causes.csv", causes), "--as", "table"); code != exitYes {
		t.Fatalf("exit code %d:\n%s%s", code, out, errs)
	}
	_, out, _ := call(t, "--home", home, "checks", "P0115")
	if !strings.Contains(out, "our own cause") || !strings.Contains(out, "Your own tables count here: code_causes") {
		t.Errorf("not used, or not named:\n%s", out)
	}
}
