package arch

import (
	"go/ast"
	"go/parser"
	"go/token"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

// A pattern is compiled when it is first used, so a mistake in one would show
// at a counter; here every one is compiled. A regular expression that stands
// ready at the top of a file would be compiled by every command.
func TestPatternsAreLazyAndCompile(t *testing.T) {
	files := map[string][]*ast.File{} // by package
	for _, f := range goFiles(t) {
		parsed, err := parser.ParseFile(token.NewFileSet(), f.path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files[f.pkg] = append(files[f.pkg], parsed)
	}
	compiled, needing := 0, 0
	for pkg, parsed := range files {
		texts := constants(parsed)
		for _, file := range parsed {
			for _, d := range file.Decls {
				_, inFunc := d.(*ast.FuncDecl)
				ast.Inspect(d, func(n ast.Node) bool {
					call, ok := n.(*ast.CallExpr)
					if !ok {
						return true
					}
					switch {
					case calls(call, "regexp", "MustCompile") && !inFunc:
						t.Errorf("%s compiles a regular expression when the program starts: use catalog/pattern", pkg)
					case calls(call, "pattern", "New"):
						expr, ok := textOf(call.Args[0], texts)
						if !ok {
							t.Errorf("%s makes a pattern of something else than constants", pkg)
						} else if _, err := regexp.Compile(expr); err != nil {
							t.Errorf("%s: %v", pkg, err)
						}
						compiled++
					case method(call, "Needing"):
						needing++
						of, ok := call.Fun.(*ast.SelectorExpr).X.(*ast.CallExpr)
						if !ok || !calls(of, "pattern", "New") {
							t.Errorf("%s says what a pattern needs elsewhere than where it is made", pkg)
							return true
						}
						expr, ok1 := textOf(of.Args[0], texts)
						chars, ok2 := textOf(call.Args[0], texts)
						if !ok1 || !ok2 || chars == "" {
							t.Errorf("%s makes a pattern of something else than constants", pkg)
							return true
						}
						holdsOne(t, pkg, expr, chars)
					}
					return true
				})
			}
		}
	}
	if compiled < 50 || needing < 10 {
		t.Errorf("only %d patterns were found, %d that need something", compiled, needing)
	}
}

// holdsOne tries texts that an expression matches: each match holds one of the
// characters that the pattern is said to need.
func holdsOne(t *testing.T, pkg, expr, chars string) {
	form, err := regexp.Compile(expr)
	if err != nil {
		return // told already
	}
	texts := rapid.Custom(func(t *rapid.T) string {
		text := rapid.StringMatching(boundary.ReplaceAllString(expr, "")).Draw(t, "text")
		if rapid.Bool().Draw(t, "other letters") {
			text = swapped(text)
		}
		return text
	})
	matched := 0
	for seed := range 3000 {
		for _, m := range form.FindAllString(texts.Example(seed), -1) {
			matched++
			if !strings.ContainsAny(m, chars) {
				t.Errorf("%s: %q is a match of %s and holds none of %q", pkg, m, expr, chars)
				return
			}
		}
	}
	if matched < 100 {
		t.Errorf("%s: only %d texts were found that %s matches", pkg, matched, expr)
	}
}

// boundary is what no text can be made to match: that a word ends here.
var boundary = regexp.MustCompile(`\\b`)

// swapped makes small letters large and large ones small.
func swapped(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsUpper(r) {
			return unicode.ToLower(r)
		}
		return unicode.ToUpper(r)
	}, text)
}

// method reports whether a call is one of a method of that name.
func method(c *ast.CallExpr, name string) bool {
	s, ok := c.Fun.(*ast.SelectorExpr)
	return ok && s.Sel.Name == name
}

func calls(c *ast.CallExpr, pkg, name string) bool {
	s, ok := c.Fun.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	of, ok := s.X.(*ast.Ident)
	return ok && of.Name == pkg && s.Sel.Name == name
}

// constants returns the constants of a package that are written as one text.
func constants(files []*ast.File) map[string]ast.Expr {
	texts := map[string]ast.Expr{}
	for _, file := range files {
		for _, d := range file.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.CONST {
				continue
			}
			for _, s := range g.Specs {
				v := s.(*ast.ValueSpec)
				for i := range v.Values {
					texts[v.Names[i].Name] = v.Values[i]
				}
			}
		}
	}
	return texts
}

// textOf puts together a text of literals and constants.
func textOf(e ast.Expr, texts map[string]ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(e.Value)
		return text, err == nil
	case *ast.Ident:
		of, ok := texts[e.Name]
		if !ok {
			return "", false
		}
		return textOf(of, texts)
	case *ast.BinaryExpr:
		left, ok := textOf(e.X, texts)
		right, also := textOf(e.Y, texts)
		return left + right, ok && also && e.Op == token.ADD
	}
	return "", false
}
