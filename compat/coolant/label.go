package coolant

import (
	"slices"
	"strings"

	"fitfill/catalog"
)

// claim is a kind of mixing claim and the words labels use for it.
type claim struct {
	kind  string // any, none
	words []string
	row   catalog.RefRow
}

const (
	claimAny  = "any"
	claimNone = "none"
)

func (t *Tables) loadClaims(rows []catalog.RefRow) error {
	for _, r := range rows {
		c := claim{r.Get("claim"), words(r, "words"), r}
		if c.kind != claimAny && c.kind != claimNone {
			return unreadable(r, "claim", "must be any or none")
		}
		t.claims = append(t.claims, c)
	}
	return nil
}

// claimOf returns the mixing claim of a label: any, none or "". A label that
// forbids mixing is read as that, whatever else it says.
func (t *Tables) claimOf(p *catalog.Part) string {
	if p == nil || !p.MixingClaim.Known {
		return ""
	}
	text, found := catalog.Fold(p.MixingClaim.Value), ""
	for _, c := range t.claims {
		if text == c.kind || slices.ContainsFunc(c.words, func(w string) bool { return hasWords(text, w) }) {
			if c.kind == claimNone {
				return claimNone
			}
			found = c.kind
		}
	}
	return found
}

// species is an inhibitor and the words labels use for it.
type species struct {
	name  string
	words []string
}

func (t *Tables) loadSpecies(rows []catalog.RefRow) error {
	for _, r := range rows {
		if !slices.Contains(signColumns, r.Get("species")) {
			return unreadable(r, "species", "is no column of coolant_families")
		}
		t.species = append(t.species, species{r.Get("species"), words(r, "words")})
	}
	return nil
}

// speciesIn returns the inhibitors that a folded text names.
func (t *Tables) speciesIn(text string) []string {
	var list []string
	for _, s := range t.species {
		if slices.ContainsFunc(s.words, func(w string) bool { return hasWords(text, w) }) {
			list = append(list, s.name)
		}
	}
	return list
}

// nitrited is the one word that by itself says what is in the bottle.
const nitrited = "nitrited"

// stands reports whether one of the inhibitor's words stands in a folded text
// between before and after.
func (s species) stands(text, before, after string) bool {
	return slices.ContainsFunc(s.words, func(w string) bool { return strings.Contains(text, before+w+after+" ") })
}

// named reports whether a text holds one of the inhibitor's words.
func (s species) named(text string) bool {
	return slices.ContainsFunc(s.words, func(w string) bool { return strings.Contains(text, w) })
}

// labelContents returns what a label says is in the product and what is not:
// "nitrite-free", "no 2-EHA", "without amines", "contains nitrite". A mixing
// claim speaks of other products ("do not mix with silicated coolant") and does
// not count.
func (t *Tables) labelContents(p *catalog.Part) (contains, free []string) {
	if p == nil {
		return nil, nil
	}
	for _, cell := range [...]string{p.Description.Value, p.Notes.Value, p.Approvals.Value} {
		if cell == "" {
			continue
		}
		text := " " + catalog.Fold(cell) + " "
		for _, s := range t.species {
			switch {
			case !s.named(text): // as of most: nothing is put together to look for

			case s.stands(text, " free of ", ""), s.stands(text, " free from ", ""), s.stands(text, " no ", ""), s.stands(text, " without ", ""), s.stands(text, " ", " free"):
				free = append(free, s.name)
			case s.stands(text, " contains ", ""), s.stands(text, " with ", ""), slices.Contains(s.words, nitrited) && hasWords(text, nitrited):
				contains = append(contains, s.name)
			}
		}
	}
	return contains, free
}

// clauses returns what a label says besides its mixing claim, clause by clause. A
// comma parts none: "not to ASTM D3306, D6210" denies both.
func clauses(p *catalog.Part) []string {
	if p == nil {
		return nil
	}
	var list []string
	for _, cell := range []string{p.Description.Value, p.Notes.Value, p.Approvals.Value} {
		for _, c := range strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune(".;|\n", r) }) {
			list = append(list, strings.TrimSpace(c))
		}
	}
	return list
}

// negations turn what a clause says of the things after them. "No" and "without"
// are none of them: they speak of what is left out ("no additive needed").
var negations = []string{"not", "never", "cannot", "doesn", "isn", "don"}

// cutAtNegation returns the words of a folded clause that stand before its first
// negation, and whether it has one.
func cutAtNegation(text string) (before string, denied bool) {
	fields := strings.Fields(text)
	i := slices.IndexFunc(fields, func(w string) bool { return slices.Contains(negations, w) })
	if i < 0 {
		return text, false
	}
	return strings.Join(fields[:i], " "), true
}

func hasWords(text, phrase string) bool {
	return strings.Contains(" "+strings.TrimSpace(text)+" ", " "+phrase+" ")
}

// sameProduct reports whether two labels are of one product.
func sameProduct(a, b *catalog.Part) bool {
	return a != nil && b != nil && numberKey(a) != "" && numberKey(a) == numberKey(b) && catalog.Fold(a.Supplier) == catalog.Fold(b.Supplier)
}

func numberKey(p *catalog.Part) string {
	if p.Key != "" {
		return p.Key
	}
	return catalog.Key(p.Number)
}
