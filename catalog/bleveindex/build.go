package bleveindex

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/custom"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/keyword"
	"github.com/blevesearch/bleve/v2/analysis/char/asciifolding"
	"github.com/blevesearch/bleve/v2/analysis/token/lowercase"
	"github.com/blevesearch/bleve/v2/analysis/tokenizer/unicode"
	"github.com/blevesearch/bleve/v2/mapping"

	"fitfill/catalog"
)

// The fields of a document.
const (
	fieldKey   = "key"
	fieldText  = "text"  // type and description
	fieldUse   = "use"   // makes, models, engines
	fieldExtra = "extra" // brand, notes, sizes
	fieldSize  = "size"
)

// format is the number of the way in which an index is built; it stands in a
// file beside it. An index of another number is built anew.
const format = "4"

const formatFile = "fitfill-format"

const analyzerName = "trade"

func indexMapping() (mapping.IndexMapping, error) {
	m := bleve.NewIndexMapping()
	err := m.AddCustomAnalyzer(analyzerName, map[string]any{
		"type":          custom.Name,
		"char_filters":  []string{asciifolding.Name},
		"tokenizer":     unicode.Name,
		"token_filters": []string{lowercase.Name},
	})
	if err != nil {
		return nil, err
	}
	exact := bleve.NewTextFieldMapping()
	exact.Analyzer, exact.Store, exact.IncludeTermVectors, exact.IncludeInAll, exact.DocValues = keyword.Name, false, false, false, false
	words := bleve.NewTextFieldMapping()
	words.Analyzer, words.Store, words.IncludeTermVectors, words.IncludeInAll, words.DocValues = analyzerName, false, false, false, false

	doc := bleve.NewDocumentStaticMapping()
	doc.AddFieldMappingsAt(fieldKey, exact)
	doc.AddFieldMappingsAt(fieldSize, exact)
	for _, f := range []string{fieldText, fieldUse, fieldExtra} {
		doc.AddFieldMappingsAt(f, words)
	}
	m.DefaultMapping = doc
	return m, nil
}

// Build makes the index of one supplier in the folder dir/name from the
// documents that docs hands out, and returns how many there were. The folder
// must not exist. Without documents no index is made.
func Build(dir, name string, docs func(func(catalog.SearchDoc) error) error) (count int, err error) {
	path := filepath.Join(dir, name)
	if _, err := os.Stat(path); err == nil {
		return 0, fmt.Errorf("build the search index: the folder %s exists already", path)
	}
	m, err := indexMapping()
	if err != nil {
		return 0, fmt.Errorf("build the search index: %w", err)
	}
	defer func() {
		if err != nil || count == 0 {
			err = errors.Join(err, os.RemoveAll(path))
		}
	}()
	b, err := bleve.NewBuilder(path, m, map[string]any{"buildPathPrefix": dir})
	if err != nil {
		return 0, fmt.Errorf("build the search index: %w", err)
	}
	var list []numbered
	var columns stated
	err = docs(func(d catalog.SearchDoc) error {
		count++
		list = append(list, numbered{key: d.Key, id: d.ID, at: columns.add(d)})
		return b.Index(strconv.FormatInt(d.ID, 10), document(d))
	})
	if err != nil {
		err = fmt.Errorf("build the search index: %w", err)
	}
	if count == 0 { // the library cannot close what holds nothing
		return 0, err
	}
	if err != nil {
		return count, errors.Join(err, b.Close())
	}
	if err := b.Close(); err != nil {
		return count, fmt.Errorf("build the search index: %w", err)
	}
	at, err := writeOrder(path, list)
	if err != nil {
		return count, fmt.Errorf("build the search index: %w", err)
	}
	if err := columns.write(path, at); err != nil {
		return count, fmt.Errorf("build the search index: %w", err)
	}
	if err := os.WriteFile(filepath.Join(path, formatFile), []byte(format), 0o644); err != nil {
		return count, fmt.Errorf("build the search index: %w", err)
	}
	return count, nil
}

func document(d catalog.SearchDoc) map[string]any {
	return map[string]any{
		fieldKey:   d.Key,
		fieldText:  []string{d.Type, d.Description},
		fieldUse:   append(append([]string{}, d.Makes...), d.Engines...),
		fieldExtra: d.Words,
		fieldSize:  d.Sizes,
	}
}
