package bleveindex

import (
	"context"
	"strings"
	"sync"

	"github.com/blevesearch/bleve/v2/search"
)

// From so many engines on the parts that are listed for one of them are kept,
// and for so many lists of engines at most. A make is as many engines as it has,
// and it is asked for again and again; looking each engine up costs more than
// everything else about the question.
const (
	manyEngines = 8
	mostListed  = 64
)

// listed keeps which documents are listed for one of many engines, as bits.
type listed struct {
	mu   sync.Mutex
	bits map[string][]uint64 // by the engines' keys
}

// listedFor returns the bits of the documents that are listed for one of the
// engines. An index never changes, so neither do they.
func (i *opened) listedFor(ctx context.Context, engines []string) ([]uint64, error) {
	name := strings.Join(engines, "\n")
	i.listed.mu.Lock()
	defer i.listed.mu.Unlock()
	if bits, ok := i.listed.bits[name]; ok {
		return bits, nil
	}
	count, err := i.DocCount()
	if err != nil {
		return nil, err
	}
	bits := make([]uint64, count/64+1)
	_, err = i.search(ctx, oneOf(fieldEngineKey, engines), func(_ *search.SearchContext, hit *search.DocumentMatch) (bool, error) {
		doc := hit.IndexInternalID.Value()
		if doc >= count {
			return false, noPlace(doc)
		}
		bits[doc/64] |= 1 << (doc % 64)
		return true, nil
	})
	if err != nil {
		return nil, err
	}
	if i.listed.bits == nil || len(i.listed.bits) >= mostListed {
		i.listed.bits = map[string][]uint64{}
	}
	i.listed.bits[name] = bits
	return bits, nil
}
