package bleveindex

import (
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search/query"
)

// Query is what parts must match: everything that is set. The zero Query
// matches nothing.
type Query struct {
	Key    string // the folded number is this one
	Prefix string // ... begins with it
	Part   string // ... has it anywhere in it
	Typo   string // ... differs from it by one letter or digit too many, too few or wrong

	Words  []string   // each occurs in a text of the part
	Groups [][]string // of each group one phrase occurs, all its words
	Sizes  [][]string // of each set one size term

	Types      []string // one of them
	EngineKeys []string // listed for one of them

	TextOnly bool // words count in type and description only
	Fuzzy    bool // words of four letters and more may have one letter wrong
}

// empty reports whether nothing is set that parts must match.
func (q Query) empty() bool {
	return q.Key == "" && q.Prefix == "" && q.Part == "" && q.Typo == "" && len(q.Words)+len(q.Groups)+len(q.Sizes)+len(q.Types)+len(q.EngineKeys) == 0
}

func (q Query) build() query.Query {
	var all []query.Query
	if q.Key != "" {
		all = append(all, term(fieldKey, q.Key))
	}
	if q.Prefix != "" {
		p := bleve.NewPrefixQuery(q.Prefix)
		p.SetField(fieldKey)
		all = append(all, p)
	}
	if q.Part != "" {
		w := bleve.NewWildcardQuery("*" + q.Part + "*")
		w.SetField(fieldKey)
		all = append(all, w)
	}
	if q.Typo != "" {
		f := bleve.NewFuzzyQuery(q.Typo)
		f.SetField(fieldKey)
		f.SetFuzziness(1)
		all = append(all, f)
	}
	for _, w := range q.Words {
		all = append(all, q.word(w))
	}
	for _, g := range q.Groups {
		var any []query.Query
		for _, phrase := range g {
			any = append(any, q.word(phrase))
		}
		all = append(all, bleve.NewDisjunctionQuery(any...))
	}
	for _, set := range q.Sizes {
		all = append(all, oneOf(fieldSize, set))
	}
	if len(q.Types) > 0 {
		all = append(all, oneOf(fieldType, q.Types))
	}
	if len(q.EngineKeys) > 0 {
		all = append(all, oneOf(fieldEngineKey, q.EngineKeys))
	}
	switch len(all) {
	case 0:
		return bleve.NewMatchNoneQuery()
	case 1:
		return all[0]
	}
	return bleve.NewConjunctionQuery(all...)
}

func term(field, value string) query.Query {
	q := bleve.NewTermQuery(value)
	q.SetField(field)
	return q
}

func oneOf(field string, values []string) query.Query {
	if len(values) == 1 {
		return term(field, values[0])
	}
	var any []query.Query
	for _, v := range values {
		any = append(any, term(field, v))
	}
	return bleve.NewDisjunctionQuery(any...)
}

// fuzzyFrom is the length from which a word may have a letter wrong; shorter
// ones would match half the dictionary.
const fuzzyFrom = 4

// word matches the parts that have all the words of a phrase in one of their
// texts.
func (q Query) word(phrase string) query.Query {
	fields := []string{fieldText, fieldUse, fieldExtra}
	if q.TextOnly {
		fields = fields[:1]
	}
	var any []query.Query
	for _, f := range fields {
		m := bleve.NewMatchQuery(phrase)
		m.SetField(f)
		m.SetOperator(query.MatchQueryOperatorAnd)
		if q.Fuzzy && len(phrase) >= fuzzyFrom && !strings.ContainsAny(phrase, "0123456789") {
			m.SetFuzziness(1)
		}
		any = append(any, m)
	}
	return bleve.NewDisjunctionQuery(any...)
}
