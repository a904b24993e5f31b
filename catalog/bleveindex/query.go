package bleveindex

import (
	"fmt"
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

// clause is one thing that parts must have: of the library's index, or of the
// columns beside it.
type clause struct {
	name    string // no other clause has it
	library query.Query
	columns func(c *columns, among documents) documents // of all documents where among is nil
}

// clauses lists what parts must have, all of it. Engines come last: looking for
// them takes the longer the more documents are left.
func (q Query) clauses() []clause {
	var all []clause
	name := func(what string, values []string) string { return fmt.Sprintf("%s%q", what, values) }
	add := func(library query.Query, what string, values ...string) {
		all = append(all, clause{name: name(what, values), library: library})
	}
	if len(q.Types) > 0 {
		all = append(all, clause{name: name("type", q.Types), columns: func(c *columns, _ documents) documents { return c.ofTypes(q.Types) }})
	}
	if q.Key != "" {
		add(term(fieldKey, q.Key), "key", q.Key)
	}
	if q.Prefix != "" {
		p := bleve.NewPrefixQuery(q.Prefix)
		p.SetField(fieldKey)
		add(p, "prefix", q.Prefix)
	}
	if q.Part != "" {
		w := bleve.NewWildcardQuery("*" + q.Part + "*")
		w.SetField(fieldKey)
		add(w, "part", q.Part)
	}
	if q.Typo != "" {
		f := bleve.NewFuzzyQuery(q.Typo)
		f.SetField(fieldKey)
		f.SetFuzziness(1)
		add(f, "typo", q.Typo)
	}
	for _, set := range q.Sizes {
		add(oneOf(fieldSize, set), "size", set...)
	}
	how := fmt.Sprint("words", q.TextOnly, q.Fuzzy)
	for _, w := range q.Words {
		add(q.word(w), how, w)
	}
	for _, g := range q.Groups {
		var any []query.Query
		for _, phrase := range g {
			any = append(any, q.word(phrase))
		}
		add(bleve.NewDisjunctionQuery(any...), how, g...)
	}
	if len(q.EngineKeys) > 0 {
		all = append(all, clause{name: name("engine", q.EngineKeys), columns: func(c *columns, among documents) documents { return c.forEngines(q.EngineKeys, among) }})
	}
	return all
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
