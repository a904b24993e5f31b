package bleveindex

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"testing"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/keyword"
	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/search/query"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fitfill/catalog"
)

// The library can pick and count by types and engines as well, from fields of
// its own; here it answers the same questions in its own way.
const (
	libraryType   = "type"
	libraryEngine = "engine"
	libraryKey    = "engine_key"
)

// libraryIndex is an index of the library alone.
func libraryIndex(t *testing.T, docs []catalog.SearchDoc) bleve.Index {
	t.Helper()
	m, err := indexMapping()
	if err != nil {
		t.Fatal(err)
	}
	whole := m.(*mapping.IndexMappingImpl)
	exact := bleve.NewTextFieldMapping()
	exact.Analyzer = keyword.Name
	for _, field := range []string{libraryType, libraryEngine, libraryKey} {
		whole.DefaultMapping.AddFieldMappingsAt(field, exact)
	}
	x, err := bleve.NewMemOnly(m)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { x.Close() })
	for _, d := range docs {
		fields := document(d)
		var keys []string
		for _, e := range d.Engines {
			keys = append(keys, catalog.Key(e))
		}
		fields[libraryType], fields[libraryEngine], fields[libraryKey] = d.Type, d.Engines, keys
		if err := x.Index(strconv.FormatInt(d.ID, 10), fields); err != nil {
			t.Fatal(err)
		}
	}
	return x
}

// libraryAnswer asks the library for the parts, in the order of their numbers,
// and its counts.
func libraryAnswer(t *rapid.T, x bleve.Index, q Query, docs []catalog.SearchDoc) (ids []int64, types, engines []Value) {
	all := []query.Query{bleve.NewMatchAllQuery()}
	for _, c := range q.clauses() {
		if c.library != nil {
			all = append(all, c.library)
		}
	}
	if len(q.Types) > 0 {
		all = append(all, oneOf(libraryType, q.Types))
	}
	if len(q.EngineKeys) > 0 {
		all = append(all, oneOf(libraryKey, q.EngineKeys))
	}
	ask := bleve.NewSearchRequestOptions(bleve.NewConjunctionQuery(all...), len(docs), 0, false)
	ask.AddFacet(libraryType, bleve.NewFacetRequest(libraryType, len(docs)))
	ask.AddFacet(libraryEngine, bleve.NewFacetRequest(libraryEngine, len(docs)))
	got, err := x.Search(ask)
	if err != nil {
		t.Fatal(err)
	}
	for _, hit := range got.Hits {
		id, err := strconv.ParseInt(hit.ID, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, id)
	}
	number := func(id int64) string {
		return docs[slices.IndexFunc(docs, func(d catalog.SearchDoc) bool { return d.ID == id })].Key
	}
	slices.SortFunc(ids, func(a, b int64) int { return slices.Compare([]byte(number(a)), []byte(number(b))) })
	count := func(field string) []Value {
		counts := map[string]int{}
		for _, term := range got.Facets[field].Terms.Terms() {
			if term.Term != "" { // nothing to narrow by
				counts[term.Term] = term.Count
			}
		}
		return Counted(counts)
	}
	return ids, count(libraryType), count(libraryEngine)
}

// Whatever is asked, the parts that match and their counts are those that the
// library finds and counts.
func TestAnswersAndCountsAreThoseOfTheLibrary(t *testing.T) {
	types, texts, engines := []string{"", "thermostat", "seal", "hose clamp"}, []string{"Thermostat 82 °C", "Dichtring Gehäuse", "seal 82", "clamp"}, []string{"KR6", "KR 6", "VN4", "E1", "E2", "E3"}
	dir := t.TempDir()
	var docs []catalog.SearchDoc
	for n := range 400 {
		var of []string
		for k, e := range engines {
			if (n/3+k*k)%(k+3) == 0 {
				of = append(of, e)
			}
		}
		d := part(int64(1000-n), fmt.Sprintf("A%d-%03d", n%4, n*7%1000), types[n*5%7%len(types)], texts[n%3], of...)
		docs = append(docs, sized(d, fmt.Sprintf("l%d", n%11)))
	}
	build(t, dir, "one", docs...)
	x, err := Open(dir, []string{"one"})
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	library := libraryIndex(t, docs)
	var keys []string
	for _, e := range append(engines, "none") {
		keys = append(keys, catalog.Key(e))
	}
	keys = slices.Compact(keys)
	some := func(t *rapid.T, name string, of []string) []string {
		return rapid.SliceOfNDistinct(rapid.SampledFrom(of), 0, 3, rapid.ID[string]).Draw(t, name)
	}
	rapid.Check(t, func(t *rapid.T) {
		q := Query{
			Prefix: rapid.SampledFrom([]string{"", "", "A1", "A20"}).Draw(t, "prefix"), Part: rapid.SampledFrom([]string{"", "", "00", "21"}).Draw(t, "part"),
			Words: some(t, "words", []string{"82", "gehause", "tarvok", "kr6", "as568-222", "thermostt", "clamp", "nothing"}),
			Types: some(t, "types", types[1:]), EngineKeys: some(t, "engines", keys),
			TextOnly: rapid.Bool().Draw(t, "text only"), Fuzzy: rapid.Bool().Draw(t, "fuzzy"),
		}
		if rapid.Bool().Draw(t, "of a size") {
			q.Sizes = [][]string{{"l3", "l4", "l5"}}
		}
		if rapid.Bool().Draw(t, "of a concept") {
			q.Groups = [][]string{{"seal", "dichtring"}}
		}
		if len(q.clauses()) == 0 {
			return // which matches nothing here, and everything there
		}
		ids, wantTypes, wantEngines := libraryAnswer(t, library, q, docs)
		found, gotTypes, gotEngines, err := x.SearchCounted(context.Background(), q, len(docs))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff([]any{ids, len(ids), wantTypes, wantEngines}, []any{found[0].IDs, found[0].Total, gotTypes, gotEngines}); diff != "" {
			t.Errorf("%+v\n%s", q, diff)
		}
	})
}
