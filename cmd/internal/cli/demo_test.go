package cli

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/data/demo"
)

// call runs a command line and returns its exit code and what it printed.
func call(t *testing.T, args ...string) (int, string, string) {
	t.Helper()
	var out, errs bytes.Buffer
	code := Run(context.Background(), args, Streams{Out: &out, Err: &errs})
	return code, out.String(), errs.String()
}

// demoHome is a data folder with the demo garage, loaded once for all tests
// that only ask.
func demoHome(t *testing.T) string {
	t.Helper()
	if loadedDemo == "" {
		t.Fatal("the demo garage was not loaded")
	}
	return loadedDemo
}

var loadedDemo string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "fitfill-demo")
	if err != nil {
		panic(err)
	}
	os.Unsetenv("FITFILL_HOME")
	var out bytes.Buffer
	if code := Run(context.Background(), []string{"demo", "--home", dir}, Streams{Out: &out, Err: &out}); code != 0 {
		fmt.Fprintf(os.Stderr, "the demo ended with %d:\n%s", code, out.String())
		os.RemoveAll(dir)
		os.Exit(1)
	}
	loadedDemo = dir
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

type demoCase struct{ id, args, exit, outcome, about, text, judgedBy string }

func demoCases(t *testing.T) []demoCase {
	t.Helper()
	f, err := demo.FS.Open("cases.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := func(row []string, name string) string { return row[slices.Index(rows[0], name)] }
	var cases []demoCase
	for _, r := range rows[1:] {
		cases = append(cases, demoCase{at(r, "id"), at(r, "args"), at(r, "expect_exit"), at(r, "expect_outcome"), at(r, "about"), at(r, "expect_text"), at(r, "judged_by")})
	}
	return cases
}

// The planted cases of the demo garage, each with the answer that was written
// down before. Those of sheets are judged by tests of their own.
func TestPlantedCases(t *testing.T) {
	home := demoHome(t)
	asked := 0
	for _, c := range demoCases(t) {
		if c.judgedBy == "import" || c.judgedBy == "staged" { // their own tests
			continue
		}
		asked++
		t.Run(c.id, func(t *testing.T) {
			code, out, errs := call(t, append([]string{"--home", home, "--json"}, strings.Fields(c.args)...)...)
			if c.exit != "" && !slices.Contains(strings.Split(c.exit, "|"), strconv.Itoa(code)) {
				t.Errorf("%s: exit code %d, want %s\n%s%s", c.args, code, c.exit, out, errs)
			}
			if c.outcome != "" {
				if got := outcomeOf(t, c, out); !slices.Contains(strings.Split(c.outcome, "|"), got) {
					t.Errorf("%s: outcome %q, want %q\n%s", c.args, got, c.outcome, out)
				}
			}
			if !strings.Contains(strings.ToLower(out), strings.ToLower(c.text)) {
				t.Errorf("%s: no %q in\n%s", c.args, c.text, out)
			}
		})
	}
	if asked < 40 {
		t.Errorf("only %d cases were asked", asked)
	}
}

// outcomeOf takes the outcome of what a case is about out of the JSON answer.
func outcomeOf(t *testing.T, c demoCase, out string) string {
	t.Helper()
	var a struct {
		Outcome string
		Answers []struct{ Number, Outcome string }

		Suppliers []struct{ Supplier, Words string }
	}
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatalf("%v in\n%s", err, out)
	}
	for _, p := range a.Answers {
		if c.about == "" || catalog.Key(p.Number) == catalog.Key(c.about) {
			return p.Outcome
		}
	}
	for _, s := range a.Suppliers {
		if s.Supplier == c.about {
			return s.Words
		}
	}
	return a.Outcome
}

// importDemo imports one sheet of the demo into a fresh data folder.
func importDemo(t *testing.T, home string, sheet demo.Sheet, raw []byte) (int, map[string]any) {
	t.Helper()
	path := filepath.Join(t.TempDir(), filepath.Base(sheet.File))
	if err := os.WriteFile(path, raw, 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, errs := call(t, append([]string{"--home", home, "--json"}, sheet.Args(path)...)...)
	var a map[string]any
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatalf("%v in\n%s%s", err, out, errs)
	}
	return code, a
}

func demoSheet(t *testing.T, file string) (demo.Sheet, []byte) {
	t.Helper()
	i := slices.IndexFunc(demo.Sheets, func(s demo.Sheet) bool { return s.File == file })
	if i < 0 {
		t.Fatalf("the demo has no sheet %s", file)
	}
	raw, err := demo.FS.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return demo.Sheets[i], raw
}

func TestPlantedSheets(t *testing.T) {
	for _, c := range demoCases(t) {
		if c.judgedBy != "import" {
			continue
		}
		t.Run(c.id, func(t *testing.T) {
			words := strings.Fields(c.args)
			if words[0] == "held" {
				code, out, _ := call(t, "--home", demoHome(t), "held")
				if code != 0 || !strings.Contains(out, c.text) {
					t.Errorf("exit code %d, no %q in\n%s", code, c.text, out)
				}
				return
			}
			sheet, raw := demoSheet(t, words[1])
			code, a := importDemo(t, t.TempDir(), sheet, raw)
			if strconv.Itoa(code) != c.exit || a["status"] != c.outcome {
				t.Errorf("exit code %d, status %v, want %s and %s", code, a["status"], c.exit, c.outcome)
			}
			if n, ok := strings.CutPrefix(c.text, "held "); ok && fmt.Sprint(a["rows_held"]) != n {
				t.Errorf("%v rows held, want %s", a["rows_held"], n)
			}
		})
	}
}

func TestTheDemoRunsTwice(t *testing.T) {
	home := t.TempDir()
	_, first, _ := call(t, "demo", "--home", home)
	code, second, errs := call(t, "demo", "--home", home)
	if code != exitYes {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	if first != second {
		t.Errorf("the second run says something else:\n%s", second)
	}
}

// A screen is what a tall terminal shows.
const screenLines = 50

func TestEachDemoAnswerFitsAScreenAndNamesItsSources(t *testing.T) {
	for _, q := range demoQuestions {
		_, out, errs := call(t, append([]string{"--home", demoHome(t)}, strings.Fields(q.command)...)...)
		lines := strings.Split(strings.TrimSpace(out), "\n")
		if len(lines) > screenLines {
			t.Errorf("%s: %d lines", q.command, len(lines))
		}
		for _, l := range lines {
			if n := len([]rune(l)); n > textWidth {
				t.Errorf("%s: a line of %d columns: %s", q.command, n, l)
			}
		}
		if errs != "" {
			t.Errorf("%s: %s", q.command, errs)
		}
		_, asJSON, _ := call(t, append([]string{"--home", demoHome(t), "--json"}, strings.Fields(q.command)...)...)
		var a any
		if err := json.Unmarshal([]byte(asJSON), &a); err != nil {
			t.Fatal(err)
		}
		if n := checkOrigins(t, a); n == 0 {
			t.Errorf("%s: no finding at all", q.command)
		}
	}
}

// checkOrigins walks a JSON answer and fails for a finding that names neither
// a line of a sheet nor a source.
func checkOrigins(t *testing.T, v any) (findings int) {
	t.Helper()
	switch v := v.(type) {
	case []any:
		for _, x := range v {
			findings += checkOrigins(t, x)
		}
	case map[string]any:
		if origin, ok := v["origin"]; ok && v["not_checked"] != true {
			findings++
			list, _ := origin.([]any)
			named := false
			for _, o := range list {
				e, _ := o.(map[string]any)
				named = named || e["title"] != nil || e["sheet"] != nil && e["line"] != nil && e["text"] != nil
			}
			if !named && fmt.Sprint(v["says"]) != "" && !strings.HasPrefix(fmt.Sprint(v["says"]), "0 of ") {
				t.Errorf("no sheet line and no source behind: %v", v["says"])
			}
		}
		for _, x := range v {
			findings += checkOrigins(t, x)
		}
	}
	return findings
}
