package cli

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// openCase is an import that ends in a question, and what must be there before.
type openCase struct {
	before [][]string // commands, with @name for a file of the case
	args   []string
	files  map[string]string
}

func listed(n int, price string, fit string) string {
	var b strings.Builder
	b.WriteString("number,type,price (EUR),engine,chemistry\n")
	for i := range n {
		fmt.Fprintf(&b, "BK-%03d,thermostat,%s,%s,oat\n", i, price, fit)
	}
	return b.String()
}

func openCases(t *testing.T) map[string]openCase {
	var archive bytes.Buffer
	z := zip.NewWriter(&archive)
	for _, name := range []string{"caps.csv", "hoses.csv"} {
		f, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(f, "number,type\n%s,cap\n", name)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	var damaged strings.Builder
	damaged.WriteString("number,price (EUR)\n")
	for i := range 60 {
		fmt.Fprintf(&damaged, "BK-%d,%s\n", i, []string{"#N/A", "5.00"}[i%2])
	}
	first := []string{"import", "@first.csv", "--supplier", "Brackwell"}
	next := []string{"import", "@next.csv", "--supplier", "Brackwell"}
	both := func(a, b string) map[string]string { return map[string]string{"first.csv": a, "next.csv": b} }
	return map[string]openCase{
		"which-sheet":    {args: next, files: map[string]string{"next.csv": archive.String()}},
		"known-supplier": {[][]string{first}, []string{"import", "@next.csv", "--supplier", "Brackwel"}, both(listed(3, "5.00", "ZQ9"), "number,type\nX-1,cap\n")},
		"new-supplier":   {[][]string{first}, []string{"import", "@next.csv", "--as", "purchases"}, both(listed(3, "5.00", "ZQ9"), "date,supplier,number,quantity\n2026-01-02,Tarvo,X-1,2\n")},
		"place":          {[][]string{first}, next, both(listed(20, "5.00", "ZQ9"), listed(20, "5.00", "ZQ8"))},
		"fewer-rows":     {[][]string{first}, next, both(listed(20, "5.00", "ZQ9"), listed(11, "5.00", "ZQ9"))},
		"missing-parts":  {[][]string{first}, next, both(listed(20, "5.00", "ZQ9"), listed(11, "5.00", "ZQ9"))},
		"prices":         {[][]string{first}, next, both(listed(20, "5.00", "ZQ9"), listed(20, "9.00", "ZQ9"))},
		"held-rows":      {args: next, files: map[string]string{"next.csv": damaged.String()}},
		"chemistry":      {[][]string{first}, next, both(listed(20, "5.00", "ZQ9"), strings.ReplaceAll(listed(20, "5.00", "ZQ9"), ",oat", ",si-oat"))},
		"fit":            {[][]string{first}, append(slices.Clone(next), "--accept", "replaces"), both(listed(20, "5.00", "ZQ9"), listed(20, "5.00", "ZQ8"))},
	}
}

// words cuts one answer into the arguments that a shell makes of it.
func words(answer string) (args []string) {
	var b strings.Builder
	quoted, escaped := false, false
	for _, r := range answer + " " {
		switch {
		case escaped:
			b.WriteRune(r)
			escaped = false
		case r == '\\' && quoted:
			escaped = true
		case r == '"':
			quoted = !quoted
		case r == ' ' && !quoted:
			args = append(args, b.String())
			b.Reset()
		default:
			b.WriteRune(r)
		}
	}
	return args
}

// What an import asks beside its columns is settled by each of the flags that it
// prints.
func TestEveryQuestionOfAnImportIsSettledByItsFlags(t *testing.T) {
	type answer struct {
		Open []struct{ Code, Question, Command string }
	}
	for code, c := range openCases(t) {
		t.Run(code, func(t *testing.T) {
			run := func(extra []string) (a answer) {
				home, folder := t.TempDir(), t.TempDir()
				for name, text := range c.files {
					if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
						t.Fatal(err)
					}
				}
				for i, args := range append(slices.Clone(c.before), append(slices.Clone(c.args), extra...)) {
					line := []string{"--home", home, "--json"}
					for _, w := range args {
						if name, ok := strings.CutPrefix(w, "@"); ok {
							w = filepath.Join(folder, name)
						}
						line = append(line, w)
					}
					exit, out, errs := call(t, line...)
					if i < len(c.before) && exit != exitYes {
						t.Fatalf("%v: %s%s", args, out, errs)
					}
					a = answer{}
					if err := json.Unmarshal([]byte(out), &a); err != nil {
						t.Fatalf("%v: %v in %s%s", args, err, out, errs)
					}
				}
				return a
			}
			asked := func(a answer) int {
				return slices.IndexFunc(a.Open, func(o struct{ Code, Question, Command string }) bool { return o.Code == code })
			}
			a := run(nil)
			i := asked(a)
			if i < 0 {
				t.Fatalf("it is not asked, but %+v", a.Open)
			}
			for flags := range strings.SplitSeq(a.Open[i].Command, " or ") {
				if after := run(words(flags)); asked(after) >= 0 {
					t.Errorf("%s does not settle it: %+v", flags, after.Open)
				}
			}
		})
	}
}
