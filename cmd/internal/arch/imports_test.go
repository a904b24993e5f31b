package arch

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "fitfill/"

// rule says what a package may import of this module, and what it may never
// import at all. A trailing /* covers the packages below.
type rule struct {
	pkg   string
	may   []string
	never []string
	why   string
}

var outside = []string{"os", "net", "net/*", "database/sql", "github.com/blevesearch/*"}

var pure = []string{"os", "io", "io/*", "net", "net/*", "database/sql", "embed", "log", "log/*", "math/rand", "math/rand/*"}

// rules has one row for every package. Facts travel one way: sheet, importers,
// catalog, compat, cmd; imports point the other way.
var rules = []rule{
	{"catalog/pattern", nil, outside, "a pattern knows nothing but text"},
	{"catalog/units", []string{"catalog/pattern"}, outside, "quantities know nothing but numbers and text"},
	{"catalog", []string{"catalog/units"}, outside, "the nouns are values: who keeps or reads them is not their business"},
	{"catalog/words", []string{"catalog", "catalog/pattern", "catalog/units"}, outside, "text and vocabularies in, reading out"},
	{"catalog/vin", []string{"catalog", "catalog/units"}, outside, "a number is read by the standard alone"},
	{"catalog/sqlite", []string{"catalog", "catalog/units"}, []string{"github.com/blevesearch/*"}, "the store keeps rows; rules in SQL could not be tested"},
	{"catalog/bleveindex", []string{"catalog", "catalog/units"}, []string{"database/sql"}, "the index is derived and can be thrown away"},
	{"data", []string{"catalog", "catalog/units"}, nil, "tables state figures; who judges by them is not their business"},
	{"data/demo", nil, nil, "the demo garage is files"},
	{"importers", []string{"catalog", "catalog/pattern", "catalog/units"}, []string{"os", "database/sql"}, "bytes in, records out"},
	{"compat", []string{"catalog", "catalog/units"}, pure, "values in, verdict out: no file, no clock, no database"},
	{"compat/*", []string{"catalog", "catalog/pattern", "catalog/units", "compat"}, pure, "values in, verdict out: no file, no clock, no database"},
	{"cmd/internal/app", []string{"cmd/internal/heap", "cmd/internal/workbook", "catalog", "catalog/*", "compat", "compat/*", "importers", "data", "data/demo"}, []string{"github.com/spf13/cobra", "html/template"}, "one answer, rendered elsewhere"},
	{"cmd/internal/cli", []string{"cmd/internal/app", "cmd/internal/web", "cmd/internal/shelf", "catalog", "catalog/units", "compat", "compat/*"}, []string{"database/sql", "github.com/blevesearch/*"}, "flags in, text out"},
	{"cmd/internal/shelf", []string{"cmd/internal/app", "compat", "compat/*"}, []string{"database/sql", "github.com/blevesearch/*", "github.com/spf13/cobra"}, "one list, printed from wherever it was asked for"},
	{"cmd/internal/web", []string{"cmd/internal/app", "cmd/internal/heap", "cmd/internal/shelf", "catalog", "catalog/pattern", "catalog/units", "compat", "compat/*"}, []string{"database/sql", "github.com/blevesearch/*", "github.com/spf13/cobra"}, "addresses in, pages out"},
	{"cmd/internal/arch", nil, nil, ""},
	{"cmd/internal/workbook", nil, append([]string{"github.com/*"}, outside...), "rows in, bytes out"},
	{"cmd/internal/heap", nil, []string{"fmt", "io", "net", "net/*", "github.com/*"}, "whatever it imports is initialised before it"},
	{"cmd/fitfill", []string{"cmd/internal/cli", "cmd/internal/heap"}, nil, "main only wires"},
	{"cmd/worldgen", []string{"catalog", "catalog/units", "data/demo"}, nil, "an invented trade is built without the program that reads it"},
}

func TestImportsPointOneWay(t *testing.T) {
	for _, f := range goFiles(t) {
		r, ok := ruleFor(f.pkg)
		if !ok {
			t.Errorf("package %s has no row in the import rules", f.pkg)
			continue
		}
		for _, path := range f.imports {
			if own, ok := strings.CutPrefix(path, module); ok {
				if own != f.pkg && !matches(r.may, own) {
					t.Errorf("%s imports %s: %s", f.name, path, r.why)
				}
			} else if matches(r.never, path) {
				t.Errorf("%s imports %s: %s", f.name, path, r.why)
			}
		}
	}
}

func TestJudgementsReadNoClock(t *testing.T) {
	for _, f := range goFiles(t) {
		if f.pkg != "compat" && !strings.HasPrefix(f.pkg, "compat/") {
			continue
		}
		text, err := os.ReadFile(f.path)
		if err != nil {
			t.Fatal(err)
		}
		for _, clock := range []string{"time.Now", "time.Since"} {
			if strings.Contains(string(text), clock) {
				t.Errorf("%s uses %s: a judgement gets the day as an argument", f.name, clock)
			}
		}
	}
}

// The top level holds the map of the project and nothing else.
func TestTheTopLevelHoldsNothingElse(t *testing.T) {
	allowed := []string{"cmd", "catalog", "compat", "importers", "data", "testdata", "go.mod", "go.sum", "README.md", "DEVELOPERS.md", "LICENSE"}
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(allowed, e.Name()) {
			t.Errorf("%s does not belong at the top level", e.Name())
		}
	}
}

const root = "../../.."

type goFile struct {
	name, path, pkg string
	imports         []string
}

// goFiles parses the imports of every file that is not a test. It reads the
// files in this process: a go command in another one would hide them from the
// test cache.
func goFiles(t *testing.T) []goFile {
	t.Helper()
	var files []goFile
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && path != root) {
			return fs.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		f := goFile{name: filepath.ToSlash(rel), path: path, pkg: filepath.ToSlash(filepath.Dir(rel))}
		for _, i := range parsed.Imports {
			p, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			f.imports = append(f.imports, p)
		}
		files = append(files, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 50 {
		t.Fatalf("only %d files found: is the root right?", len(files))
	}
	return files
}

func ruleFor(pkg string) (rule, bool) {
	for _, r := range rules {
		if r.pkg == pkg {
			return r, true
		}
	}
	for _, r := range rules {
		if matches([]string{r.pkg}, pkg) {
			return r, true
		}
	}
	return rule{}, false
}

func matches(patterns []string, path string) bool {
	for _, p := range patterns {
		if below, ok := strings.CutSuffix(p, "/*"); p == path || ok && strings.HasPrefix(path, below+"/") {
			return true
		}
	}
	return false
}
