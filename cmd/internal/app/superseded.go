package app

import (
	"context"
	"fmt"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
	"fitfill/compat/fit"
)

// Superseded is what became of a part's number, as far as sheets in use say.
type Superseded struct {
	Says   string            `json:"says"`
	Newest []Newer           `json:"newest"`
	Circle bool              `json:"circle,omitempty"` // the supersessions lead back to where they began
	Origin []compat.Evidence `json:"origin"`
}

// Newer is a part at the end of a chain of supersessions. It is judged by its
// own sizes: Changed names what it has otherwise than the old part.
type Newer struct {
	Supplier string          `json:"supplier"`
	Number   string          `json:"number"`
	Outcome  *compat.Outcome `json:"outcome,omitempty"` // where it was judged for the same engine
	First    string          `json:"first,omitempty"`
	Changed  []string        `json:"changed,omitempty"`
}

// superseded says what became of a part, with the verdicts on its successors
// where there are any; nil where nothing replaces it.
func (s *Shop) superseded(n *fit.Network, p *catalog.Part, verdicts []fit.Verdict) *Superseded {
	chain, ok := n.Successors(p.ID)
	if !ok {
		if text := replacedText(p); text != "" {
			return &Superseded{Says: fmt.Sprintf("The sheet says of it: %s.", text), Newest: []Newer{}, Origin: []compat.Evidence{compat.From(p.ReplacedBy.Origin)}}
		}
		if p.ReplacedBy.Known && catalog.Key(p.ReplacedBy.Value) != p.Key {
			return &Superseded{Says: fmt.Sprintf("The sheet says it is replaced by %s, which no sheet in use has.", p.ReplacedBy.Value), Newest: []Newer{}, Origin: []compat.Evidence{compat.From(p.ReplacedBy.Origin)}}
		}
		return nil
	}
	out := &Superseded{Says: chain.Says(), Newest: []Newer{}, Circle: len(chain.Circle) > 0}
	for _, now := range chain.Newest {
		newer := Newer{Supplier: now.Supplier, Number: now.Number, Changed: s.fit().Changed(now, p, s.Settings.Units)}
		if i := slices.IndexFunc(verdicts, func(v fit.Verdict) bool { return v.Part.ID == now.ID }); i >= 0 {
			newer.Outcome, newer.First = &verdicts[i].Outcome, verdicts[i].First
		}
		out.Newest = append(out.Newest, newer)
	}
	for _, o := range chain.Origins() {
		out.Origin = append(out.Origin, compat.From(o))
	}
	return out
}

// replacedText returns what a sheet says in place of a newer number, such as "no
// longer available", where that names no part.
func replacedText(p *catalog.Part) string {
	if p.ReplacedBy.Known && !hasDigit(catalog.Key(p.ReplacedBy.Value)) {
		return p.ReplacedBy.Value
	}
	return ""
}

// SupersededBy says by part what became of each; parts that nothing replaces
// are left out.
func (s *Shop) supersededBy(ctx context.Context, v *sqlite.View, parts []catalog.Part) (map[int64]*Superseded, error) {
	n, err := networkFrom(ctx, v, parts)
	if err != nil {
		return nil, err
	}
	out := map[int64]*Superseded{}
	for i := range parts {
		if was := s.superseded(n, &parts[i], nil); was != nil {
			out[parts[i].ID] = was
		}
	}
	return out, nil
}

// replacement is a part that says it replaces a number which no sheet has.
type replacement struct {
	Part         catalog.Part
	Number, Says string
}

// replacements returns the parts that say they replace a number.
func replacements(ctx context.Context, v *sqlite.View, number string) ([]replacement, error) {
	incoming, err := v.CrossReferencesTo(ctx, []string{catalog.Key(number)})
	if err != nil {
		return nil, err
	}
	lines := map[int64]catalog.Origin{}
	for id, list := range incoming {
		for _, x := range list {
			if x.Relation == catalog.Replaces && lines[id] == (catalog.Origin{}) {
				lines[id] = x.Origin
			}
		}
	}
	parts, err := v.Parts(ctx, keysOf(lines))
	if err != nil {
		return nil, err
	}
	var out []replacement
	for _, p := range parts {
		o := lines[p.ID]
		out = append(out, replacement{p, p.Number, fmt.Sprintf("%s of %s replaces it (%s line %d)", p.Number, p.Supplier, o.Sheet, o.Line)})
	}
	return out, nil
}
