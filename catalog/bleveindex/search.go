package bleveindex

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search/query"
)

// ErrDamaged is returned when an index folder is missing or cannot be read.
// It can be rebuilt from the store.
var ErrDamaged = errors.New("the search index is damaged")

// Index is a set of suppliers' indexes, searched as one. It is safe for
// concurrent use.
type Index struct {
	alias bleve.IndexAlias
	open  []bleve.Index
}

// Open opens the index folders names in dir for reading. No folders is an
// empty index; a missing or unreadable one is ErrDamaged.
func Open(dir string, names []string) (*Index, error) {
	x := &Index{alias: bleve.NewIndexAlias()}
	for _, name := range names {
		i, err := bleve.OpenUsing(filepath.Join(dir, name), map[string]any{"read_only": true})
		if err != nil {
			return nil, errors.Join(fmt.Errorf("%w: folder %s: %v", ErrDamaged, name, err), x.Close())
		}
		x.open = append(x.open, i)
		x.alias.Add(i)
	}
	return x, nil
}

// Parts returns how many parts are indexed.
func (x *Index) Parts() (int, error) {
	if len(x.open) == 0 {
		return 0, nil
	}
	n, err := x.alias.DocCount()
	return int(n), err
}

// Empty reports whether no supplier has an index.
func (x *Index) Empty() bool { return len(x.open) == 0 }

// Close closes the index.
func (x *Index) Close() error {
	var err error
	for _, i := range x.open {
		err = errors.Join(err, i.Close())
	}
	return err
}

// Filter narrows a search. Empty fields narrow nothing.
type Filter struct {
	Type       string
	EngineKeys []string
}

// Result is the hits of one tier, by part number, with the number of all of
// them.
type Result struct {
	IDs   []int64
	Total int
}

// Number finds the parts whose number folds to key.
func (x *Index) Number(ctx context.Context, key string, f Filter, limit int) (Result, error) {
	return x.search(ctx, term(fieldKey, key), f, limit)
}

// NumberPrefix finds the parts whose folded number begins with key.
func (x *Index) NumberPrefix(ctx context.Context, key string, f Filter, limit int) (Result, error) {
	q := bleve.NewPrefixQuery(key)
	q.SetField(fieldKey)
	return x.search(ctx, q, f, limit)
}

// NumberPart finds the parts whose folded number has key anywhere in it.
func (x *Index) NumberPart(ctx context.Context, key string, f Filter, limit int) (Result, error) {
	q := bleve.NewWildcardQuery("*" + key + "*")
	q.SetField(fieldKey)
	return x.search(ctx, q, f, limit)
}

// NumberTypo finds the parts whose folded number differs from key by one
// letter or digit too many, too few or wrong.
func (x *Index) NumberTypo(ctx context.Context, key string, f Filter, limit int) (Result, error) {
	q := bleve.NewFuzzyQuery(key)
	q.SetField(fieldKey)
	q.SetFuzziness(1)
	return x.search(ctx, q, f, limit)
}

// Words finds the parts that have every word in their type or description.
func (x *Index) Words(ctx context.Context, words []string, f Filter, limit int) (Result, error) {
	return x.search(ctx, allWords(words, 0, fieldText), f, limit)
}

// WordsAnywhere finds the parts that have every word in any of their texts:
// type, description, makes, engines, brand, notes.
func (x *Index) WordsAnywhere(ctx context.Context, words []string, f Filter, limit int) (Result, error) {
	return x.search(ctx, allWords(words, 0, fieldText, fieldUse, fieldExtra), f, limit)
}

// WordsAlmost is WordsAnywhere with one letter wrong allowed in words of four
// letters and more.
func (x *Index) WordsAlmost(ctx context.Context, words []string, f Filter, limit int) (Result, error) {
	return x.search(ctx, allWords(words, 1, fieldText, fieldUse, fieldExtra), f, limit)
}

// Value is one value of a facet with the number of hits that have it.
type Value struct {
	Value string `json:"value"`
	Count int    `json:"count"`
}

// Facets counts types and engine texts over all parts that have every word
// anywhere (or whose number folds to one with the prefix key, if words is
// empty).
func (x *Index) Facets(ctx context.Context, words []string, key string, f Filter) (types, engines []Value, err error) {
	if len(x.open) == 0 {
		return nil, nil, nil
	}
	var q query.Query = allWords(words, 0, fieldText, fieldUse, fieldExtra)
	if len(words) == 0 {
		p := bleve.NewPrefixQuery(key)
		p.SetField(fieldKey)
		q = p
	}
	req := bleve.NewSearchRequestOptions(narrow(q, f), 0, 0, false)
	req.Score = "none"
	// Each supplier's index cuts its list before they are merged, so ask for all.
	req.AddFacet(fieldType, bleve.NewFacetRequest(fieldType, math.MaxInt32))
	req.AddFacet(fieldEngine, bleve.NewFacetRequest(fieldEngine, math.MaxInt32))
	res, err := x.alias.SearchInContext(ctx, req)
	if err != nil {
		return nil, nil, err
	}
	values := func(name string) (list []Value) {
		if fr := res.Facets[name]; fr != nil && fr.Terms != nil {
			for _, t := range fr.Terms.Terms() {
				if t.Term != "" {
					list = append(list, Value{t.Term, t.Count})
				}
			}
		}
		return list
	}
	return values(fieldType), values(fieldEngine), nil
}

func (x *Index) search(ctx context.Context, q query.Query, f Filter, limit int) (Result, error) {
	if len(x.open) == 0 {
		return Result{}, nil
	}
	req := bleve.NewSearchRequestOptions(narrow(q, f), limit, 0, false)
	req.Score = "none"
	req.SortBy([]string{fieldKey, "_id"})
	res, err := x.alias.SearchInContext(ctx, req)
	if err != nil {
		return Result{}, fmt.Errorf("search: %w", err)
	}
	if res.Status != nil && res.Status.Failed > 0 {
		for name, err := range res.Status.Errors {
			return Result{}, fmt.Errorf("%w: %s: %v", ErrDamaged, filepath.Base(name), err)
		}
	}
	r := Result{Total: int(res.Total)}
	for _, h := range res.Hits {
		id, err := strconv.ParseInt(h.ID, 10, 64)
		if err != nil {
			return Result{}, fmt.Errorf("%w: document %q has no number", ErrDamaged, h.ID)
		}
		r.IDs = append(r.IDs, id)
	}
	return r, nil
}

func narrow(q query.Query, f Filter) query.Query {
	all := []query.Query{q}
	if f.Type != "" {
		all = append(all, term(fieldType, f.Type))
	}
	if len(f.EngineKeys) > 0 {
		var any []query.Query
		for _, k := range f.EngineKeys {
			any = append(any, term(fieldEngineKey, k))
		}
		all = append(all, bleve.NewDisjunctionQuery(any...))
	}
	if len(all) == 1 {
		return q
	}
	return bleve.NewConjunctionQuery(all...)
}

func term(field, value string) query.Query {
	q := bleve.NewTermQuery(value)
	q.SetField(field)
	return q
}

// fuzzyFrom is the length from which a word may have a letter wrong; shorter
// ones would match half the dictionary.
const fuzzyFrom = 4

func allWords(words []string, typos int, fields ...string) query.Query {
	var all []query.Query
	for _, w := range words {
		var any []query.Query
		for _, f := range fields {
			q := bleve.NewMatchQuery(w)
			q.SetField(f)
			q.SetOperator(query.MatchQueryOperatorAnd)
			if typos > 0 && len(w) >= fuzzyFrom && !strings.ContainsAny(w, "0123456789") {
				q.SetFuzziness(typos)
			}
			any = append(any, q)
		}
		all = append(all, bleve.NewDisjunctionQuery(any...))
	}
	if len(all) == 0 {
		return bleve.NewMatchNoneQuery()
	}
	return bleve.NewConjunctionQuery(all...)
}
