package coolant

import (
	"slices"
	"strings"

	"fitfill/catalog"
)

// Approval is one approval as somebody names it, with how a label stands to it
// where that is said.
type Approval struct{ a catalog.Approval }

// ReadApproval reads the name of one approval, with or without a word for its
// standing: "TK 1140", "approved: TK 1140", "meets TK 1140".
func ReadApproval(text string) (Approval, bool) {
	list := catalog.ReadApprovals(text)
	if len(list) != 1 {
		return Approval{}, false
	}
	return Approval{list[0]}, true
}

// Name returns the approval's number.
func (x Approval) Name() string { return x.a.Name }

// CarriedBy reports whether a label names the approval with no less standing.
func (x Approval) CarriedBy(label string) bool {
	as, _ := standingFor(catalog.ReadApprovals(label), []catalog.Approval{x.a})
	return as != catalog.NoStanding && as >= x.a.As
}

// AskedBy reports whether the approval is among those that a maker asks for.
func (x Approval) AskedBy(asks string) bool {
	return slices.ContainsFunc(catalog.ReadApprovals(asks), func(a catalog.Approval) bool { return a.Key == x.a.Key })
}

// standingFor returns the best standing that a label has for one of the asked
// approvals, and the name of that approval.
func standingFor(has, asked []catalog.Approval) (catalog.Standing, string) {
	best, name := catalog.NoStanding, ""
	for _, a := range asked {
		for _, h := range has {
			if h.Key == a.Key && h.As > best {
				best, name = h.As, a.Name
			}
		}
	}
	return best, name
}

// labelApprovals returns the approvals on a product's label.
func labelApprovals(p *catalog.Part) []catalog.Approval {
	if p == nil || !p.Approvals.Known {
		return nil
	}
	return catalog.ReadApprovals(p.Approvals.Value)
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

// labelStandards returns the standards that a label names, but for those that it
// names after a negation: "not tested to ASTM D6210" is no claim.
func (t *Tables) labelStandards(p *catalog.Part) []standard {
	var list []standard
	for _, clause := range clauses(p) {
		before, _ := cutAtNegation(catalog.Fold(clause))
		key := catalog.Key(before)
		for _, s := range t.standards {
			known := slices.ContainsFunc(list, func(k standard) bool { return k.key == s.key })
			if !known && strings.Contains(key, s.key) {
				list = append(list, s)
			}
		}
	}
	return list
}
