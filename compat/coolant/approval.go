package coolant

import (
	"slices"
	"strings"

	"fitfill/catalog"
)

// standing is what a label says of an approval.
type standing uint8

const (
	noStanding  standing = iota
	recommended          // also what a label that states nothing more is worth
	meets
	approved
)

// approval is one approval of a label.
type approval struct {
	key  string
	name string
	as   standing
}

// standingWords are the words of a label that say how an approval stands.
var standingWords = map[string]standing{
	"approved": approved, "approval": approved,
	"meets": meets, "conforms": meets, "exceeds": meets, "satisfies": meets,
	"recommended": recommended, "suitable": recommended,
}

var fillerWords = []string{"for", "by", "to", "of", "the", "officially", "requirements"}

// approvalsOf reads the approvals of a label, parted by ; | , or a new line,
// each with its standing: "approved: X 10; meets X 12; X 13".
func approvalsOf(text string) []approval {
	var list []approval
	text = strings.NewReplacer(" or ", ";", " OR ", ";").Replace(text)
	for _, item := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(";|,\n", r) }) {
		as, rest := recommended, []string(nil)
		for _, w := range strings.Fields(strings.NewReplacer(":", " ", "(", " ", ")", " ").Replace(item)) {
			if s, ok := standingWords[strings.ToLower(w)]; ok {
				as = s
			} else if !slices.Contains(fillerWords, strings.ToLower(w)) {
				rest = append(rest, w)
			}
		}
		if name := strings.Join(rest, " "); catalog.Key(name) != "" {
			list = append(list, approval{catalog.Key(name), name, as})
		}
	}
	return list
}

// Approval is one approval as somebody names it, with how a label stands to it
// where that is said.
type Approval struct{ a approval }

// ReadApproval reads the name of one approval, with or without a word for its
// standing: "TK 1140", "approved: TK 1140", "meets TK 1140".
func ReadApproval(text string) (Approval, bool) {
	list := approvalsOf(text)
	if len(list) != 1 {
		return Approval{}, false
	}
	return Approval{list[0]}, true
}

// Name returns the approval's number.
func (x Approval) Name() string { return x.a.name }

// CarriedBy reports whether a label names the approval with no less standing.
func (x Approval) CarriedBy(label string) bool {
	as, _ := standingFor(approvalsOf(label), []approval{x.a})
	return as != noStanding && as >= x.a.as
}

// AskedBy reports whether the approval is among those that a maker asks for.
func (x Approval) AskedBy(asks string) bool {
	return slices.ContainsFunc(approvalsOf(asks), func(a approval) bool { return a.key == x.a.key })
}

// standingFor returns the best standing that a label has for one of the asked
// approvals, and the name of that approval.
func standingFor(has, asked []approval) (standing, string) {
	best, name := noStanding, ""
	for _, a := range asked {
		for _, h := range has {
			if h.key == a.key && h.as > best {
				best, name = h.as, a.name
			}
		}
	}
	return best, name
}

// labelApprovals returns the approvals on a product's label.
func labelApprovals(p *catalog.Part) []approval {
	if p == nil || !p.Approvals.Known {
		return nil
	}
	return approvalsOf(p.Approvals.Value)
}

// standard is a published standard that labels name, and what it fixes.
type standard struct {
	key, name   string
	chemistries []int  // empty: it fixes no chemistry
	liner       string // yes, charge, no
	note        string
	row         catalog.RefRow
}

func (t *Tables) loadStandards(rows []catalog.RefRow) error {
	for _, r := range rows {
		list, err := t.ids(r, "chemistries")
		if err != nil {
			return err
		}
		s := standard{catalog.Key(r.Get("standard")), r.Get("standard"), list, r.Get("liner"), r.Get("note"), r}
		if s.key == "" || !slices.Contains([]string{"yes", "no", "charge"}, s.liner) {
			return unreadable(r, "liner", "must be yes, no or charge")
		}
		t.standards = append(t.standards, s)
	}
	return nil
}

// labelStandards returns the standards that a label names.
func (t *Tables) labelStandards(p *catalog.Part) []standard {
	if p == nil {
		return nil
	}
	text := catalog.Key(p.Approvals.Value) + " " + catalog.Key(p.Description.Value) + " " + catalog.Key(p.Notes.Value)
	var list []standard
	for _, s := range t.standards {
		if strings.Contains(text, s.key) {
			list = append(list, s)
		}
	}
	return list
}
