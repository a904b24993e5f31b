package pattern

import (
	"regexp"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Package regexp itself says what each method must answer.
func TestAPatternAnswersLikeItsExpression(t *testing.T) {
	for _, expr := range []string{`(\d+)[.,](\d+)`, `^x`, ` ?[,;] ?`, ``} {
		p, want := New(expr), regexp.MustCompile(expr)
		if expr == `^x` {
			p.Needing("xX")
		}
		for _, s := range []string{"54,0 x 3.5 mm", "x1.5; x2,25", "", "nothing"} {
			for name, pair := range map[string][2]any{
				"MatchString":             {p.MatchString(s), want.MatchString(s)},
				"FindString":              {p.FindString(s), want.FindString(s)},
				"FindStringIndex":         {p.FindStringIndex(s), want.FindStringIndex(s)},
				"FindStringSubmatch":      {p.FindStringSubmatch(s), want.FindStringSubmatch(s)},
				"FindStringSubmatchIndex": {p.FindStringSubmatchIndex(s), want.FindStringSubmatchIndex(s)},
				"FindAllString":           {p.FindAllString(s, 1), want.FindAllString(s, 1)},
				"FindAllStringIndex":      {p.FindAllStringIndex(s, -1), want.FindAllStringIndex(s, -1)},
				"FindAllStringSubmatch":   {p.FindAllStringSubmatch(s, -1), want.FindAllStringSubmatch(s, -1)},
				"ReplaceAllString":        {p.ReplaceAllString(s, "<$1>"), want.ReplaceAllString(s, "<$1>")},
				"ReplaceAllStringFunc":    {p.ReplaceAllStringFunc(s, twice), want.ReplaceAllStringFunc(s, twice)},
				"Split":                   {p.Split(s, 2), want.Split(s, 2)},
			} {
				if diff := cmp.Diff(pair[1], pair[0]); diff != "" {
					t.Errorf("%s of %q in %q (-regexp +pattern):\n%s", name, expr, s, diff)
				}
			}
		}
	}
}

func twice(s string) string { return s + s }

func TestAPatternWithAMistakePanicsAtItsFirstUse(t *testing.T) {
	p := New(`(`)
	defer func() {
		if recover() == nil {
			t.Error("no panic")
		}
	}()
	p.MatchString("")
}
