package cli

import (
	"slices"
	"strings"
	"testing"

	"fitfill/data/demo"
)

// loadDemoWith loads the whole demo with one sheet changed.
func loadDemoWith(t *testing.T, file string, change func(string) string) string {
	t.Helper()
	home := t.TempDir()
	for _, s := range demo.Sheets {
		raw, err := demo.FS.ReadFile(s.File)
		if err != nil {
			t.Fatal(err)
		}
		if s.File == file {
			changed := change(string(raw))
			if changed == string(raw) {
				t.Fatalf("nothing was changed in %s", file)
			}
			raw = []byte(changed)
		}
		if code, a := importDemo(t, home, s, raw); code != exitYes && code != exitHeld {
			t.Fatalf("%s: exit code %d, %v", s.File, code, a["open"])
		}
		for _, n := range demo.Aliases {
			if n.Supplier == s.Supplier {
				call(t, "--home", home, "suppliers", "alias", n.Supplier, n.Also)
			}
		}
	}
	return home
}

// Nothing in an answer is made up: one cell of a sheet changes what is said.
func TestOneCellChangesTheAnswer(t *testing.T) {
	for name, tc := range map[string]struct {
		file, from, to, question string
		exit                     int // after the change
	}{
		"a bore":      {"engines.csv", "195 °F,54.8,", "195 °F,57.0,", "fit TKV38 --type thermostat --part OS1954", -1},
		"a chemistry": {"pindle-rook.csv", "p-hoat,ethylene,premix,50,blue", "iat,ethylene,premix,50,blue", "mix --fill p-hoat --add PR-PH50-5 --add-volume 0.5L", exitNo},
		"a capacity":  {"engines.csv", "green,9.2,", "green,30.0,", "mix --engine TKV30 --fill iat --add PR-OA50-5 --add-volume 4L", exitNo},
	} {
		t.Run(name, func(t *testing.T) {
			ask := func(home string) (int, string) {
				code, out, _ := call(t, append([]string{"--home", home}, strings.Fields(tc.question)...)...)
				return code, out
			}
			home := loadDemoWith(t, tc.file, func(text string) string { return strings.ReplaceAll(text, tc.from, tc.to) })
			codeBefore, before := ask(demoHome(t))
			code, after := ask(home)
			if before == after {
				t.Errorf("%s: the answer is the same:\n%s", tc.question, after)
			}
			if tc.exit >= 0 && code != tc.exit {
				t.Errorf("%s: exit code %d before, %d after:\n%s", tc.question, codeBefore, code, after)
			}
		})
	}
	t.Run("a return", func(t *testing.T) {
		home := loadDemoWith(t, "returns.csv", func(text string) string {
			lines := strings.SplitAfter(text, "\n")
			i := slices.IndexFunc(lines, func(l string) bool { return strings.Contains(l, ",Ostrel,") && strings.Contains(l, ",leaked,") })
			if i < 0 {
				t.Fatal("nothing of Ostrel's leaked")
			}
			lines[i] = strings.Replace(lines[i], "leaked", "changed mind", 1)
			return strings.Join(lines, "")
		})
		_, before, _ := call(t, "--home", demoHome(t), "suppliers")
		_, after, _ := call(t, "--home", home, "suppliers")
		if before == after {
			t.Errorf("a return was no longer faulty, and the comparison is the same:\n%s", after)
		}
	})
}
