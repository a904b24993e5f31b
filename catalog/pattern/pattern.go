// Package pattern holds regular expressions that cost nothing until they are
// used. A command that answers one question uses few of the program's patterns;
// compiling all of them took a quarter of the time the program needed to start.
package pattern

import (
	"regexp"
	"strings"
	"sync"
)

// Pattern is a regular expression in the syntax of package regexp. It is
// compiled when it is first used and may be used from several goroutines. Its
// methods are those of [regexp.Regexp] of the same name.
type Pattern struct {
	expr     string
	needs    string
	once     sync.Once
	compiled *regexp.Regexp
}

// New returns the pattern of an expression. An expression with a mistake
// panics at its first use; a test of package arch compiles every one.
func New(expr string) *Pattern { return &Pattern{expr: expr} }

// Needing says that every match holds at least one of these characters, and returns
// the pattern. A text without any is told by looking for them, which takes a small
// part of the time, and does not even compile the expression. A test of package arch
// tries texts that match every such pattern.
func (p *Pattern) Needing(chars string) *Pattern {
	p.needs = chars
	return p
}

// lacks reports that a text cannot hold a match.
func (p *Pattern) lacks(s string) bool { return p.needs != "" && !strings.ContainsAny(s, p.needs) }

func (p *Pattern) regexp() *regexp.Regexp {
	p.once.Do(func() { p.compiled = regexp.MustCompile(p.expr) })
	return p.compiled
}

// MatchString reports whether s contains a match.
func (p *Pattern) MatchString(s string) bool {
	if p.lacks(s) {
		return false
	}
	return p.regexp().MatchString(s)
}

// FindString returns the leftmost match in s, empty where there is none.
func (p *Pattern) FindString(s string) string {
	if p.lacks(s) {
		return ""
	}
	return p.regexp().FindString(s)
}

// FindStringIndex returns where the leftmost match in s begins and ends, nil
// where there is none.
func (p *Pattern) FindStringIndex(s string) []int {
	if p.lacks(s) {
		return nil
	}
	return p.regexp().FindStringIndex(s)
}

// FindStringSubmatch returns the leftmost match in s and its groups, nil where
// there is none.
func (p *Pattern) FindStringSubmatch(s string) []string {
	if p.lacks(s) {
		return nil
	}
	return p.regexp().FindStringSubmatch(s)
}

// FindStringSubmatchIndex returns where the leftmost match in s and its groups
// begin and end, nil where there is none.
func (p *Pattern) FindStringSubmatchIndex(s string) []int {
	if p.lacks(s) {
		return nil
	}
	return p.regexp().FindStringSubmatchIndex(s)
}

// FindAllString returns the matches in s, at most n of them unless n is
// negative.
func (p *Pattern) FindAllString(s string, n int) []string {
	if p.lacks(s) {
		return nil
	}
	return p.regexp().FindAllString(s, n)
}

// FindAllStringIndex returns where the matches in s begin and end, at most n of
// them unless n is negative.
func (p *Pattern) FindAllStringIndex(s string, n int) [][]int {
	if p.lacks(s) {
		return nil
	}
	return p.regexp().FindAllStringIndex(s, n)
}

// FindAllStringSubmatch returns the matches in s with their groups, at most n
// of them unless n is negative.
func (p *Pattern) FindAllStringSubmatch(s string, n int) [][]string {
	if p.lacks(s) {
		return nil
	}
	return p.regexp().FindAllStringSubmatch(s, n)
}

// ReplaceAllString returns s with every match replaced; $1 in the replacement
// stands for the first group.
func (p *Pattern) ReplaceAllString(s, with string) string {
	if p.lacks(s) {
		return s
	}
	return p.regexp().ReplaceAllString(s, with)
}

// ReplaceAllStringFunc returns s with every match replaced by what the function
// makes of it.
func (p *Pattern) ReplaceAllStringFunc(s string, with func(string) string) string {
	if p.lacks(s) {
		return s
	}
	return p.regexp().ReplaceAllStringFunc(s, with)
}

// Split cuts s at its matches into at most n pieces, into all unless n is
// positive.
func (p *Pattern) Split(s string, n int) []string { return p.regexp().Split(s, n) }
