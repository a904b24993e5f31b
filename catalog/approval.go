package catalog

import (
	"slices"
	"strings"
)

// Standing is what a label says of an approval, from weak to strong.
type Standing uint8

// The standings. What a label only names counts as recommended.
const (
	NoStanding Standing = iota
	Recommended
	Meets
	Approved
)

// Approval is one approval that a label carries or a maker asks for.
type Approval struct {
	Key  string // folded, to be compared
	Name string
	As   Standing
}

// standingWords are the words of a label that say how an approval stands.
var standingWords = map[string]Standing{
	"approved": Approved, "approval": Approved,
	"meets": Meets, "conforms": Meets, "exceeds": Meets, "satisfies": Meets,
	"recommended": Recommended, "suitable": Recommended,
}

// What parts approvals besides signs, and what stands around their words. Putting
// a replacer together takes longer than a label's text.
var (
	orParts  = strings.NewReplacer(" or ", ";", " OR ", ";")
	brackets = strings.NewReplacer(":", " ", "(", " ", ")", " ")
)

var fillerWords = []string{"for", "by", "to", "of", "the", "officially", "requirements"}

// ReadApprovals reads approvals that are parted by ; | , "or" or a new line, each
// with its standing: "approved: X 10; meets X 12; X 13". Any other word stays with
// the name, so that "not approved: X 10" is no approval X 10.
func ReadApprovals(text string) []Approval {
	var list []Approval
	text = orParts.Replace(text)
	for _, item := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(";|,\n", r) }) {
		as, rest := Recommended, []string(nil)
		for _, w := range strings.Fields(brackets.Replace(item)) {
			if s, ok := standingWords[strings.ToLower(w)]; ok {
				as = s
			} else if !slices.Contains(fillerWords, strings.ToLower(w)) {
				rest = append(rest, w)
			}
		}
		if name := strings.Join(rest, " "); Key(name) != "" {
			list = append(list, Approval{Key(name), name, as})
		}
	}
	return list
}
